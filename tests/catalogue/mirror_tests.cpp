#include "sample_catalogue.hpp"

#include <algorithm>

using namespace ribbay;
using namespace ribbay::tests;

namespace {

const char* const kLatches = R"(format = 1
[hinge.left]
opening = 110
cup_diameter = 35
cup_depth = 12
cup_edge = 22
axis_inset = 2
axis_out = 1
mass = 0.1
assumption = true
pair = "right"
[hinge.right]
opening = 110
cup_diameter = 35
cup_depth = 12
cup_edge = 22
axis_inset = 2
axis_out = 1
mass = 0.1
assumption = true
pair = "left"
[equipment.heater]
mass = 4
assumption = true
mirror = "symmetric"
feet = [{ at = [10, 0, 0] }, { at = [90, 0, 0] }]
air = { left = 20, right = 20, top = 5 }
box.body = { at = [0, 0, 0], size = [100, 200, 100] }
box.ear_left = { at = [-10, 0, 0], size = [10, 10, 10] }
box.ear_right = { at = [100, 0, 0], size = [10, 10, 10] }
port.out = { kind = "air", at = [50, 0, 50], out = "front", diameter = 30 }
round.left = { at = [20, 0, 100], diameter = 10, length = 20 }
round.right = { at = [80, 0, 100], diameter = 10, length = 20 }
round.rod = { at = [10, 50, 110], along = "x", diameter = 8, length = 80 }
fixing.left = { at = [-5, 5, 5], into = "right", diameter = 4 }
fixing.right = { at = [105, 5, 5], into = "left", diameter = 4 }
hot.left = { reaches = "80 degC", gap = 30 }
hot.right = { reaches = "80 degC", gap = 30 }
opens.lid = { face = "top", way = "lift" }
comes_out = { towards = "front" }
)";

std::string with(const std::string& line, const std::string& instead) {
  std::string text = kLatches;
  const auto at = text.find(line);
  REQUIRE(at != std::string::npos);
  return text.replace(at, line.size(), instead);
}

}  // namespace

TEST_CASE("an item says what stands in for it in a mirrored module", "[catalogue][mirror]") {
  const auto built = read_text(kLatches);
  INFO(all_text(built.findings));
  REQUIRE(built.findings.empty());
  CHECK(built.value.hinges.at("left").mirror.pair == "right");
  CHECK(built.value.equipment.at("heater").mirror.symmetric);
  const Catalogue stock = committed("stock/hardware.toml");
  CHECK(stock.hinges.at("hinge_110").mirror.symmetric);
  CHECK(stock.slides.at("slide_400").mirror.symmetric);  // the default of hardware
  CHECK_FALSE(committed("equipment/equipment.toml").equipment.at("fridge_top").mirror.symmetric);
}

TEST_CASE("facts about mirror images that cannot be are reported", "[catalogue][mirror]") {
  struct Row {
    std::string text;
    const char* says;
  };
  const std::vector<Row> rows = {
      {with("pair = \"left\"", "mirror = \"none\""),
       "hinge.left has 'right' as its pair, which itself names no pair"},
      {with("pair = \"left\"", "pair = \"right\""),
       "hinge.left has 'right' as its pair, which itself names 'right'"},
      {with("pair = \"left\"", "pair = \"left\"\nmirror = \"none\""),
       "hinge.right says both how it is mirrored and which item is its pair"},
      {with("at = [100, 0, 0], size = [10, 10, 10]", "at = [100, 0, 5], size = [10, 10, 10]"),
       "heater is called symmetric, but its box 2 has no mirror image on the other side"},
      {with("{ at = [90, 0, 0] }", "{ at = [80, 0, 0] }"),
       "heater is called symmetric, but its foot 1 has no mirror image on the other side"},
      {with("at = [50, 0, 50]", "at = [51, 0, 50]"),
       "heater is called symmetric, but its port 1 has no mirror image on the other side"},
      {with("at = [80, 0, 100], diameter = 10", "at = [80, 0, 100], diameter = 11"),
       "heater is called symmetric, but its round 1 has no mirror image on the other side"},
      {with("at = [10, 50, 110]", "at = [12, 50, 110]"),
       "heater is called symmetric, but its round 3 has no mirror image on the other side"},
      {with("into = \"left\"", "into = \"right\""),
       "heater is called symmetric, but its fixing 1 has no mirror image on the other side"},
      {with("hot.right = { reaches = \"80 degC\", gap = 30 }\n", ""),
       "heater is called symmetric, but its hot has no mirror image on the other side"},
      {with("face = \"top\", way = \"lift\"", "way = \"swing\""),
       "heater is called symmetric, but its opens 1 has no mirror image on the other side"},
      {with("towards = \"front\"", "towards = \"left\""),
       "heater is called symmetric, but its comes_out has no mirror image on the other side"},
      {with("left = 20, right = 20", "left = 20, right = 25"),
       "heater is called symmetric, but its air has no mirror image on the other side"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.text);
    const auto built = read_text(row.text);
    INFO(all_text(built.findings));
    REQUIRE(built.findings.size() == 1);
    CHECK(message_text(built.findings[0], LengthStyle::millimetres) == row.says);
    CHECK_FALSE(advice_text(built.findings[0], LengthStyle::millimetres).empty());
    CHECK(built.findings[0].place->line > 0);
  }
}

TEST_CASE("an item whose pair is faulty is left out with it, without a second report",
          "[catalogue][mirror]") {
  const auto built =
      read_text(with("cup_edge = 22\naxis_inset = 2\naxis_out = 1\nmass = "
                     "0.1\nassumption = true\npair = \"left\"",
                     "cup_edge = 12\naxis_inset = 2\naxis_out = 1\nmass = "
                     "0.1\nassumption = true\npair = \"left\""));
  INFO(all_text(built.findings));
  CHECK(built.findings.size() == 1);
  CHECK(built.value.hinges.empty());
}
