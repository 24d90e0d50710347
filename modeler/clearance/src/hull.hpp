#pragma once

#include "clearance/separation.hpp"
#include "hull_faces.hpp"

namespace ribbay::detail {

/// A piece with the faces of its hull, for who asks more than once about the same piece.
struct Hull {
  const ConvexPiece& piece;
  const std::vector<HullFace>& faces;  ///< hull_faces(piece)
};

/// As ribbay::closest_points() of the pieces.
std::optional<Closest> closest_points(const Hull& a, const Hull& b, const Separation& known,
                                      double limit);

}  // namespace ribbay::detail
