#include "base/messages.hpp"
#include "sample_vehicles.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <fstream>

using namespace ribbay;
using namespace ribbay::tests;

namespace {

std::string all_text(const Findings& findings) {
  std::string text;
  for (const Finding& finding : findings) {
    text += finding_text(finding, LengthStyle::millimetres) + "\n";
  }
  return text;
}

/// A sound vehicle file; the tests replace one line of it.
constexpr const char* kSound = R"(format = 1
[vehicle]
title = "Test van"
heights = [0, 1000, 1800]
surveyed = "skin"
uncertainty = "3 mm"
gross_limit = 3000
[station.rear]
x = 0
left = [850, 880, 600]
right = [840, 870, 590]
[station.front]
x = "3 m"
both = [860, 890, 610]
[rib.bow]
side = "both"
x = 400
count = 3
pitch = 500
width = 60
depth = 30
from = 50
to = 1500
[arch.wheel]
side = "both"
from = 800
to = 1500
height = 260
half_width = 650
radius = 120
[opening.door]
kind = "sliding"
side = "right"
from = 1700
to = 2600
top = 1500
leaf = { intrudes = 20, clear_way = 500 }
[opening.rear]
kind = "rear"
from = -700
to = 700
top = 1600
[joist.cross]
at = 200
count = 4
pitch = 600
width = 60
[joist.spine]
runs = "along"
at = 0
width = 50
[axle.front]
x = 3600
track = 1700
limit = 1700
empty = 1100
[axle.rear]
x = 1150
track = 1700
limit = 1800
empty = 700
[bow.roof]
x = 450
count = 2
pitch = 700
width = 55
depth = 25
from = -500
[channel.sill]
side = "left"
from = 200
to = 2900
top = 140
depth = 70
holes = [ { x = 600, width = 120, height = 80 } ]
[floor]
layers = [ { name = "deck", thickness = 9 }, { name = "foam", thickness = 15 } ]
[hard_point.ring]
x = 300
y = 500
thread = "M8"
[no_drill.tank]
from = 1300
to = 1900
right = -320
left = 300
what = "fuel tank"
[diagonal.floor]
from = { station = "rear", side = "left", height = 0 }
to = { station = "front", side = "right", height = 0 }
length = 3452
)";

std::string replaced(std::string text, const std::string& line, const std::string& by) {
  const auto at = text.find(line + "\n");
  REQUIRE(at != std::string::npos);
  return text.replace(at, line.size(), by);
}

}  // namespace

TEST_CASE("every committed vehicle reads without a finding", "[vehicle][reading]") {
  int read = 0;
  for (const auto& file :
       std::filesystem::directory_iterator(RIBBAY_SOURCE_DIR "/params/vehicles")) {
    if (file.path().extension() != ".toml") continue;  // scans lie beside them
    CAPTURE(file.path().string());
    const auto document = load_document(file.path().string());
    CHECK(all_text(document.findings).empty());
    const auto vehicle = read_vehicle(document.value);
    CHECK((vehicle ? std::string() : all_text(vehicle.error())).empty());
    ++read;
  }
  CHECK(read >= 4);
}

TEST_CASE("a vehicle file gives what it says", "[vehicle][reading]") {
  const auto vehicle = read_text(kSound);
  REQUIRE((vehicle ? std::string() : all_text(vehicle.error())).empty());
  CHECK(vehicle->title == "Test van");
  REQUIRE(vehicle->stations.size() == 2);
  CHECK(vehicle->stations[0].left[1].half_width == 880);
  CHECK(vehicle->stations[0].right[2].z == 1800);
  CHECK(vehicle->stations[1].x == 3000);
  CHECK(vehicle->stations[1].left[2].half_width == 610);
  CHECK(vehicle->stations[1].right[2].half_width == 610);
  CHECK(vehicle->stations[1].uncertainty == 3);

  REQUIRE(vehicle->ribs.size() == 6);
  CHECK(vehicle->ribs[1].name == "bow_left_2");
  CHECK(vehicle->ribs[1].x == 900);
  CHECK(vehicle->ribs[5].name == "bow_right_3");
  CHECK(vehicle->ribs[5].side == VanSide::right);

  CHECK_FALSE(vehicle->ribs[0].section);
  CHECK(vehicle->ribs[0].steel);

  REQUIRE(vehicle->bows.size() == 2);
  CHECK(vehicle->bows[1].name == "roof_2");
  CHECK(vehicle->bows[1].x == 1150);
  CHECK(vehicle->bows[1].from == -500);
  // All across ends at the highest point of the left wall: the roof, where the wall stands up
  // steeper than 45 degrees. It widens forward: at the front edge of the bow.
  CHECK(vehicle->bows[1].to == Approx(600 + 10.0 * (1150 + 27.5) / 3000));

  REQUIRE(vehicle->arches.size() == 2);
  CHECK(vehicle->arches[0].name == "wheel_left");
  REQUIRE(vehicle->openings.size() == 2);
  CHECK(vehicle->openings[0].kind == OpeningKind::sliding);
  CHECK(vehicle->openings[1].kind == OpeningKind::rear);
  CHECK(vehicle->openings[0].leaf.intrudes == 20);
  CHECK(vehicle->openings[0].leaf.clear_way == 500);
  CHECK(vehicle->openings[0].leaf.swing == LeafSwing::slides);
  CHECK(vehicle->openings[1].leaf.swing == LeafSwing::out);

  REQUIRE(vehicle->joists.size() == 5);
  CHECK(vehicle->joists[3].name == "cross_4");
  CHECK(vehicle->joists[3].at == 2000);
  // Without ends of its own a joist reaches to the narrowest edge of the floor above it.
  CHECK(vehicle->joists[0].to == Approx(850 + 10.0 * 170 / 3000));
  CHECK(vehicle->joists[0].from == Approx(-(840 + 20.0 * 170 / 3000)));
  CHECK(vehicle->joists[4].across == false);
  CHECK(vehicle->joists[4].to == 3000);

  REQUIRE(vehicle->front_axle);
  CHECK(vehicle->front_axle->limit_kg == 1700);
  CHECK(vehicle->rear_axle->x == 1150);
  CHECK_FALSE(vehicle->rear_closed);
}

