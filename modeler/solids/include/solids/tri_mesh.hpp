#pragma once

#include "solids/solid.hpp"

#include <array>
#include <vector>

namespace ribbay {

/// A closed triangle mesh in mm. Every edge belongs to two triangles that run it in opposite
/// directions; triangles run counter-clockwise seen from outside. No two points are equal, none is
/// unused.
struct TriMesh {
  std::vector<Vec3> points;                   ///< sorted by x, y, z
  std::vector<std::array<int, 3>> triangles;  ///< sorted; each begins with its smallest index
};

/// Triangles within `deflection` (mm) of the solid and within `angle` (radians) of its curved
/// faces' directions. The same solid gives the same mesh, whatever else was meshed. Fails with
/// "solid.open_mesh" when the triangles do not close, "solid.kernel" when the kernel gives up.
Result<TriMesh> tessellate(const Solid& solid, double deflection, double angle);

/// Volume inside the mesh, mm3.
double volume_mm3(const TriMesh& mesh);

/// True when every edge is run once in each direction.
bool is_closed(const TriMesh& mesh);

}  // namespace ribbay
