#pragma once

#include "shape/closed_mesh.hpp"
#include "shape/facets.hpp"

namespace ribbay::detail {

/// The triangles as faces, and the edges where two of them meet at an angle; gentle ones stand for
/// a curve and are smooth.
Facets mesh_facets(const ClosedMesh& mesh);

}  // namespace ribbay::detail