TEST_CASE("stations may stand in the file in any order", "[vehicle][reading]") {
  const auto vehicle = read_text(replaced(kSound, "x = \"3 m\"", "x = \"-3 m\""));
  // The ribs now lie outside, so only the order is of interest here.
  REQUIRE_FALSE(vehicle);
  for (const Finding& finding : vehicle.error()) {
    CHECK(finding.code == "vehicle.outside_stations");
    CHECK(finding.argument("first")->value == std::variant<std::string, double>(-3000.0));
    CHECK(finding.argument("last")->value == std::variant<std::string, double>(0.0));
  }
}

TEST_CASE("sizes may be inches and expressions of other fields", "[vehicle][reading]") {
  auto text = replaced(kSound, "half_width = 650", "half_width = \"25 1/2 in\"");
  text = replaced(text, "from = 800", "from = \"axle.rear.x - 350 mm\"");
  const auto vehicle = read_text(text);
  REQUIRE((vehicle ? std::string() : all_text(vehicle.error())).empty());
  CHECK(vehicle->arches[0].half_width == Approx(647.7));
  CHECK(vehicle->arches[0].from == Approx(800));
}

TEST_CASE("a rib may say what it is made of", "[vehicle][reading]") {
  const auto vehicle = read_text(replaced(
      kSound, "depth = 30", "depth = 30\nsection = \"hat\"\nwall = \"0.8 mm\"\nsteel = false"));
  REQUIRE((vehicle ? std::string() : all_text(vehicle.error())).empty());
  CHECK(vehicle->ribs[5].section == RibSection::hat);
  CHECK(vehicle->ribs[5].wall == 0.8);
  CHECK_FALSE(vehicle->ribs[5].steel);
}

