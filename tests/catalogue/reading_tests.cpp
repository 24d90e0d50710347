#include "sample_catalogue.hpp"

#include <algorithm>
#include <numbers>

using namespace ribbay;
using namespace ribbay::tests;

namespace {

/// A sound catalogue with one entry of each kind; the tests replace one line of it.
constexpr const char* kSound = R"(format = 1
[material.alloy]
density = 2700
modulus = 70000
colour = "#c0c8d0"
source = "a handbook"
date = 2026-01-02
[profile.slotted]
family = "slotted"
material = "alloy"
width = 40
height = 40
slot = { opening = 8, lip = 4.5, cavity_width = 20, floor_width = 11, depth = 12 }
core_bore = 6.8
assumption = true
[profile.beam]
family = "i_beam"
material = "alloy"
width = 46
height = 80
web = 3.8
flange = 5.2
root_radius = 5
metre_mass = 2.06
assumption = true
[sheet.ply]
material = "alloy"
nominal = 18
thickness = 17.7
thinnest = 17.1
thickest = 18.1
length = 2500
width = 1250
assumption = true
[slide.pair]
length = 450
travel = 440
thickness = 12.7
height = 45
load = 40
mass = 1.3
assumption = true
[hinge.cup]
opening = 110
cup_diameter = 35
cup_depth = 12
cup_edge = 22
axis_inset = 2
axis_out = 1
mass = 0.1
assumption = true
[bolt.m8]
diameter = 8
length = 16
head_diameter = 13
head_height = 8
clearance_hole = 9
spanner = 6
assumption = true
[bolt.screw]
kind = "wood"
diameter = 4
length = 30
head_diameter = 8.1
head_height = 2.3
countersunk = true
clearance_hole = 4.5
pilot_hole = 2.5
assumption = true
[nut.n8]
diameter = 8
width = 13.5
length = 22
height = 5
mass = 0.01
assumption = true
[bracket.corner]
material = "alloy"
leg = 40
thickness = 5
width = 36
hole_from_corner = 21
bolt = "m8"
nut = "n8"
assumption = true
[handle.bow]
length = 138
width = 10
projection = 28
hole_spacing = 128
hole_diameter = 4.6
mass = 0.06
assumption = true
[equipment.box]
mass = 12
assumption = true
feet = [{ at = [10, 20, 0] }]
air = { left = 30 }
box.body = { at = [0, 0, 0], size = [300, 200, 150] }
port.out = { kind = "water", at = [0, 0, 50], out = "left", diameter = 12 }
)";

std::string replaced(std::string text, const std::string& line, const std::string& by) {
  const auto at = text.find("\n" + line + "\n");
  REQUIRE(at != std::string::npos);
  return text.replace(at + 1, line.size(), by);
}

}  // namespace

TEST_CASE("a catalogue file gives what it says", "[catalogue][reading]") {
  const auto built = read_text(kSound);
  REQUIRE(all_text(built.findings).empty());
  const Catalogue& catalogue = built.value;
  CHECK(catalogue.materials.at("alloy").density == Approx(2.7e-6));
  CHECK(catalogue.materials.at("alloy").provenance.source == "a handbook");
  CHECK(catalogue.materials.at("alloy").provenance.date == "2026-01-02");
  CHECK(catalogue.profiles.at("slotted").family == ProfileFamily::slotted);
  CHECK(catalogue.profiles.at("slotted").slot->floor_width == 11);
  CHECK(catalogue.profiles.at("beam").height == 80);
  CHECK_FALSE(catalogue.profiles.at("beam").coarse);
  CHECK(catalogue.sheets.at("ply").thinnest == 17.1);
  CHECK(catalogue.slides.at("pair").travel == 440);
  CHECK(catalogue.hinges.at("cup").opening == Approx(110.0 * std::numbers::pi / 180.0));
  CHECK(catalogue.brackets.at("corner").nut == "n8");
  CHECK(catalogue.bolts.at("screw").kind == BoltKind::wood);
  CHECK(catalogue.bolts.at("screw").countersunk);
  CHECK(catalogue.handles.at("bow").hole_spacing == 128);
  CHECK(catalogue.equipment.at("box").air.at(Face::left) == 30);
  CHECK(catalogue.equipment.at("box").ports.at(0).out == Face::left);
  CHECK(catalogue.equipment.at("box").title == "box");
}

