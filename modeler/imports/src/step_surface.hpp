#pragma once

#include "shape/closed_mesh.hpp"

#include <optional>
#include <string_view>

namespace ribbay::detail {

/// A body's surface as a file has it, before it is checked.
struct Surface {
  std::vector<Vec3> points;
  std::vector<ClosedMesh::Triangle> triangles;
};

/// The solids of a STEP file, in mm. Fails with "import.not_read".
Result<Surface> step_surface(std::string_view bytes, std::optional<double> unit);

}  // namespace ribbay::detail
