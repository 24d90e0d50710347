#pragma once

#include "shape/pieces.hpp"
#include "solids/tri_mesh.hpp"

namespace ribbay::detail {

/// The surface of several convex pieces as triangles. Faces that two pieces share are left out, so
/// that a wall made of many pieces looks like one when it is translucent.
TriMesh surface_of(const Pieces& pieces);

}  // namespace ribbay::detail
