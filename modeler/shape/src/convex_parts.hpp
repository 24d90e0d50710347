#pragma once

#include "shape/closed_mesh.hpp"

#include <optional>

namespace ribbay::detail {

/// Convex pieces that together fill a closed surface; nullopt when it takes more than `most`.
///
/// The planes of the triangles divide space, chosen so that they cut few other triangles; what is
/// left over on one side of a plane with no triangle in it lies wholly inside or outside, as the
/// plane's own triangle says.
std::optional<Pieces> convex_parts(const ClosedMesh& mesh, std::size_t most);

}  // namespace ribbay::detail
