#include "vehicle_surface.hpp"

#include <algorithm>
#include <map>
#include <tuple>
#include <vector>

namespace ribbay::detail {

namespace {

struct ByPosition {
  bool operator()(const Vec3& a, const Vec3& b) const {
    return std::tie(a.x, a.y, a.z) < std::tie(b.x, b.y, b.z);
  }
};

using Polygon = std::vector<int>;  ///< indices into the mesh's points

/// Points of all pieces, each once, and the faces of all pieces over them.
std::vector<Polygon> collect_faces(const Pieces& pieces, std::vector<Vec3>& points) {
  std::map<Vec3, int, ByPosition> index;
  for (const ConvexPiece& piece : pieces) {
    for (const Vec3& p : piece.vertices) index.emplace(p, 0);
  }
  for (auto& [p, i] : index) {
    i = static_cast<int>(points.size());
    points.push_back(p);
  }
  std::vector<Polygon> faces;
  for (const ConvexPiece& piece : pieces) {
    for (const std::vector<int>& face : piece.faces) {
      Polygon& polygon = faces.emplace_back();
      for (const int v : face)
        polygon.push_back(index.at(piece.vertices[static_cast<std::size_t>(v)]));
    }
  }
  return faces;
}

Polygon sorted(Polygon polygon) {
  std::ranges::sort(polygon);
  return polygon;
}

}  // namespace

TriMesh surface_of(const Pieces& pieces) {
  TriMesh mesh;
  const std::vector<Polygon> faces = collect_faces(pieces, mesh.points);
  std::map<Polygon, int> uses;
  for (const Polygon& face : faces) ++uses[sorted(face)];
  for (const Polygon& face : faces) {
    if (uses.at(sorted(face)) > 1) continue;
    for (std::size_t i = 1; i + 1 < face.size(); ++i) {
      mesh.triangles.push_back({face[0], face[i], face[i + 1]});
    }
  }
  return mesh;
}

}  // namespace ribbay::detail
