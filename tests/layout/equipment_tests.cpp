#include "small_project.hpp"

#include <catch2/catch.hpp>

#include <numbers>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

/// Stands in the second level of the plain rack: 300 wide, 400 deep, 300 high, with a door 30 thick
/// before it.
constexpr const char* kCooler = R"(
[equipment.cooler]
title = "Cooler"
mass = 20
life = 10
assumption = true
box.body = { at = [0, 0, 0], size = [300, 400, 300] }
box.door = { at = [0, -30, 0], size = [300, 30, 300] }
opens.door = { way = "swing", leaf = "door" }
hot.right = { reaches = "70 degC", gap = 40 }
air.back = 25
comes_out = { fasteners = 4 }
[module.rack.holds.cooler]
item = "cooler"
bay = 1
level = 2
from_left = 50
from_front = 60
)";

Layout with(const std::string& equipment, const std::vector<std::string>& overrides = {}) {
  auto built = lay_out_text(kPlainRack + equipment, overrides);
  INFO(words(built.findings));
  REQUIRE(built.value);
  REQUIRE_FALSE(has_errors(built.findings));
  return *built.value;
}

std::string changed(std::string text, const std::string& line, const std::string& by) {
  const auto at = text.find(line);
  REQUIRE(at != std::string::npos);
  return text.replace(at, line.size(), by);
}

const Motion* motion(const Layout& layout, const std::string& id) {
  const auto found = std::ranges::find(layout.motions, id, &Motion::id);
  return found == layout.motions.end() ? nullptr : &*found;
}

const Zone* zone(const Layout& layout, const std::string& id) {
  const auto found = std::ranges::find(layout.zones, id, &Zone::id);
  return found == layout.zones.end() ? nullptr : &*found;
}

void check_box(const Box& box, Vec3 lo, Vec3 hi) {
  CHECK(length(box.lo - lo) == Approx(0).margin(1e-9));
  CHECK(length(box.hi - hi) == Approx(0).margin(1e-9));
}

}  // namespace

// The rack's front stands at x = 100 and looks to the rear; its left side at y = 500. The post is
// 40 wide, so the cooler's left side stands at y = 500 - 40 - 50 = 410 and its body's front at x =
// 160; the rail of the second level ends at z = 440.

TEST_CASE("a door of equipment is a part of its own that turns about its outer edge",
          "[layout][equipment]") {
  const Layout layout = with(kCooler);
  check_box(bounds(*layout.find("rack/cooler")), {160, 110, 440}, {560, 410, 740});
  const Part* door = layout.find("rack/cooler.door");
  REQUIRE(door != nullptr);
  check_box(bounds(*door), {130, 110, 440}, {160, 410, 740});
  CHECK(door->hosts == std::vector<std::string>{"rack/cooler"});
  CHECK_FALSE(is_bought(*door));
  CHECK(door->mass_kg == 0);
  CHECK(layout.find("rack/cooler")->mass_kg == 20);

  const Motion* opens = motion(layout, "rack/cooler.door");
  REQUIRE(opens != nullptr);
  CHECK(opens->kind == MotionKind::rotation);
  CHECK(opens->parts == std::vector<std::string>{"rack/cooler.door"});
  CHECK(opens->travel == Approx(std::numbers::pi / 2));
  CHECK(opens->origin.x == Approx(130));
  CHECK(opens->origin.y == Approx(410));
  // Seen from above it turns clockwise: from -y to -x.
  CHECK(length(opens->axis - Vec3{0, 0, -1}) == Approx(0).margin(1e-12));
}

TEST_CASE("fronts that lift, drop and pull move about the edges and the way they say",
          "[layout][equipment]") {
  struct Row {
    const char* opens;
    MotionKind kind;
    Vec3 axis;
    Vec3 origin;  ///< only what lies on the axis counts
    double travel;
  };
  // In van axes the front looks to -x and the equipment's right to -y.
  const auto row = GENERATE(values<Row>({
      {"{ way = \"lift\", leaf = \"door\", angle = \"60 deg\" }",
       MotionKind::rotation,
       {0, 1, 0},
       {130, 0, 740},
       std::numbers::pi / 3},
      {"{ way = \"drop\", leaf = \"door\" }",
       MotionKind::rotation,
       {0, -1, 0},
       {130, 0, 440},
       std::numbers::pi / 2},
      {"{ way = \"swing\", hinge = \"right\", leaf = \"door\" }",
       MotionKind::rotation,
       {0, 0, 1},
       {130, 110, 0},
       std::numbers::pi / 2},
      {"{ way = \"pull\", leaf = \"door\", reach = 250 }",
       MotionKind::translation,
       {-1, 0, 0},
       {0, 0, 0},
       250},
  }));
  CAPTURE(row.opens);
  const Layout layout = with(changed(kCooler, "{ way = \"swing\", leaf = \"door\" }", row.opens));
  const Motion* opens = motion(layout, "rack/cooler.door");
  REQUIRE(opens != nullptr);
  CHECK(opens->kind == row.kind);
  CHECK(length(opens->axis - row.axis) == Approx(0).margin(1e-12));
  CHECK(opens->travel == Approx(row.travel));
  if (row.kind == MotionKind::translation) return;
  const Vec3 off = opens->origin - row.origin;
  CHECK(length(cross(off, row.axis)) == Approx(0).margin(1e-9));
}

