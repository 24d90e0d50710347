#include "mesh_body.hpp"

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeSolid.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepBuilderAPI_Sewing.hxx>
#include <BRep_Builder.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Vertex.hxx>
#include <gp_Pln.hxx>

#include <map>
#include <utility>
#include <vector>

namespace ribbay::detail {

namespace {

/// Triangles as faces that share their edges and corners.
class FaceMaker {
 public:
  explicit FaceMaker(const ClosedMesh& mesh) : mesh_{mesh} {
    for (const Vec3 p : mesh.points) {
      TopoDS_Vertex& vertex = vertices_.emplace_back();
      BRep_Builder().MakeVertex(vertex, gp_Pnt(p.x, p.y, p.z), kFlat);
    }
  }

  TopoDS_Shape face(const ClosedMesh::Triangle& t, Vec3 normal) {
    BRepBuilderAPI_MakeWire wire;
    for (std::size_t i = 0; i < 3; ++i) wire.Add(edge(t[i], t[(i + 1) % 3]));
    const Vec3 p = mesh_.points[t[0]];
    const gp_Pln plane(gp_Pnt(p.x, p.y, p.z), gp_Dir(normal.x, normal.y, normal.z));
    return BRepBuilderAPI_MakeFace(plane, wire.Wire()).Shape();
  }

 private:
  TopoDS_Edge edge(std::uint32_t from, std::uint32_t to) {
    TopoDS_Edge& edge = edges_[std::minmax(from, to)];
    if (edge.IsNull()) {
      const auto [low, high] = std::minmax(from, to);
      edge = BRepBuilderAPI_MakeEdge(vertices_[low], vertices_[high]).Edge();
    }
    return TopoDS::Edge(edge.Oriented(from < to ? TopAbs_FORWARD : TopAbs_REVERSED));
  }

  const ClosedMesh& mesh_;
  std::vector<TopoDS_Vertex> vertices_;
  std::map<std::pair<std::uint32_t, std::uint32_t>, TopoDS_Edge> edges_;
};

}  // namespace

TopoDS_Shape mesh_body(const ClosedMesh& mesh) {
  FaceMaker faces(mesh);
  BRepBuilderAPI_Sewing sewing(kFlat);
  for (const ClosedMesh::Triangle& t : mesh.triangles) {
    if (const auto normal = mesh.normal(t)) sewing.Add(faces.face(t, *normal));
  }
  sewing.Perform();
  BRepBuilderAPI_MakeSolid solid;
  for (TopExp_Explorer shell(sewing.SewedShape(), TopAbs_SHELL); shell.More(); shell.Next()) {
    solid.Add(TopoDS::Shell(shell.Current()));
  }
  return solid.Solid();
}

}  // namespace ribbay::detail
