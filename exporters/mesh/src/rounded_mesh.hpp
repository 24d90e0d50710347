#pragma once

#include "solids/tri_mesh.hpp"

namespace ribbay::detail {

/// `mesh` with its points rounded to single precision. Points that fall together are joined and the
/// triangles between them dropped; a triangle left without area is taken away by turning its
/// longest edge, so the surface stays closed. The result may still be open or flat where the part
/// is thinner than single precision: see is_closed().
TriMesh rounded_mesh(const TriMesh& mesh);

}  // namespace ribbay::detail
