#include "solids/tri_mesh.hpp"

#include "solids_kernel/guarded.hpp"
#include "solids_kernel/shape.hpp"

#include <BRepBuilderAPI_Copy.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRep_Tool.hxx>
#include <Poly_Triangulation.hxx>
#include <TopExp_Explorer.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Face.hxx>

#include <algorithm>
#include <tuple>

namespace ribbay {

namespace {

bool before(const Vec3& a, const Vec3& b) {
  return std::tie(a.x, a.y, a.z) < std::tie(b.x, b.y, b.z);
}

/// The corners of the triangles of `face`, three by three, counter-clockwise seen from outside.
void add_corners(const TopoDS_Face& face, std::vector<Vec3>& corners) {
  TopLoc_Location location;
  const Handle(Poly_Triangulation) mesh = BRep_Tool::Triangulation(face, location);
  if (mesh.IsNull()) throw Standard_Failure("a face was not meshed");
  const bool inverted = face.Orientation() == TopAbs_REVERSED;
  for (int t = 1; t <= mesh->NbTriangles(); ++t) {
    std::array<int, 3> nodes{};
    mesh->Triangle(t).Get(nodes[0], nodes[1], nodes[2]);
    if (inverted) std::swap(nodes[1], nodes[2]);
    for (const int node : nodes) {
      const gp_Pnt p = mesh->Node(node).Transformed(location);
      corners.push_back({p.X() + 0.0, p.Y() + 0.0, p.Z() + 0.0});  // + 0.0: never a negative zero
    }
  }
}

/// Neighbouring faces share the points of their common edge to the last bit, so equal points are
/// one.
TriMesh welded(const std::vector<Vec3>& corners) {
  TriMesh mesh;
  mesh.points = corners;
  std::ranges::sort(mesh.points, before);
  mesh.points.erase(std::unique(mesh.points.begin(), mesh.points.end()), mesh.points.end());
  const auto index = [&](const Vec3& p) {
    return static_cast<int>(std::ranges::lower_bound(mesh.points, p, before) - mesh.points.begin());
  };
  for (std::size_t i = 0; i + 2 < corners.size(); i += 3) {
    std::array<int, 3> triangle{index(corners[i]), index(corners[i + 1]), index(corners[i + 2])};
    std::ranges::rotate(triangle, std::ranges::min_element(triangle));
    mesh.triangles.push_back(triangle);
  }
  std::ranges::sort(mesh.triangles);
  return mesh;
}

}  // namespace

Result<TriMesh> tessellate(const Solid& solid, double deflection, double angle) {
  return guarded("solid.kernel", {}, [&]() -> Result<TriMesh> {
    // Meshing writes into the shape, and solids are shared between threads.
    const TopoDS_Shape copy = BRepBuilderAPI_Copy(solid.kernel().shape, false, false).Shape();
    const BRepMesh_IncrementalMesh mesher(copy, deflection, false, angle, false);
    std::vector<Vec3> corners;
    for (TopExp_Explorer face(copy, TopAbs_FACE); face.More(); face.Next()) {
      add_corners(TopoDS::Face(face.Current()), corners);
    }
    TriMesh mesh = welded(corners);
    if (!is_closed(mesh)) return fail(solid_error("solid.open_mesh"));
    return mesh;
  });
}

double volume_mm3(const TriMesh& mesh) {
  double six = 0.0;
  if (mesh.points.empty()) return six;
  const Vec3 origin = mesh.points.front();  // near the mesh, so that little cancels
  for (const auto& [a, b, c] : mesh.triangles) {
    const auto from_origin = [&](int i) {
      return mesh.points[static_cast<std::size_t>(i)] - origin;
    };
    six += dot(from_origin(a), cross(from_origin(b), from_origin(c)));
  }
  return six / 6.0;
}

bool is_closed(const TriMesh& mesh) {
  std::vector<std::pair<int, int>> edges;
  for (const auto& [a, b, c] : mesh.triangles) {
    edges.insert(edges.end(), {{a, b}, {b, c}, {c, a}});
  }
  std::ranges::sort(edges);
  return std::ranges::adjacent_find(edges) == edges.end() &&
         std::ranges::all_of(edges, [&](const std::pair<int, int>& edge) {
           return edge.first != edge.second &&
                  std::ranges::binary_search(edges, std::pair(edge.second, edge.first));
         });
}

}  // namespace ribbay
