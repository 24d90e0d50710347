#include "layout/removals.hpp"

#include "small_project.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

/// A battery with two cables on a sled that two clamps of two screws hold.
const char* kClamped = R"(
[module.sled]
kind = "sled"
faces = "rear"
item = "battery_small"
base = "birch_12"
runner = "aluminium_angle_30_3"
clamp = "sled_clamp"
clamp_screw = "wood_4x40"
place = { rear = "100 mm", middle = "0 mm", bottom = "300 mm" }
)";

/// The same on slides that lock, 600 long.
const char* kOnSlides = R"(
[module.sled]
kind = "sled"
faces = "rear"
item = "battery_small"
base = "birch_12"
runner = "angle_50_5"
slide = "heavy_600"
slide_bolt = "m5_8_button"
slide_screw = "wood_3x12"
side_screw = "wood_4x40"
place = { rear = "100 mm", middle = "0 mm", bottom = "300 mm" }
)";

std::vector<RemovalStep> steps_of(const char* text, const std::vector<std::string>& settings = {}) {
  const auto built = lay_out_text(text, settings);
  INFO(words(built.findings));
  REQUIRE(built.value);
  const auto removals = equipment_removals(*built.value);
  REQUIRE(removals.size() == 1);
  return removal_steps(*built.value, *removals.front());
}

}  // namespace

TEST_CASE("a sled is disconnected, its four clamp screws undone, and it comes out whole",
          "[layout][removal]") {
  const auto steps = steps_of(kClamped);
  REQUIRE(steps.size() == 4);
  CHECK(steps[0].act == RemovalAct::disconnect);
  CHECK(steps[0].what == "cable plus");
  CHECK(steps[1].what == "cable minus");
  CHECK(steps[2].act == RemovalAct::undo);
  CHECK(steps[2].what == "Wood screw 4 x 40");
  CHECK(steps[2].count == 4);
  CHECK(steps[2].ids.size() == 4);
  CHECK(steps[2].tool == "screwdriver");
  CHECK(steps[3].act == RemovalAct::take_out);
  CHECK(steps[3].direction.x == Approx(-1));
  CHECK(steps[3].travel == Approx(172 + 40 + 30));
  CHECK(steps[3].ids == std::vector<std::string>{"sled/item", "sled/base", "sled/clamp.left",
                                                 "sled/clamp.right"});
}

TEST_CASE("a sled on slides is released, brought out, and its item lifted off",
          "[layout][removal]") {
  // Slides of 45 instead of 76 high fit the angle; the battery says what undoes its fixings.
  const auto steps =
      steps_of(kOnSlides, {"slide.heavy_600.height=45 mm",
                           "equipment.battery_small.comes_out.tool=\"spanner 10 mm\""});
  REQUIRE(steps.size() == 6);
  CHECK(steps[2].act == RemovalAct::release);
  CHECK(steps[2].what == "Heavy drawer slides 600 mm");
  CHECK(steps[3].act == RemovalAct::bring_out);
  CHECK(steps[3].travel == Approx(600));
  CHECK(steps[3].direction.x == Approx(-1));
  CHECK(steps[4].act == RemovalAct::undo);
  CHECK(steps[4].count == 2);
  CHECK(steps[4].tool == "spanner 10 mm");
  CHECK(steps[5].act == RemovalAct::take_out);
  CHECK(steps[5].direction.z == Approx(1));
  CHECK(steps[5].travel == Approx(45 - 12));
  CHECK(steps[5].ids == std::vector<std::string>{"sled/item"});
}

TEST_CASE("what undoes a screw follows from its head and drive", "[layout][removal]") {
  const auto tool = [](const char* screw) {
    return steps_of(kClamped, {std::string("module.sled.clamp_screw=") + screw})[2].tool;
  };
  CHECK(tool("m6_40") == "hexagon key 5 mm");  // head 10, ISO 4762
  CHECK(tool("m6_40_hex") == "spanner 10 mm");
  CHECK(tool("wood_4_5x50") == "screwdriver");
}

TEST_CASE("hatches and lids come off, but are no equipment", "[layout][removal]") {
  const auto built = lay_out_text(R"(
[module.table]
kind = "table"
stands = "post"
faces = "rear"
width = "700 mm"
depth = "500 mm"
height = "700.5 mm"
top_sheet = "birch_21"
post = "table_post"
socket = "table_socket"
socket_screw = "wood_4x20"
place = { rear = "800 mm", middle = "0 mm", on = "floor" }
)");
  INFO(words(built.findings));
  REQUIRE(built.value);
  CHECK(built.value->removals.size() == 1);
  CHECK(equipment_removals(*built.value).empty());
}
