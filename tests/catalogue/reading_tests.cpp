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
[material.oak]
density = 700
radial_movement = 0.0018
tangential_movement = 0.0037
assumption = true
[sheet.folding]
material = "alloy"
nominal = 2
thickness = 2
length = 2000
width = 1000
bend_radius = 3
k_factor = 0.33
flex_radius = 900
quarter_sawn = true
assumption = true
[plank.board]
material = "oak"
covers = 90
width = 96
thickness = 12
tongue = 4
play = 0.4
quarter_sawn = true
stock_lengths = [2000, 2400]
assumption = true
[finish.oil]
kind = "coat"
thickness = 0.04
coats = 2
covers = "20 m2/l"
area_mass = "0.05 kg/m2"
colour = "#d0a070"
assumption = true
[finish.cloth]
kind = "film"
thickness = 1.5
turn_over = 25
assumption = true
[butt_hinge.lid]
material = "alloy"
leaf = 20
length = 60
thickness = 1.5
knuckle = 5
screw = "screw"
hole_row = 13
first_hole = 10
hole_spacing = 25
mass = 0.04
assumption = true
[plate.gusset]
material = "alloy"
thickness = 4
size = [100, 80]
triangle = true
holes = [{ at = [60, 20] }, { at = [20, 50] }]
bolt = "m8"
nut = "n8"
assumption = true
[connector.hidden]
bore = 17
from_end = 20
depth = 19
foot_length = 21
foot_height = 6
mass = 0.07
assumption = true
[dowel.pin]
material = "oak"
diameter = 7.9
length = 30
assumption = true
[gasket.foam]
width = 10
thickness = 3.5
compressed = 1.6
metre_mass = 0.004
assumption = true
[fitting.drain]
use = "drain"
cut_out = 48
hold = 90
mass = 0.15
round.flange = { at = [0, 0, 0], diameter = 70, length = 3 }
round.tail = { at = [0, 0, -60], diameter = 40, length = 60 }
hole.one = { at = [30, 0, 3], diameter = 4 }
assumption = true
[equipment.heater]
mass = 22
empty_mass = 12
life = 12
assumption = true
box.case = { at = [0, 0, 0], size = [300, 400, 300] }
box.lid = { at = [0, -20, 0], size = [300, 20, 300] }
round.flue = { at = [150, 400, 150], along = "y", diameter = 60, length = 80 }
fixing.left = { at = [10, 10, 0], into = "bottom", diameter = 6 }
port.coil = { kind = "coolant", at = [250, 400, 100], out = "back", diameter = 16 }
hot.back = { reaches = "90 degC", gap = 50 }
opens.lid = { way = "drop", leaf = "lid" }
opens.flap = { face = "top", way = "lift", angle = "30 deg" }
comes_out = { towards = "right", fasteners = 4, on_sled = true }
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

TEST_CASE("a catalogue file gives its planks, finishes and joining hardware",
          "[catalogue][reading]") {
  const Catalogue catalogue = read_text(kSound).value;
  CHECK(catalogue.materials.at("oak").radial_movement == 0.0018);
  CHECK(catalogue.materials.at("oak").tangential_movement == 0.0037);
  CHECK_FALSE(catalogue.materials.at("oak").anodic_index);
  const Sheet& folding = catalogue.sheets.at("folding");
  CHECK(folding.bend_radius == 3);
  CHECK(folding.k_factor == 0.33);
  CHECK(folding.flex_radius == 900);
  CHECK(folding.quarter_sawn);
  CHECK(catalogue.sheets.at("ply").bend_radius == 0);
  const Plank& board = catalogue.planks.at("board");
  CHECK(board.tongue_length() == 6);
  CHECK(board.stock_lengths == std::vector<double>{2000, 2400});
  // 20 m2 from a litre are 20e6 mm2 from 1e6 mm3.
  CHECK(catalogue.finishes.at("oil").coverage == Approx(20));
  CHECK(catalogue.finishes.at("oil").area_mass == Approx(0.05e-6));
  CHECK(catalogue.finishes.at("oil").coats == 2);
  CHECK(catalogue.finishes.at("cloth").kind == FinishKind::film);
  CHECK(catalogue.finishes.at("cloth").turn_over == 25);
  CHECK(catalogue.plates.at("gusset").holes == std::vector<Vec2>{{60, 20}, {20, 50}});
  CHECK(catalogue.connectors.at("hidden").from_end == 20);
  CHECK(catalogue.dowels.at("pin").diameter == 7.9);
  CHECK(catalogue.gaskets.at("foam").metre_mass == Approx(4e-6));
  const Fitting& drain = catalogue.fittings.at("drain");
  CHECK(drain.cut_out == 48);
  CHECK(drain.hold_n == 90);
  CHECK(drain.holes.at(0).direction == Vec3{0, 0, -1});
  CHECK(drain.mirror.symmetric);
}

