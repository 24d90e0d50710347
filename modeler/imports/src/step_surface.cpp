#include "step_surface.hpp"

#include <BRepMesh_IncrementalMesh.hxx>
#include <BRep_Tool.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Message_PrinterOStream.hxx>
#include <Poly_Triangulation.hxx>
#include <STEPControl_Reader.hxx>
#include <Standard_Failure.hxx>
#include <TColStd_SequenceOfAsciiString.hxx>
#include <TCollection_AsciiString.hxx>
#include <TopExp_Explorer.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Face.hxx>

#include <array>
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

/// The length that the file says its unit has, mm, by the names of ISO 10303-41; mm where it says
/// nothing that is known.
double file_unit(STEPControl_Reader& reader) {
  TColStd_SequenceOfAsciiString lengths;
  TColStd_SequenceOfAsciiString angles;
  TColStd_SequenceOfAsciiString solid_angles;
  reader.FileUnits(lengths, angles, solid_angles);
  if (lengths.IsEmpty()) return 1.0;
  TCollection_AsciiString name = lengths.First();
  name.LowerCase();
  constexpr std::array<std::pair<const char*, double>, 5> kUnits{{{"micrometre", 1e-3},
                                                                  {"centimetre", 10.0},
                                                                  {"inch", 25.4},
                                                                  {"foot", 304.8},
                                                                  {"metre", 1000.0}}};
  for (const auto& [word, mm] : kUnits) {
    if (name == word) return mm;
  }
  return 1.0;
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

Result<Surface> read(std::string_view bytes, std::optional<double> unit) {
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
  if (unit) {  // the kernel has gone by what the file says
    const double scale = *unit / file_unit(reader);
    for (Vec3& point : surface.points) point = point * scale;
  }
  return surface;
}

}  // namespace

Result<Surface> step_surface(std::string_view bytes, std::optional<double> unit) {
  try {
    return read(bytes, unit);
  } catch (const Standard_Failure& e) {
    return not_read(e.GetMessageString());
  } catch (const std::exception& e) {
    return not_read(e.what());
  }
}

}  // namespace ribbay::detail
