#include "base/tolerance.hpp"
#include "clearance/clearance.hpp"
#include "scenes.hpp"
#include "small_project.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

/// Body 300 x 400 x 300 with a door 30 thick, in the second level of the plain rack: the door's
/// outer edge is an axis at x = 130, y = 410.
constexpr const char* kCooler = R"(
[equipment.cooler]
mass = 20
assumption = true
box.body = { at = [0, 0, 0], size = [300, 400, 300] }
box.door = { at = [0, -30, 0], size = [300, 30, 300] }
opens.door = { way = "swing", leaf = "door" }
[module.rack.holds.cooler]
item = "cooler"
bay = 1
level = 2
from_left = 50
from_front = 60
)";

Layout with(const std::string& text) {
  auto built = lay_out_text(kPlainRack + text);
  INFO(words(built.findings));
  REQUIRE(built.value);
  REQUIRE_FALSE(has_errors(built.findings));
  return *built.value;
}

const MotionResult& door(const ClearanceResult& result) {
  const auto found = std::ranges::find(result.motions, "rack/cooler.door", &MotionResult::motion);
  REQUIRE(found != result.motions.end());
  return *found;
}

}  // namespace

TEST_CASE("the door of equipment opens until it meets something", "[clearance][equipment]") {
  Layout layout = with(kCooler);
  const ClearanceResult free = check_clearance(layout);
  INFO(words(free.findings));
  CHECK_FALSE(has_errors(free.findings));
  CHECK_FALSE(door(free).blocked);

  // Its nearest corner lies 200 behind the axis and 100 to the right of it: atan(2) from closed.
  layout.parts.push_back(scenes::box_part("box/box", {-170, 310, 500}, {-70, 360, 600}));
  const ClearanceResult stopped = check_clearance(layout);
  CHECK(door(stopped).blocked);
  CHECK(door(stopped).obstacle == "box/box");
  CHECK(door(stopped).opens == Approx(std::atan(2.0)).margin(2 * kContact / 200));
}

TEST_CASE("heat is told of what burns or softens, and not of metal", "[clearance][equipment]") {
  const std::string hot = R"(
[equipment.stove]
mass = 9
assumption = true
box.body = { at = [0, 0, 0], size = [300, 400, 200] }
hot.bottom = { reaches = "90 degC", gap = 30 }
[module.rack.holds.stove]
item = "stove"
bay = 1
level = 2
)";
  const auto in_heat = [](const Layout& layout) {
    std::vector<std::string> found;
    for (const Finding& finding : check_clearance(layout).findings) {
      if (finding.code == "clearance.zone") found.push_back(finding.subjects.front());
    }
    return found;
  };
  CHECK(in_heat(with(hot)).empty());  // on its seat rails of aluminium
  const Layout on_wood =
      with(hot + "[module.rack.shelves.wood]\nlevel = 2\nsheet = \"birch_12\"\n");
  CHECK(in_heat(on_wood) == std::vector<std::string>{"rack/shelf.wood"});
}