TEST_CASE("a front without a leaf keeps the room before it clear", "[layout][equipment]") {
  const Layout layout = with(changed(kCooler, ", leaf = \"door\" }", " }"));
  CHECK(motion(layout, "rack/cooler.door") == nullptr);
  CHECK(layout.find("rack/cooler.door") == nullptr);
  const Zone* room = zone(layout, "rack/cooler.opens_door");
  REQUIRE(room != nullptr);
  CHECK(room->kind == ZoneKind::keep_clear);
  // As deep as the door is wide; nothing of the rack may stand there.
  check_box(bounds(room->shape, room->frame), {160 - 300, 110, 440}, {160, 410, 740});
  CHECK(room->allowed.empty());
}

TEST_CASE("hot faces and air are zones beside the main body", "[layout][equipment]") {
  const Layout layout = with(kCooler);
  const Zone* heat = zone(layout, "rack/cooler.heat_right");
  REQUIRE(heat != nullptr);
  CHECK(heat->kind == ZoneKind::heat);
  check_box(bounds(heat->shape, heat->frame), {160, 70, 440}, {560, 110, 740});
  const Zone* air = zone(layout, "rack/cooler.air_back");
  REQUIRE(air != nullptr);
  check_box(bounds(air->shape, air->frame), {560, 110, 440}, {585, 410, 740});
  CHECK_FALSE(air->allowed.empty());
}

TEST_CASE("equipment that will fail says which way it comes out and how far",
          "[layout][equipment]") {
  const Layout front = with(kCooler);
  REQUIRE(front.removals.size() == 1);
  CHECK(front.removals[0].id == "rack/cooler");
  CHECK(front.removals[0].fasteners == 4);
  CHECK(front.removals[0].life_years == 10);
  CHECK(length(front.removals[0].direction - Vec3{-1, 0, 0}) == Approx(0).margin(1e-12));
  CHECK(front.removals[0].travel == Approx(560 - 100));  // its back to the rack's front

  const Layout up =
      with(changed(kCooler, "comes_out = { fas", "comes_out = { towards = \"top\", fas"));
  CHECK(length(up.removals[0].direction - Vec3{0, 0, 1}) == Approx(0).margin(1e-12));
  CHECK(up.removals[0].travel == Approx(900 - 440));

  // Turned to the rack's left it comes out there: the van's left.
  const Layout left = with(std::string(kCooler) + "comes_out = \"left\"\n");
  CHECK(length(left.removals[0].direction - Vec3{0, 1, 0}) == Approx(0).margin(1e-12));
}

TEST_CASE("rounds are cylinders of the body, and without boxes all of it stands where asked",
          "[layout][equipment]") {
  const Layout layout = with(R"(
[equipment.bottle]
mass = 11
assumption = true
round.body = { at = [115, 115, 0], diameter = 230, length = 300 }
[module.rack.holds.bottle]
item = "bottle"
bay = 2
level = 2
from_left = 10
from_front = 20
)");
  const Part* bottle = layout.find("rack/bottle");
  REQUIRE(bottle != nullptr);
  CHECK(volume(*bottle->shape) == Approx(std::numbers::pi / 4 * 230 * 230 * 300));
  // The second bay begins at y = 500 - 560.
  check_box(bounds(*bottle), {120, -60 - 10 - 230, 440}, {350, -70, 740});
  // Without feet it stands on the corners of its underside.
  CHECK(layout.supports.size() >= 4);
}

TEST_CASE("in a mirrored module a door keeps its hinge at its own left", "[layout][equipment]") {
  const Layout layout = with(kCooler, {"module.rack.mirrored=true"});
  const Part& body = *layout.find("rack/cooler");
  const Motion* opens = motion(layout, "rack/cooler.door");
  REQUIRE(opens != nullptr);
  const Vec3 own = body.frame.local_point(opens->origin);
  CHECK(own.x == Approx(0).margin(1e-9));
  CHECK(own.y == Approx(-30));
  CHECK(length(opens->axis - Vec3{0, 0, -1}) == Approx(0).margin(1e-12));
}
