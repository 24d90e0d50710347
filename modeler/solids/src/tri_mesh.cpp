#include "solids/tri_mesh.hpp"

#include "solids_kernel/guarded.hpp"
#include "solids_kernel/shape.hpp"

#include <BRepAdaptor_Surface.hxx>
#include <BRepBuilderAPI_Copy.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRep_Tool.hxx>
#include <Poly_Triangulation.hxx>
#include <TopExp_Explorer.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Face.hxx>

#include <algorithm>
#include <optional>
#include <tuple>

namespace ribbay {

namespace {

constexpr double kFold = 1e-9;  ///< of an area: more than rounding

bool before(const Vec3& a, const Vec3& b) {
  return std::tie(a.x, a.y, a.z) < std::tie(b.x, b.y, b.z);
}

/// The corners of the triangles of `face`, three by three, counter-clockwise seen from outside.
std::vector<Vec3> corners_of(const TopoDS_Face& face) {
  TopLoc_Location location;
  const Handle(Poly_Triangulation) mesh = BRep_Tool::Triangulation(face, location);
  if (mesh.IsNull()) throw Standard_Failure("a face was not meshed");
  const bool inverted = face.Orientation() == TopAbs_REVERSED;
  std::vector<Vec3> corners;
  for (int t = 1; t <= mesh->NbTriangles(); ++t) {
    std::array<int, 3> nodes{};
    mesh->Triangle(t).Get(nodes[0], nodes[1], nodes[2]);
    if (inverted) std::swap(nodes[1], nodes[2]);
    for (const int node : nodes) {
      const gp_Pnt p = mesh->Node(node).Transformed(location);
      corners.push_back({p.X() + 0.0, p.Y() + 0.0, p.Z() + 0.0});  // + 0.0: never a negative zero
    }
  }
  return corners;
}

/// True when triangles of one flat face lie over each other: then they have more area together than
/// apart.
bool is_folded(const std::vector<Vec3>& corners) {
  Vec3 sum;
  double all = 0.0;
  for (std::size_t i = 0; i + 2 < corners.size(); i += 3) {
    const Vec3 twice = cross(corners[i + 1] - corners[i], corners[i + 2] - corners[i]);
    sum = sum + twice;
    all += length(twice);
  }
  return all > length(sum) * (1.0 + kFold);
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

/// Nothing when the triangles do not close, or fold.
std::optional<TriMesh> meshed(const TopoDS_Shape& shape, const IMeshTools_Parameters& parameters) {
  // Meshing writes into the shape, and solids are shared between threads.
  const TopoDS_Shape copy = BRepBuilderAPI_Copy(shape, false, false).Shape();
  const BRepMesh_IncrementalMesh mesher(copy, parameters);
  std::vector<Vec3> corners;
  for (TopExp_Explorer at(copy, TopAbs_FACE); at.More(); at.Next()) {
    const TopoDS_Face& face = TopoDS::Face(at.Current());
    const std::vector<Vec3> some = corners_of(face);
    if (BRepAdaptor_Surface(face, false).GetType() == GeomAbs_Plane && is_folded(some)) return {};
    corners.insert(corners.end(), some.begin(), some.end());
  }
  TriMesh mesh = welded(corners);
  if (!is_closed(mesh)) return {};
  return mesh;
}

}  // namespace

Result<TriMesh> tessellate(const Solid& solid, double deflection, double angle) {
  return guarded("solid.kernel", {}, [&]() -> Result<TriMesh> {
    IMeshTools_Parameters parameters;
    parameters.Deflection = deflection;
    parameters.Angle = angle;
    // The first is faster, four times so on a panel of many holes; the second is the kernel's own.
    for (const auto way : {IMeshTools_MeshAlgoType_Delabella, IMeshTools_MeshAlgoType_Watson}) {
      parameters.MeshAlgo = way;
      if (auto mesh = meshed(solid.kernel().shape, parameters)) return *std::move(mesh);
    }
    return fail(solid_error("solid.open_mesh"));
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
