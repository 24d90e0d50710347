#pragma once

#include "shape/pieces.hpp"

namespace ribbay::detail {

struct Plane {
  Vec3 normal;  ///< unit
  double offset = 0.0;
  double height(Vec3 p) const { return dot(normal, p) - offset; }
};

/// A convex polyhedron that planes cut smaller and smaller.
class Cell {
 public:
  explicit Cell(const Box& box);

  /// Keeps what lies behind the plane.
  void clip(const Plane& plane);
  bool empty() const { return faces_.empty(); }
  /// As a piece with its normals and edges.
  ConvexPiece piece() const;

 private:
  std::vector<std::vector<Vec3>> faces_;  ///< counter-clockwise seen from outside
};

}  // namespace ribbay::detail
