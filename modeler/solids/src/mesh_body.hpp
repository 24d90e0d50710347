#pragma once

#include "shape/closed_mesh.hpp"

#include <TopoDS_Shape.hxx>

namespace ribbay::detail {

/// A closed mesh as a solid: a flat face for each triangle, those in one plane not yet made one.
/// Its hollows, and bodies that stand apart, are further shells of the same solid. Throws what the
/// kernel throws.
TopoDS_Shape mesh_body(const ClosedMesh& mesh);

}  // namespace ribbay::detail
