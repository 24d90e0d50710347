#include "imports/read_body.hpp"
#include "solid_files.hpp"
#include "temporary_folder.hpp"

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <Interface_Static.hxx>
#include <STEPControl_Controller.hxx>
#include <STEPControl_Writer.hxx>
#include <catch2/catch.hpp>

#include <fstream>
#include <iterator>
#include <numbers>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

std::string step_text(const TopoDS_Shape& shape, const char* unit) {
  STEPControl_Controller::Init();
  Interface_Static::SetCVal("write.step.unit", unit);
  STEPControl_Writer writer;
  writer.Transfer(shape, STEPControl_AsIs);
  const TemporaryFolder home;
  const std::string path = (home.path() / "body.step").string();
  writer.Write(path.c_str());
  Interface_Static::SetCVal("write.step.unit", "MM");
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

/// 120 x 80 x 50 with a hole of 30 all the way up.
TopoDS_Shape drilled_block() {
  const gp_Ax2 axis(gp_Pnt(60, 40, -1), gp_Dir(0, 0, 1));
  return BRepAlgoAPI_Cut(BRepPrimAPI_MakeBox(120, 80, 50).Shape(),
                         BRepPrimAPI_MakeCylinder(axis, 15, 52).Shape())
      .Shape();
}

std::string code_of(std::string_view bytes, const std::string& path) {
  const auto body = read_body(bytes, path, 1.0);
  REQUIRE_FALSE(body);
  REQUIRE(body.error().size() == 1);
  return body.error().front().code;
}

}  // namespace

TEST_CASE("a triangle file gives a body in the unit it is told to have", "[imports]") {
  const std::string stl = stl_text(block_triangles({1, 2, 3}, {11, 22, 33}));
  const auto body = read_body(stl, "heater.STL", 10.0);
  REQUIRE(body);
  CHECK((*body)->volume == Approx(1000.0 * 10 * 20 * 30));
  CHECK((*body)->box.lo.x == Approx(10));
  CHECK((*body)->pieces.size() == 1);
  CHECK_FALSE(states_body_unit("heater.STL"));
  CHECK(states_body_unit("heater.glb"));
  CHECK(states_body_unit("heater.STEP"));
  CHECK(y_is_up("heater.glb"));
  CHECK_FALSE(y_is_up("heater.stl"));
}

TEST_CASE("a STEP file gives its solid in mm, whatever it was drawn in", "[imports][step]") {
  const char* unit = GENERATE("MM", "INCH", "M");
  CAPTURE(unit);
  const auto body = read_body(step_text(drilled_block(), unit), "block.step");
  if (!body) FAIL(body.error().front().code);
  const ClosedMesh& mesh = **body;
  CHECK(length(mesh.box.lo) == Approx(0).margin(1e-6));
  CHECK(length(mesh.box.hi - Vec3{120, 80, 50}) == Approx(0).margin(1e-6));
  // Chords of the hole stay on its circle's inside, so material is left over: no more than 0.02 mm
  // along the wall of the hole.
  const double exact = (120.0 * 80 - std::numbers::pi * 15 * 15) * 50;
  CHECK(mesh.volume >= exact);
  CHECK(mesh.volume <= exact + 0.02 * std::numbers::pi * 30 * 50);
  CHECK(mesh.pieces.size() > 4);
  // A unit that is told wins over the one that the file states.
  const double stated = unit == std::string("M") ? 1000.0 : unit == std::string("INCH") ? 25.4 : 1.0;
  const auto told = read_body(step_text(drilled_block(), unit), "block.step", 10.0);
  REQUIRE(told);
  CHECK((*told)->box.size().x == Approx(10.0 * 120 / stated));
}

TEST_CASE("a STEP file of two solids gives both", "[imports][step]") {
  const TopoDS_Shape two =
      BRepAlgoAPI_Cut(BRepPrimAPI_MakeBox(100, 20, 20).Shape(),
                      BRepPrimAPI_MakeBox(gp_Pnt(40, -1, -1), 20, 22, 22).Shape())
          .Shape();
  const auto body = read_body(step_text(two, "MM"), "two.step", 1.0);
  REQUIRE(body);
  CHECK((*body)->volume == Approx(80.0 * 20 * 20));
  CHECK((*body)->pieces.size() == 2);
}

TEST_CASE("files that are no body are told", "[imports]") {
  auto open = block_triangles({0, 0, 0}, {10, 10, 10});
  open.pop_back();
  CHECK(code_of(stl_text(open), "a.stl") == "import.not_closed");
  CHECK(code_of("solid a\nendsolid a\n", "a.stl") == "import.not_read");
  CHECK(code_of("ISO-10303-21;\nHEADER;\nENDSEC;\nDATA;\n", "a.step") == "import.not_read");
  CHECK(code_of("nonsense", "a.step") == "import.not_read");
  CHECK(code_of("", "a.stp") == "import.not_read");
  CHECK(code_of("anything", "a.dxf") == "import.format");
}
