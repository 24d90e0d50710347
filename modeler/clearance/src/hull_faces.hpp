#pragma once

#include "shape/pieces.hpp"

#include <vector>

namespace ribbay::detail {

/// A face of a convex piece: dot(normal, p) <= offset for all its points. Corners run
/// counter-clockwise seen from outside.
struct HullFace {
  Vec3 normal;
  double offset = 0.0;
  std::vector<int> corners;
};

/// The faces of the hull of `piece`, each once. Faces that lie inside the hull (the second diagonal
/// of a warped side) are left out, and faces in one plane are joined.
std::vector<HullFace> hull_faces(const ConvexPiece& piece);

}  // namespace ribbay::detail
