#include "step_surface.hpp"

#include <BRepMesh_IncrementalMesh.hxx>
#include <BRep_Tool.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Message_PrinterOStream.hxx>
#include <Poly_Triangulation.hxx>
#include <STEPControl_Reader.hxx>
#include <Standard_Failure.hxx>
#include <TopExp_Explorer.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Face.hxx>

#include <sstream>
#include <utility>

namespace ribbay::detail {

namespace {

/// How far chords may leave a curved face, mm: twice kContact.
constexpr double kChord = 0.02;
/// And how far they may turn from one to the next, radians: fine enough for small fillets.
constexpr double kTurn = 0.35;

tl::unexpected<Findings> not_read(std::string reason) {
  return fail(input_error("import.not_read", {}).with("reason", std::move(reason)));
}

void add_face(const TopoDS_Face& face, Surface& surface) {
  TopLoc_Location location;
  const Handle(Poly_Triangulation) mesh = BRep_Tool::Triangulation(face, location);
  if (mesh.IsNull()) throw Standard_Failure("a face could not be divided into triangles");
  const bool inverted = face.Orientation() == TopAbs_REVERSED;
  for (int t = 1; t <= mesh->NbTriangles(); ++t) {
    std::array<int, 3> nodes{};
    mesh->Triangle(t).Get(nodes[0], nodes[1], nodes[2]);
    if (inverted) std::swap(nodes[1], nodes[2]);
    ClosedMesh::Triangle triangle{};
    for (std::size_t i = 0; i < 3; ++i) {
      const gp_Pnt p = mesh->Node(nodes[i]).Transformed(location);
      triangle[i] = static_cast<std::uint32_t>(surface.points.size());
      surface.points.push_back({p.X() + 0.0, p.Y() + 0.0, p.Z() + 0.0});  // never a negative zero
    }
    surface.triangles.push_back(triangle);
  }
}

Result<Surface> read(std::string_view bytes) {
  // What the kernel has to say comes back as a reason; standard output is not its place.
  Message::DefaultMessenger()->RemovePrinters(STANDARD_TYPE(Message_PrinterOStream));
  std::istringstream in{std::string(bytes)};
  STEPControl_Reader reader;
  if (reader.ReadStream("body.step", in) != IFSelect_RetDone) {
    return not_read("it is no STEP file as in ISO 10303-21");
  }
  reader.TransferRoots();
  const TopoDS_Shape shape = reader.OneShape();
  if (shape.IsNull()) return not_read("the file holds no geometry");
  const BRepMesh_IncrementalMesh mesher(shape, kChord, false, kTurn, false);
  Surface surface;
  for (TopExp_Explorer solid(shape, TopAbs_SOLID); solid.More(); solid.Next()) {
    for (TopExp_Explorer face(solid.Current(), TopAbs_FACE); face.More(); face.Next()) {
      add_face(TopoDS::Face(face.Current()), surface);
    }
  }
  if (surface.triangles.empty()) return not_read("the file holds no solid");
  return surface;
}

}  // namespace

Result<Surface> step_surface(std::string_view bytes) {
  try {
    return read(bytes);
  } catch (const Standard_Failure& e) {
    return not_read(e.GetMessageString());
  } catch (const std::exception& e) {
    return not_read(e.what());
  }
}

}  // namespace ribbay::detail
