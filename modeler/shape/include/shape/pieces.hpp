#pragma once

#include "base/box.hpp"
#include "base/frame.hpp"
#include "shape/shape.hpp"

#include <vector>

namespace ribbay {

/// A convex polytope for the clearance engine. Faces run counter-clockwise seen from outside.
/// `normals` are unit face normals and `edges` unit edge directions, each once up to sign: exactly
/// the candidates that separating axes need.
struct ConvexPiece {
  std::vector<Vec3> vertices;
  std::vector<std::vector<int>> faces;
  std::vector<Vec3> normals;
  std::vector<Vec3> edges;
  double excess = 0.0;  ///< how far, at most, it reaches beyond the true shape (chords of arcs), mm
  Box box;
};

using Pieces = std::vector<ConvexPiece>;

struct PieceOptions {
  double chord = 0.05;  ///< largest distance between an arc and the polygon that covers it, mm
};

/// Divides `shape` into convex pieces that together cover it: outer arcs are covered from outside,
/// holes from inside, so they never under-cover. Bores are filled: a fastener is not checked
/// against its host. Outlines are snapped to kGrid first. The order is fixed by the shape alone.
/// Precondition: the section and the outlines of the cuts are free of fault().
Pieces pieces(const Shape& shape, const PieceOptions& options = {});

/// The piece moved by `frame`.
ConvexPiece placed(const ConvexPiece& piece, const Frame& frame);

/// A prism over a convex counter-clockwise polygon from z0 to z1, moved by `frame`.
ConvexPiece convex_prism(const std::vector<Vec2>& polygon, double z0, double z1,
                         const Frame& frame = {});

/// The six-point wedge between triangle a (counter-clockwise seen from outside the wedge) and
/// triangle b, a[i] joined to b[i]. Side faces may be warped quadrilaterals: each is taken on both
/// diagonals, so `normals` is a superset of what is needed and the hull is covered.
ConvexPiece wedge(const std::vector<Vec3>& a, const std::vector<Vec3>& b);

/// Exact for a closed piece, mm3.
double volume(const ConvexPiece& piece);

}  // namespace ribbay