TEST_CASE("a bolt without a mass weighs its shank and head in steel", "[catalogue][reading]") {
  const auto built = read_text(kSound);
  // 16 mm of 8 mm and 8 mm of 13 mm diameter: 804.2 + 1061.9 mm3 at 7.85 g per cm3.
  CHECK(built.value.bolts.at("m8").mass_kg == Approx(0.014649).margin(1e-6));
  // A countersunk head takes its height from the length: 27.7 mm of 4 mm, 2.3 mm of 8.1 mm.
  CHECK(built.value.bolts.at("screw").mass_kg == Approx(0.003663).margin(1e-6));
}

TEST_CASE("each fault of a catalogue file is told with its place", "[catalogue][reading]") {
  struct Row {
    const char* code;
    const char* line;   ///< of the sound file
    const char* fault;  ///< what replaces it
  };
  const auto row = GENERATE(values<Row>({
      {"catalogue.cells", "core_bore = 6.8", "core_bore = 6.8\ncell = 30"},
      {"catalogue.cells", "core_bore = 6.8", "cell = 1"},
      {"input.too_big", "nominal = 18", "nominal = 1e300"},
      {"catalogue.colour", "colour = \"#c0c8d0\"", "colour = \"grey\""},
      {"catalogue.colour", "mass = 12", "mass = 12\ncolour = \"#12345g\""},
      {"catalogue.empty_box", "box.body = { at = [0, 0, 0], size = [300, 200, 150] }",
       "box.body = { at = [0, 0, 0], size = [300, 0, 150] }"},
      {"catalogue.first_box", "box.body = { at = [0, 0, 0], size = [300, 200, 150] }",
       "box.body = { at = [0, 5, 0], size = [300, 200, 150] }"},
      {"catalogue.foot_beside", "feet = [{ at = [10, 20, 0] }]", "feet = [{ at = [10, 201, 0] }]"},
      {"catalogue.metre_mass", "metre_mass = 2.06", "metre_mass = 2.6"},
      {"catalogue.no_source", "source = \"a handbook\"", ""},
      {"catalogue.pilot_hole", "pilot_hole = 2.5", "pilot_hole = 4"},
      {"catalogue.section", "web = 3.8", "web = 47"},
      {"catalogue.section", "root_radius = 5", "root_radius = 36"},
      {"catalogue.size_missing", "web = 3.8", ""},
      {"catalogue.size_not_used", "web = 3.8", "web = 3.8\nwall = 2"},
      {"catalogue.slot",
       "slot = { opening = 8, lip = 4.5, cavity_width = 20, floor_width = 11, depth = 12 }",
       "slot = { opening = 8, lip = 4.5, cavity_width = 8, floor_width = 11, depth = 12 }"},
      {"catalogue.slot",
       "slot = { opening = 8, lip = 4.5, cavity_width = 20, floor_width = 11, depth = 12 }",
       "slot = { opening = 8, lip = 4.5, cavity_width = 20, floor_width = 11, depth = 16.6 }"},
      {"catalogue.slot",
       "slot = { opening = 8, lip = 4.5, cavity_width = 20, floor_width = 11, depth = 12 }",
       "slot = { opening = 8, lip = 12, cavity_width = 20, floor_width = 11, depth = 12 }"},
      {"catalogue.section",
       "slot = { opening = 8, lip = 4.5, cavity_width = 20, floor_width = 11, depth = 12 }",
       "slot = { opening = 8, lip = 4.5, cavity_width = 32, floor_width = 11, depth = 12 }"},
      {"catalogue.thickness", "thickness = 17.7", "thickness = 18.2"},
      {"catalogue.thickness", "thinnest = 17.1", "thinnest = 17.8"},
      {"catalogue.threads_differ", "[nut.n8]", "[nut.n8]\n#"},  // replaced below
      {"catalogue.too_small", "head_diameter = 13", "head_diameter = 8"},
      {"catalogue.too_small", "clearance_hole = 9", "clearance_hole = 7.9"},
      {"catalogue.too_small", "clearance_hole = 9", "clearance_hole = 13"},
      {"catalogue.too_small", "cup_edge = 22", "cup_edge = 17"},
      {"catalogue.too_small", "hole_from_corner = 21", "hole_from_corner = 11"},
      {"catalogue.too_small", "hole_from_corner = 21", "hole_from_corner = 34"},
      {"catalogue.too_small", "hole_spacing = 128", "hole_spacing = 140"},
      {"catalogue.too_small", "width = 13.5", "width = 7"},
      {"catalogue.too_small", "head_height = 2.3", "head_height = 31"},
      {"input.unknown_reference", "bolt = \"m8\"", "bolt = \"m9\""},
      {"input.unknown_reference", "nut = \"n8\"", "nut = \"n9\""},
      {"input.missing", "density = 2700", ""},
      {"input.not_above", "density = 2700", "density = 0"},
      {"input.unknown_key", "cup_depth = 12", "cup_dept = 12"},
      {"input.bad_name", "[slide.pair]", "[slide.Pair]"},
      {"expression.dimension", "load = 40", "load = \"40 mm\""},
  }));
  std::string text = replaced(kSound, row.line, row.fault);
  if (row.code == std::string("catalogue.threads_differ")) {
    text.replace(text.find("#\ndiameter = 8"), 14, "diameter = 6");
  }
  CAPTURE(row.code, row.line, row.fault);
  const auto built = read_text(text);
  CAPTURE(all_text(built.findings));
  const auto found = std::ranges::find(built.findings, row.code, &Finding::code);
  REQUIRE(found != built.findings.end());
  REQUIRE(found->place);
  CHECK(found->place->file == "stock.toml");
  CHECK(found->place->line > 0);
  // Every word and number of the message is there.
  const std::string message = message_text(*found, LengthStyle::millimetres);
  CHECK(message.find('?') == std::string::npos);
  CHECK(message.find('{') == std::string::npos);
  CHECK(message.find(found->code + ":") == std::string::npos);
}

