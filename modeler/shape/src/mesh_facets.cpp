#include "mesh_facets.hpp"

#include <cmath>
#include <map>
#include <numbers>
#include <utility>

namespace ribbay::detail {

namespace {

/// Triangles that meet at less than this are one plane, radians: what single precision leaves of a
/// flat face.
constexpr double kPlane = 1e-3;
/// Triangles that meet at less than this stand for a curve: half a step of a circle drawn with
/// twelve sides (a choice, no source).
constexpr double kCurve = std::numbers::pi / 12.0;

}  // namespace

Facets mesh_facets(const ClosedMesh& mesh) {
  Facets facets;
  // Each edge as the triangle on its left has it; the one on its right closes it.
  std::multimap<std::pair<std::uint32_t, std::uint32_t>, Vec3> open;
  for (const ClosedMesh::Triangle& t : mesh.triangles) {
    const auto of_triangle = mesh.normal(t);
    if (!of_triangle) continue;
    const Vec3 normal = *of_triangle;
    const auto [a, b, c] = mesh.corners(t);
    facets.faces.push_back({{{a, b, c}}, normal});
    for (std::size_t i = 0; i < 3; ++i) {
      const std::uint32_t from = t[i];
      const std::uint32_t to = t[(i + 1) % 3];
      const auto other = open.find({to, from});
      if (other == open.end()) {
        open.emplace(std::pair{from, to}, normal);
        continue;
      }
      const double angle =
          std::atan2(length(cross(normal, other->second)), dot(normal, other->second));
      if (angle > kPlane) {
        facets.edges.push_back(
            {mesh.points[from], mesh.points[to], normal, other->second, angle < kCurve, -1});
      }
      open.erase(other);
    }
  }
  return facets;
}

}  // namespace ribbay::detail