TEST_CASE("each fault of a vehicle file is told with its place", "[vehicle][reading]") {
  struct Row {
    const char* code;
    const char* line;   ///< of the sound file
    const char* fault;  ///< what replaces it
  };
  const auto row = GENERATE(values<Row>({
      {"vehicle.above_roof", "to = 1500", "to = 1801"},
      {"vehicle.above_roof", "top = 140", "top = 1801"},
      {"vehicle.above_roof", "height = 260", "height = 1850"},
      {"vehicle.above_roof", "top = 1500", "top = 1900"},
      {"vehicle.above_roof", "top = 1600", "top = 1900"},
      {"vehicle.arch_behind_wall", "half_width = 650", "half_width = 860"},
      {"vehicle.arch_edge", "radius = 120", "radius = 120\nedge_radius = 210"},
      {"vehicle.arch_radius", "radius = 120", "radius = 261"},
      {"vehicle.axle_overloaded", "empty = 1100", "empty = 1701"},
      {"vehicle.axles_swapped", "x = 3600", "x = 1100"},
      {"vehicle.bow_beside_roof", "from = -500", "from = 605"},
      {"vehicle.bow_too_deep", "depth = 25", "depth = 1800"},
      {"vehicle.empty_over_gross", "gross_limit = 3000", "gross_limit = 1799"},
      {"vehicle.empty_range", "from = 50", "from = 1500"},
      {"vehicle.empty_range", "from = 800", "from = 1600"},
      {"vehicle.empty_range", "from = 1700", "from = 2700"},
      {"vehicle.empty_range", "runs = \"along\"", "runs = \"along\"\nfrom = 500\nto = 400"},
      {"vehicle.few_heights", "heights = [0, 1000, 1800]", "heights = [0]"},
      {"vehicle.few_stations", "[station.rear]", "remove = []\n[values]\n[joist.x]"},
      {"vehicle.heights_not_rising", "heights = [0, 1000, 1800]", "heights = [0, 1000, 1000]"},
      {"vehicle.leaf_swing", "leaf = { intrudes = 20, clear_way = 500 }",
       "leaf = { swing = \"in\" }"},
      {"vehicle.leaf_too_deep", "leaf = { intrudes = 20, clear_way = 500 }",
       "leaf = { intrudes = 900 }"},
      {"vehicle.leaf_too_deep", "leaf = { intrudes = 20, clear_way = 500 }",
       "leaf = { clear_way = 1700 }"},
      {"vehicle.joist_beside_floor", "at = 0", "at = 840"},
      {"vehicle.no_heights", "heights = [0, 1000, 1800]", ""},
      {"vehicle.no_pitch", "pitch = 500", ""},
      {"vehicle.no_pitch", "pitch = 600", ""},
      {"vehicle.no_width", "left = [850, 880, 600]", "left = [850, 0, 600]"},
      {"vehicle.not_from_floor", "heights = [0, 1000, 1800]", "heights = [10, 1000, 1800]"},
      {"vehicle.no_pitch", "pitch = 700", ""},
      {"vehicle.opening_side", "side = \"right\"", ""},
      {"vehicle.outside_stations", "x = 400", "x = 29"},
      {"vehicle.outside_stations", "to = 2600", "to = 3001"},
      {"vehicle.outside_stations", "at = 200", "at = 1200"},
      {"vehicle.outside_stations", "x = 450", "x = 2290"},
      {"vehicle.outside_stations", "to = 2900", "to = 3001"},
      {"vehicle.rear_has_side", "kind = \"rear\"", "kind = \"rear\"\nside = \"left\""},
      {"vehicle.rib_too_deep", "depth = 30", "depth = 700"},
      {"vehicle.rib_wall", "depth = 30", "depth = 30\nwall = 15"},
      {"vehicle.solid_rib_wall", "depth = 30", "depth = 30\nsection = \"solid\"\nwall = 1"},
      {"vehicle.same_name", "[joist.spine]", "[joist.cross_2]"},
      {"vehicle.same_station", "x = \"3 m\"", "x = 0.5"},
      {"vehicle.which_widths", "both = [860, 890, 610]", "left = [860, 890, 610]"},
      {"vehicle.both_and_side", "left = [850, 880, 600]", "both = [850, 880, 600]"},
      {"vehicle.heights_count", "heights = [0, 1000, 1800]", "heights = [0, 1800]"},
      {"vehicle.width_count", "left = [850, 880, 600]", "left = [850, 880]"},
      {"input.too_big", "x = \"3 m\"", "x = 1e300"},
      {"input.too_small", "right = [840, 870, 590]", "right = [840, -870, 590]"},
      {"input.unknown_key", "half_width = 650", "halfwidth = 650"},
      {"input.unknown_table", "[axle.front]", "[axel.front]"},
      {"input.missing", "to = 1500", ""},
      {"input.not_a_choice", "kind = \"sliding\"", "kind = \"slidng\""},
  }));
  CAPTURE(row.code, row.line, row.fault);
  const auto vehicle = read_text(replaced(kSound, row.line, row.fault));
  REQUIRE_FALSE(vehicle);
  CAPTURE(all_text(vehicle.error()));
  const auto found = std::ranges::find(vehicle.error(), row.code, &Finding::code);
  REQUIRE(found != vehicle.error().end());
  REQUIRE(found->place);
  CHECK(found->place->file == "van.toml");
  CHECK(found->place->line > 0);
  // A message whose words and numbers are all there ends without the question mark of a missing
  // argument.
  const std::string text = message_text(*found, LengthStyle::millimetres);
  CHECK(text.find('?') == std::string::npos);
  CHECK(text.find('{') == std::string::npos);
  CHECK(text.find(found->code + ":") == std::string::npos);
}

TEST_CASE("a table where named tables belong is told", "[vehicle][reading]") {
  const auto vehicle =
      read_text(std::string("rib = 3\n") + replaced(kSound, "[rib.bow]", "[joist.q]"));
  REQUIRE_FALSE(vehicle);
  CHECK(std::ranges::count(vehicle.error(), "vehicle.not_tables", &Finding::code) == 1);
}

TEST_CASE("a file with more tables than any van needs is refused at once", "[vehicle][reading]") {
  std::string text = kSound;
  for (int i = 0; i < 101; ++i) {
    text += "[rib.r" + std::to_string(i) +
            "]\nside = \"left\"\nx = 500\nwidth = 1\ndepth = 1\nto = 9\n";
  }
  const auto vehicle = read_text(text);
  REQUIRE_FALSE(vehicle);
  CHECK(std::ranges::count(vehicle.error(), "vehicle.too_many", &Finding::code) == 1);
}