TEST_CASE("the holes of a butt hinge are spread evenly, no further apart than it says",
          "[catalogue][reading]") {
  const ButtHinge hinge = read_text(kSound).value.butt_hinges.at("lid");
  // 60 long, 10 from both ends leaves 40: two gaps of 20 rather than one of 40.
  CHECK(hinge.holes(60) == std::vector<double>{10, 30, 50});
  CHECK(hinge.holes(45) == std::vector<double>{10, 35});
}

TEST_CASE("a catalogue file gives what equipment does besides standing there",
          "[catalogue][reading]") {
  const Equipment heater = read_text(kSound).value.equipment.at("heater");
  CHECK(heater.empty_mass_kg == 12);
  CHECK(heater.life_years == 12);
  CHECK(heater.body() == Box{{0, 0, 0}, {300, 400, 300}});
  CHECK(heater.bounds() == Box{{0, -20, 0}, {300, 480, 300}});
  CHECK(heater.fixings.at(0).direction == Vec3{0, 0, -1});
  CHECK(heater.ports.at(0).kind == "coolant");
  CHECK(heater.hot.at(Face::back).kelvin == Approx(363.15));
  CHECK(heater.hot.at(Face::back).gap == 50);
  REQUIRE(heater.opens.size() == 2);
  CHECK(heater.opens[0].hinge == Face::bottom);
  CHECK(heater.opens[0].reach == Approx(300));  // all of its height, at a right angle
  CHECK(heater.opens[1].hinge == Face::back);
  CHECK(heater.opens[1].reach == Approx(200));  // half of the depth of 400, at 30 degrees
  CHECK(heater.comes_out->towards == Face::right);
  CHECK(heater.comes_out->fasteners == 4);
  CHECK(heater.comes_out->on_sled);
  const Equipment box = read_text(kSound).value.equipment.at("box");
  CHECK(box.empty_mass_kg == 12);
  CHECK_FALSE(box.comes_out);
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
      {"input.not_above", "box.body = { at = [0, 0, 0], size = [300, 200, 150] }",
       "box.body = { at = [0, 0, 0], size = [300, 0, 150] }"},
      {"catalogue.first_box", "box.body = { at = [0, 0, 0], size = [300, 200, 150] }",
       "box.body = { at = [0, 5, 0], size = [300, 200, 150] }"},
      {"catalogue.foot_beside", "feet = [{ at = [10, 20, 0] }]", "feet = [{ at = [10, 201, 0] }]"},
      {"catalogue.hinge_side", "opens.lid = { way = \"drop\", leaf = \"lid\" }",
       "opens.lid = { way = \"drop\", hinge = \"left\" }"},
      {"catalogue.hinge_side", "opens.lid = { way = \"drop\", leaf = \"lid\" }",
       "opens.lid = { way = \"swing\", hinge = \"back\" }"},
      {"catalogue.hinge_side", "opens.lid = { way = \"drop\", leaf = \"lid\" }",
       "opens.lid = { way = \"swing\", face = \"top\" }"},
      {"catalogue.hinge_side", "opens.lid = { way = \"drop\", leaf = \"lid\" }",
       "opens.lid = { way = \"lift\", hinge = \"left\" }"},
      {"catalogue.hole_beside", "holes = [{ at = [60, 20] }, { at = [20, 50] }]",
       "holes = [{ at = [66, 20] }, { at = [20, 50] }]"},
      {"catalogue.hole_beside", "holes = [{ at = [60, 20] }, { at = [20, 50] }]",
       "holes = [{ at = [60, 6] }, { at = [20, 50] }]"},
      {"catalogue.leaf", "opens.lid = { way = \"drop\", leaf = \"lid\" }",
       "opens.lid = { way = \"drop\", leaf = \"case\" }"},
      {"catalogue.leaf", "opens.flap = { face = \"top\", way = \"lift\", angle = \"30 deg\" }",
       "opens.flap = { way = \"lift\", leaf = \"lid\" }"},
      {"catalogue.metre_mass", "metre_mass = 2.06", "metre_mass = 2.6"},
      {"catalogue.no_body", "box.body = { at = [0, 0, 0], size = [300, 200, 150] }", ""},
      {"catalogue.outside", "hole.one = { at = [30, 0, 3], diameter = 4 }",
       "hole.one = { at = [36, 0, 3], diameter = 4 }"},
      {"catalogue.outside",
       "fixing.left = { at = [10, 10, 0], into = \"bottom\", diameter = 6 }",
       "fixing.left = { at = [10, 10, -5], into = \"bottom\", diameter = 6 }"},
      {"catalogue.outside",
       "port.out = { kind = \"water\", at = [0, 0, 50], out = \"left\", diameter = 12 }",
       "port.out = { kind = \"water\", at = [0, 0, 151], out = \"left\", diameter = 12 }"},
      {"catalogue.no_source", "source = \"a handbook\"", ""},
      {"catalogue.pilot_hole", "pilot_hole = 2.5", "pilot_hole = 4"},
      {"catalogue.section", "web = 3.8", "web = 47"},
      {"catalogue.section", "root_radius = 5", "root_radius = 36"},
      {"catalogue.size_missing", "web = 3.8", ""},
      {"catalogue.size_not_used", "web = 3.8", "web = 3.8\nwall = 2"},
      {"catalogue.size_missing", "covers = \"20 m2/l\"", ""},
      {"catalogue.size_missing", "radial_movement = 0.0018", ""},
      {"catalogue.size_missing", "opens.lid = { way = \"drop\", leaf = \"lid\" }",
       "opens.lid = { way = \"pull\" }"},
      {"catalogue.size_not_used", "turn_over = 25", "turn_over = 25\ncoats = 2"},
      {"catalogue.size_not_used", "coats = 2", "coats = 2\nwidth = 900"},
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
      {"catalogue.no_such_body", "hold = 90",
       "hold = 90\nfolds = { at = [0, 0, 0], moves = [\"tail\", \"flangee\"] }"},
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
      {"catalogue.too_small", "covers = 90", "covers = 96"},
      {"catalogue.too_small", "tongue = 4", "tongue = 11.7"},
      {"catalogue.too_small", "first_hole = 10", "first_hole = 30"},
      {"catalogue.too_small", "leaf = 20", "leaf = 17"},
      {"catalogue.too_small", "hole_row = 13", "hole_row = 6.5"},
      {"catalogue.too_small", "from_end = 20", "from_end = 8"},
      {"catalogue.too_small", "diameter = 7.9", "diameter = 30"},
      {"catalogue.too_small", "compressed = 1.6", "compressed = 3.5"},
      {"catalogue.too_small", "empty_mass = 12", "empty_mass = 23"},
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
  CHECK_FALSE(built.value.materials.contains("alloy"));
  CHECK(built.value.profiles.empty());
  CHECK(built.value.sheets.empty());
  CHECK(built.value.brackets.empty());
  CHECK(built.value.bolts.size() == 2);
  CHECK(built.value.equipment.size() == 2);
}

TEST_CASE("all faults are told at once and the sound entries stay", "[catalogue][reading]") {
  auto text = replaced(kSound, "thickness = 17.7", "thickness = 19");
  text = replaced(text, "cup_edge = 22", "cup_edge = 10");
  text = replaced(text, "web = 3.8", "");
  const auto built = read_text(text);
  CHECK(built.findings.size() == 3);
  CHECK_FALSE(built.value.sheets.contains("ply"));
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
