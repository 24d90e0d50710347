#pragma once

#include "base/vec.hpp"
#include "shape/pieces.hpp"

#include <limits>
#include <optional>

namespace ribbay {

/// How two convex pieces stand to each other along the best of their separating axes.
struct Separation {
  /// mm. Positive: no two points of the pieces are closer than this (a proven lower bound of the
  /// gap). Negative: minus the depth, the shortest shift that parts the pieces (exact).
  double distance = -std::numeric_limits<double>::infinity();
  Vec3 axis{0, 0, 1};  ///< unit; moving a along it parts the pieces
};

/// Tries the face normals of both pieces and the cross products of their edges: for convex
/// polytopes these are all directions in which the shortest way out can lie. Gives up early, with
/// what it has, once the separation exceeds `stop`.
Separation separation(const ConvexPiece& a, const ConvexPiece& b,
                      double stop = std::numeric_limits<double>::infinity());

/// The two nearest points of pieces that do not overlap.
struct Closest {
  double distance = 0.0;
  Vec3 on_a;
  Vec3 on_b;
};

/// Exact distance between separated pieces, by comparing corners with faces and edges with edges;
/// nullopt when it exceeds `limit`. `known` is their separation(), with a positive distance: only
/// what lies within `limit` of its plane is looked at. The answer is proven by the plane across the
/// two points; should a malformed piece defeat that proof, the distance is the proven lower bound
/// instead.
std::optional<Closest> closest_points(const ConvexPiece& a, const ConvexPiece& b,
                                      const Separation& known, double limit);

/// What two pieces have in common.
struct Overlap {
  double volume = 0.0;  ///< mm3
  Vec3 centre;          ///< centroid; meaningless when the volume is 0
};

/// Each piece's faces are clipped to the other piece; the divergence theorem over what remains
/// gives volume and centroid. Pieces that only touch have no overlap.
Overlap overlap(const ConvexPiece& a, const ConvexPiece& b);

}  // namespace ribbay