TEST_CASE("all faults of a file are told at once, and none twice", "[vehicle][reading]") {
  auto text = replaced(kSound, "depth = 30", "depth = 800");
  text = replaced(text, "half_width = 650", "half_width = 860");
  text = replaced(text, "empty = 1100", "empty = 1701");
  const auto vehicle = read_text(text);
  REQUIRE_FALSE(vehicle);
  const auto count = [&](const char* code) {
    return std::ranges::count(vehicle.error(), code, &Finding::code);
  };
  CHECK(count("vehicle.axle_overloaded") == 1);
  CHECK(count("vehicle.arch_behind_wall") == 1);  // left and right
  CHECK(count("vehicle.rib_too_deep") == 1);
  CHECK(vehicle.error().size() == 3);
}

TEST_CASE("with faulty stations nothing that depends on them is told", "[vehicle][reading]") {
  auto text = replaced(kSound, "left = [850, 880, 600]", "left = [850, 880]");
  text = replaced(text, "x = 400", "x = 9999");
  const auto vehicle = read_text(text);
  REQUIRE_FALSE(vehicle);
  REQUIRE(vehicle.error().size() == 1);
  CHECK(vehicle.error().front().code == "vehicle.width_count");
}

TEST_CASE("every table of a vehicle file explains each of its fields", "[vehicle][reading]") {
  CHECK(vehicle_schemas().size() >= 14);
  for (const auto& [name, schema] : vehicle_schemas()) {
    CAPTURE(name);
    CHECK(schema->name == name);
    CHECK_FALSE(schema->meaning.empty());
    for (const Field& field : schema->fields) {
      CAPTURE(field.name);
      CHECK_FALSE(field.meaning.empty());
    }
  }
}

TEST_CASE("what many stations, sides or copies meet is told once", "[vehicle][reading]") {
  struct Row {
    const char* code;
    const char* line;
    const char* fault;
    const char* says;
  };
  const auto row = GENERATE(values<Row>({
      {"vehicle.few_heights", "heights = [0, 1000, 1800]", "heights = [0]",
       "[vehicle] has 1 heights; two are the least, floor and roof"},
      {"vehicle.heights_count", "heights = [0, 1000, 1800]", "heights = [0, 900, 1000, 1800]",
       "[vehicle] has 4 heights, and every station gives 3 widths"},
      {"vehicle.heights_not_rising", "heights = [0, 1000, 1800]", "heights = [0, 1000, 1000]",
       "[vehicle]: after 1000 mm the next height is 1000 mm"},
      {"vehicle.no_heights", "heights = [0, 1000, 1800]", "",
       "[vehicle] has no heights, and station rear has none of its own"},
      {"vehicle.list_count", "uncertainty = \"3 mm\"", "uncertainty = [3, 3]", "station rear:"},
      {"vehicle.rib_too_deep", "depth = 30", "depth = 700", "bow_right_1"},
      {"vehicle.above_roof", "to = 1500", "to = 1801", "bow_left_1"},
      {"vehicle.both_and_side", "left = [850, 880, 600]", "both = [850, 880, 600]",
       "station rear gives both and right: they say the same twice"},
      {"input.unknown_table", "[vehicle]", "[vehicel]", "vehicel"},
  }));
  CAPTURE(row.code, row.fault);
  const auto vehicle = read_text(replaced(kSound, row.line, row.fault));
  REQUIRE_FALSE(vehicle);
  CAPTURE(all_text(vehicle.error()));
  REQUIRE(vehicle.error().size() == 1);
  CHECK(vehicle.error()[0].code == row.code);
  CHECK_THAT(message_text(vehicle.error()[0], LengthStyle::millimetres), Catch::Contains(row.says));
}

TEST_CASE("misspelt stations are no missing ones", "[vehicle][reading]") {
  const std::string text = replaced(replaced(kSound, "[station.rear]", "[sattion.rear]"),
                                    "[station.front]", "[sattion.front]");
  const auto vehicle = read_text(text);
  REQUIRE_FALSE(vehicle);
  CAPTURE(all_text(vehicle.error()));
  REQUIRE(vehicle.error().size() == 1);
  CHECK(vehicle.error()[0].code == "input.unknown_table");
}

TEST_CASE("a project file is told as that", "[vehicle][reading]") {
  const auto vehicle = read_text("[project]\nname = \"x\"\n[module.rack]\nkind = \"rack\"\n");
  REQUIRE_FALSE(vehicle);
  REQUIRE(vehicle.error().size() == 1);
  CHECK(message_text(vehicle.error()[0], LengthStyle::millimetres) ==
        "van.toml is a project file, and a vehicle file is wanted here");
}
