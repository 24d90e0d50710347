#pragma once

#include "shape/shape.hpp"

#include <vector>

namespace ribbay {

/// A planar face with holes. Outer loop first, counter-clockwise seen from outside; holes the other
/// way.
struct FacetFace {
  std::vector<std::vector<Vec3>> loops;
  Vec3 normal;  ///< unit, outward
};

/// An edge between two faces with outward normals n1 and n2. `smooth` marks a seam between chords
/// of one arc, drawn only where it is an outline. `curve` is the index of the arc that the edge is
/// a chord of, or -1.
struct FacetEdge {
  Vec3 a;
  Vec3 b;
  Vec3 n1;
  Vec3 n2;
  bool smooth = false;
  int curve = -1;
};

/// A circle that chords stand for.
struct FacetCurve {
  Vec3 centre;
  Vec3 axis;
  double radius = 0.0;
};

/// The closed boundary of a shape in planes and straight edges, for drawings.
struct Facets {
  std::vector<FacetFace> faces;
  std::vector<FacetEdge> edges;
  std::vector<FacetCurve> curves;
};

struct FacetOptions {
  double chord =
      0.05;  ///< largest distance between an arc and its chords, mm; chords end on the arc
  bool coarse = false;  ///< use the coarse section where a prism has one
  bool bores = true;    ///< bores along z become holes; those in other directions become circles on
                        ///< the surface where they enter
  double smallest = 0.0;  ///< bores and cuts smaller than this across are left out, mm
};

/// The facets of `shape` in its own coordinates. Prisms of one shape are drawn each by itself.
Facets facets(const Shape& shape, const FacetOptions& options = {});

/// The facets moved by `frame`.
Facets placed(const Facets& facets, const Frame& frame);

}  // namespace ribbay