TEST_CASE("a value where named tables belong is told", "[catalogue][reading]") {
  const auto built = read_text("format = 1\nsheet = \"birch\"\n");
  REQUIRE(built.findings.size() == 1);
  CHECK(built.findings[0].code == "catalogue.not_tables");
}

TEST_CASE("an unknown name is told with the nearest one", "[catalogue][reading]") {
  const auto built = read_text(replaced(kSound, "bolt = \"m8\"", "bolt = \"screv\""));
  REQUIRE(built.findings.size() == 1);
  const std::string text = all_text(built.findings);
  CAPTURE(text);
  CHECK(text.find("screw") != std::string::npos);
  CHECK(text.find("stock.toml:") == 0);
}

TEST_CASE("what refers to a faulty entry is left out without another report",
          "[catalogue][reading]") {
  const auto built = read_text(replaced(kSound, "density = 2700", "density = -1"));
  CAPTURE(all_text(built.findings));
  CHECK(built.findings.size() == 1);
  CHECK(built.value.materials.empty());
  CHECK(built.value.profiles.empty());
  CHECK(built.value.sheets.empty());
  CHECK(built.value.brackets.empty());
  CHECK(built.value.bolts.size() == 2);
  CHECK(built.value.equipment.size() == 1);
}

TEST_CASE("all faults are told at once and the sound entries stay", "[catalogue][reading]") {
  auto text = replaced(kSound, "thickness = 17.7", "thickness = 19");
  text = replaced(text, "cup_edge = 22", "cup_edge = 10");
  text = replaced(text, "web = 3.8", "");
  const auto built = read_text(text);
  CHECK(built.findings.size() == 3);
  CHECK(built.value.sheets.empty());
  CHECK(built.value.hinges.empty());
  CHECK(built.value.profiles.size() == 1);
  CHECK(built.value.brackets.size() == 1);
}

TEST_CASE("sizes in inches and sums of other entries are lengths like any other",
          "[catalogue][reading]") {
  auto text = replaced(kSound, "nominal = 18", "nominal = \"23/32 in\"");
  text = replaced(text, "projection = 28", "projection = \"sheet.ply.thickness + 10 mm\"");
  const auto built = read_text(text);
  REQUIRE(all_text(built.findings).empty());
  CHECK(built.value.sheets.at("ply").nominal == Approx(18.25625));
  CHECK(built.value.handles.at("bow").projection == Approx(27.7));
}
