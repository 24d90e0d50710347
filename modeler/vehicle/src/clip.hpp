#pragma once

#include "shape/pieces.hpp"

namespace ribbay::detail {

/// What of a convex piece lies on or behind the plane dot(normal, p) = offset; `normal` is a unit
/// vector pointing out of what is kept. Points nearer to the plane than kSame count as on it. A
/// piece without inside left has no faces. Only vertices and faces are made: after the last cut
/// comes finish().
ConvexPiece cut_by(const ConvexPiece& piece, Vec3 normal, double offset);

/// Adds a unit direction unless it is there already, either way round.
void add_direction(std::vector<Vec3>& directions, Vec3 v);

/// Makes normals, edges and box afresh from the vertices and faces.
void finish(ConvexPiece& piece);

}  // namespace ribbay::detail
