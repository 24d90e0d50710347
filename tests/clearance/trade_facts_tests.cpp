// What the trade takes for granted must lay out and check without a finding. Common practice, no
// source.
#include "clearance/clearance.hpp"
#include "small_project.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

Findings checked(const std::string& modules, const std::vector<std::string>& set, Layout& layout) {
  auto built = lay_out_text(modules, set);
  INFO(words(built.findings));
  REQUIRE(built.value);
  REQUIRE_FALSE(has_errors(built.findings));
  layout = std::move(*built.value);
  return check_clearance(layout).findings;
}

}  // namespace

TEST_CASE("a galley 36 inches high stands 18 inches off the wall", "[clearance][trade]") {
  const std::string galley = R"(
[module.galley]
kind = "galley"
faces = "left"
width = "1000 mm"
depth = "18 in"
height = "36 in"
sheet = "birch_18"
back_sheet = "birch_6"
front_sheet = "birch_18"
drawer_sheet = "birch_12"
drawer_bottom_sheet = "birch_6"
counter_sheet = "birch_18"
slide = "slide_350"
hinge = "hinge_110"
screw = "wood_4x40"
panel_screw = "wood_3_5x25"
slide_screw = "wood_3x12"
place = { rear = "300 mm", against = "right wall", on = "floor" }
[module.galley.columns.drawers]
width = "450 mm"
drawers = ["1 share", "1 share", "2 shares"]
[module.galley.columns.cupboard]
width = "1 share"
door = "right"
)";
  Layout layout;
  const Findings findings = checked(galley, {}, layout);
  INFO(words(findings));
  CHECK(findings.empty());
  const Box box = layout.module("galley")->envelope;
  CHECK(box.hi.z == Approx(914.4));
  // Ribs stand 30 mm off a wall 800 mm from the middle.
  CHECK(box.hi.y == Approx(-770 + 457.2));
}

TEST_CASE("a partition of three-quarter inch plywood is usual", "[clearance][trade]") {
  const std::string partition = R"(
[sheet.ply_three_quarter]
material = "birch_plywood_18"
nominal = "3/4 in"
thickness = "23/32 in"
length = "96 in"
width = "48 in"
grain = true
assumption = true
[module.partition]
kind = "partition"
faces = "front"
sheet = "ply_three_quarter"
height = "900 mm"
pieces = ["1 share", "1 share"]
place = { rear = "1000 mm", between = "walls", on = "floor" }
)";
  Layout layout;
  const Findings findings = checked(partition, {}, layout);
  INFO(words(findings));
  CHECK(findings.empty());
  CHECK(layout.module("partition")->envelope.size().x == Approx(18.25625));
}

TEST_CASE("a quarter of an inch between a beam and what stands below is tight but works",
          "[clearance][trade]") {
  const std::string bunk = std::string(kPlainRack) + R"(
[module.bunk]
kind = "bunk"
faces = "front"
beam = "i_beam_80"
beam_bolt = "m8_25"
bearer = "angle_50_5"
wall_bolt = "m8_25"
deck_sheet = "birch_12"
depth = "1000 mm"
gaps.rack = { to = "rack", at_least = "1/4 in" }
place = { rear = "50 mm", between = "walls", bottom = "rack.top + 1/4 in - 5 mm" }
)";
  // The beams lie 5 mm above the bunk's underside, on the bearers' legs; their bolts reach below
  // and stand clear of the narrower rack.
  Layout layout;
  const Findings enough = checked(bunk, {}, layout);
  INFO(words(enough));
  CHECK_FALSE(has_code(enough, "clearance.clash"));
  CHECK_FALSE(has_code(enough, "clearance.gap"));
  CHECK_FALSE(has_code(enough, "clearance.tight"));
  const Findings less = checked(bunk, {"module.bunk.place.bottom=rack.top + 6 mm - 5 mm"}, layout);
  CHECK(has_code(less, "clearance.gap"));
}
