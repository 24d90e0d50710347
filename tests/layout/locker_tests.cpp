#include "laid_out.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>

using namespace ribbay;
using namespace ribbay::testing;

// Sheets as bought: birch_4 is 3.8 thick, birch_12 12, birch_15 14.9, birch_18 17.7.

namespace {

/// From z = 1000, where it is 800 from the middle, the wall leans in by 200 for each 1000 up. Ribs
/// stand 30 into the room at x = 250, 750 and so on.
const char* const kLeaningVan = R"(
format = 1
[vehicle]
title = "Van with leaning walls"
heights = [0, 1000, 1900, 1910]
surveyed = "skin"
uncertainty = "2 mm"
floor_thickness = "12 mm"
rear_sill = "10 mm"
gross_limit = "3500 kg"
[station.rear]
x = "0 mm"
both = [800, 800, 620, 30]
[station.front]
x = "3000 mm"
both = [800, 800, 620, 30]
[rib.pair]
side = "both"
x = "250 mm"
count = 6
pitch = "500 mm"
width = "60 mm"
depth = "30 mm"
from = "100 mm"
to = "1850 mm"
)";

/// From z = 1300, where ribs leave 710, to 1700. 1400 wide; its own x is 1500 less the van's. Its
/// front stands at y = -710 + 390.
const char* const kLocker = R"(
[module.locker]
kind = "locker"
faces = "left"
width = "1400 mm"
depth = "390 mm"
height = "400 mm"
sheet = "birch_15"
front_sheet = "birch_18"
back_sheet = "birch_4"
rail_sheet = "birch_12"
hinge = "hinge_110"
screw = "wood_4x40"
slide_screw = "wood_3x12"
rib_screw = "wood_4x40"
latch = "push_latch"
latch_screw = "wood_3_5x25"
stay = "lid_stay"
stay_screw = "wood_3x12"
head_room = "300 mm"
place = { rear = "100 mm", against = "right wall", bottom = "1300 mm" }
[module.locker.bays.first]
width = "600 mm"
door = "lift"
load = "8 kg"
[module.locker.bays.second]
door = "drop"
)";

Layout good_locker(const std::vector<std::string>& overrides = {},
                   const std::string& van = kLeaningVan) {
  return good(kLocker, overrides, van);
}

const Part& part(const Layout& layout, const std::string& name) {
  return part_named(layout, "locker/" + name);
}

void check_box(const Layout& layout, const std::string& name, Vec3 lo, Vec3 hi) {
  check_bounds(part(layout, name), lo, hi);
}

const Motion& motion(const Layout& layout, const std::string& id) {
  const auto found = std::ranges::find(layout.motions, id, &Motion::id);
  REQUIRE(found != layout.motions.end());
  return *found;
}

/// How far a corner of a part stays from the plane of the ribs at the right: 770 from the middle,
/// from z = 1000 on less a fifth of the rise.
double nearest_to_ribs(const Part& part) {
  double nearest = 1e9;
  for (const ConvexPiece& piece : pieces(part.body())) {
    for (const Vec3 v : placed(piece, part.frame).vertices)
      nearest = std::min(nearest, v.y + 770 - 0.2 * (v.z - 1000));
  }
  return nearest;
}

}  // namespace

TEST_CASE("a locker has uprights, shelves, two rails and a back, and a door for each bay",
          "[layout][locker]") {
  const Layout layout = good_locker();
  std::set<std::string> made;
  for (const Part& each : layout.parts) {
    if (is_made(each.kind)) made.insert(each.id.substr(7));
  }
  CHECK(made == std::set<std::string>{"back.first_1", "back.second_1", "bottom.first",
                                      "bottom.second", "divider.first", "door.first.leaf",
                                      "door.second.leaf", "rail.lower", "rail.upper", "side.left",
                                      "side.right", "top.first", "top.second"});
  // Envelope: 1400 wide from x = 100, its rear at the ribs' widest place, at its underside.
  const Box all = layout.module("locker")->envelope;
  CHECK(all.lo.y == Approx(-710));
  CHECK(all.hi.y == Approx(-320));
  // Doors: 3 from the ends, above and below; 3 between them, over the middle of the divider.
  check_box(layout, "door.first.leaf", {1500 - 14.9 - 600 - 7.45 + 1.5, -337.7, 1303},
            {1497, -320, 1697});
  check_box(layout, "door.second.leaf", {103, -337.7, 1303},
            {1500 - 14.9 - 600 - 7.45 - 1.5, -320, 1697});
}

TEST_CASE("a locker's sides and back follow the wall that leans in", "[layout][locker]") {
  const Layout layout = good_locker();
  // 3 is kept from ribs, level and upwards: at its underside the line lies 3 + 0.2 x 3 in front of
  // them, at its top 3. Over 400 it leans in by 80 - 0.6.
  const double slope = 79.4 / 400;
  for (const char* name : {"rail.lower", "rail.upper"}) {
    CAPTURE(name);
    CHECK(nearest_to_ribs(part(layout, name)) >= 3.0);
    CHECK(nearest_to_ribs(part(layout, name)) <= 3.0 + 0.6 + 0.2);
    // It lies on the slope: its face looks into the room and down.
    const Vec3 face = part(layout, name).frame.z;
    CHECK(face.y == Approx(1 / std::hypot(1, slope)).margin(1e-4));
    CHECK(face.z == Approx(-slope / std::hypot(1, slope)).margin(1e-4));
    CHECK(part(layout, name).stock.length == Approx(1400 - 2 * 14.9));
    CHECK(part(layout, name).stock.width == Approx(60));
  }
  // The back lies on the rails, which are 12 thick.
  const Part& rail = part(layout, "rail.lower");
  const Part& back = part(layout, "back.first_1");
  CHECK(dot(back.frame.origin - rail.frame.origin, rail.frame.z) == Approx(12));
  CHECK(dot(back.frame.z, rail.frame.z) == Approx(1));
  // Uprights stand between ribs: they reach to 3 from the skin, which lies 30 deeper, where the
  // envelope lets them. It ends at 710: the side leaves it where the skin stands at 713.6 or less.
  for (const char* name : {"side.left", "divider.first"}) {
    CAPTURE(name);
    CHECK(nearest_to_ribs(part(layout, name)) == Approx(3.0 - 30.0).margin(1e-6));
  }
  const Loop& side = part(layout, "side.right").shape->prisms.front().prism.section.outer;
  CHECK(side.size() == 5);
  CHECK(bounds(part(layout, "side.right")).hi.y == Approx(-339.7));
  CHECK(bounds(part(layout, "side.right")).lo.y == Approx(-710));
}

TEST_CASE("a rail slides through notches with a little play", "[layout][locker]") {
  const Layout layout = good_locker();
  // 60 x 12, longer by 0.4 at both ends and deeper by 0.4.
  int notches = 0;
  for (const Cut& cut : part(layout, "divider.first").shape->prisms.front().prism.cuts) {
    if (cut.role != CutRole::notch) continue;
    ++notches;
    CHECK(area({cut.outline, {}}) == Approx(60.8 * 12.4));
  }
  CHECK(notches == 2);
}

TEST_CASE("rails are screwed to every rib that they pass clear of uprights", "[layout][locker]") {
  const Layout layout = good_locker();
  // Ribs at 250, 750 and 1250; uprights at 100, 885 and 1500.
  for (const char* rail : {"rail.lower", "rail.upper"}) {
    std::set<double> places;
    for (const Part& each : layout.parts) {
      if (each.id.starts_with("locker/" + std::string(rail) + ".rib_screw_")) {
        places.insert(std::round(each.frame.origin.x));
        CHECK(std::ranges::count(each.hosts, "locker/" + std::string(rail)) == 1);
        // Square to the slope.
        CHECK(dot(each.frame.z, part(layout, rail).frame.z) == Approx(-1));
      }
    }
    CAPTURE(rail);
    CHECK(places == std::set<double>{250, 750, 1250});
  }
  CHECK(std::ranges::count(layout.joints, "screwed to a rib", &Joint::kind) == 6);
}

TEST_CASE("doors of a locker lift, drop and swing the way they are hung", "[layout][locker]") {
  const Layout layout = good_locker({"module.locker.bays.second.opens=100 deg"});
  const Motion& lift = motion(layout, "locker/door.first");
  const Motion& drop = motion(layout, "locker/door.second");
  CHECK(lift.travel == Approx(110 * std::numbers::pi / 180));
  CHECK(lift.required == Approx(std::numbers::pi / 2));
  CHECK(drop.required == Approx(100 * std::numbers::pi / 180));
  // hinge_110 turns 2 inside the edge of the door and 1 in front of it.
  CHECK(lift.origin.z == Approx(1697 - 2));
  CHECK(lift.origin.y == Approx(-320 + 1));
  CHECK(drop.origin.z == Approx(1303 + 2));
  // The free edge goes into the room, which lies to the left of the locker.
  CHECK(cross(lift.axis, Vec3{1000, -320, 1303} - lift.origin).y > 0);
  CHECK(cross(drop.axis, Vec3{500, -320, 1697} - drop.origin).y > 0);
  // Plates under the top of one, on the bottom of the other.
  const Part& plate = part(layout, "door.first.hinge_1.plate");
  CHECK(bounds(plate).hi.z == Approx(1700 - 14.9));
  CHECK(bounds(part(layout, "door.second.hinge_1.plate")).lo.z == Approx(1300 + 14.9));
  // Only what lifts has a stay; latches sit at the free edges.
  CHECK(layout.find("locker/door.first.stay") != nullptr);
  CHECK(layout.find("locker/door.second.stay") == nullptr);
  CHECK(bounds(part(layout, "door.first.latch")).centre().z < 1400);
  CHECK(bounds(part(layout, "door.second.latch")).centre().z > 1600);
  const auto side = good_locker({"module.locker.bays.first.door=left"});
  CHECK(std::abs(motion(side, "locker/door.first").axis.z) == Approx(1));
}

TEST_CASE("a locker carries what lies in it and keeps the room below it", "[layout][locker]") {
  const Layout layout = good_locker();
  REQUIRE(layout.supports.size() == 1);
  CHECK(layout.supports.front().owner == "locker/bottom.first");
  CHECK(layout.supports.front().load_kg == 8.0);
  CHECK(layout.supports.front().at.z == Approx(1300 + 14.9));
  REQUIRE(layout.zones.size() == 1);
  const Box room = bounds(layout.zones.front().shape, layout.zones.front().frame);
  CHECK(room.hi.z == Approx(1300));
  CHECK(room.lo.z == Approx(1000));
}

TEST_CASE("a back in facets comes nearer to a wall that bends than one slope", "[layout][locker]") {
  // The wall bends at z = 1500: upright below, leaning in by two in five above.
  std::string van = kLeaningVan;
  van.replace(van.find("[0, 1000, 1900, 1910]"), 21, "[0, 1500, 1900, 1910]");
  for (int i = 0; i < 2; ++i) {
    const std::size_t at = van.find("[800, 800, 620, 30]");
    van.replace(at, 19, "[800, 800, 640, 30]");
  }
  const std::vector<std::string> narrow = {"module.locker.bays.first.door=left",
                                           "module.locker.bays.second.door=right",
                                           "module.locker.rail_height=50 mm"};
  std::vector<std::string> two = narrow;
  two.emplace_back("module.locker.facets=2");
  const Layout one_slope = good_locker(narrow, van);
  const Layout facets = good_locker(two, van);
  CHECK(one_slope.find("locker/back.first_2") == nullptr);
  REQUIRE(facets.find("locker/back.first_2") != nullptr);
  // Both stay in front of ribs that stand 30 in.
  for (const Layout* layout : {&one_slope, &facets}) {
    for (const Part& each : layout->parts) {
      if (!is_made(each.kind)) continue;
      CAPTURE(each.id);
      if (each.id.find("side") != std::string::npos || each.id.find("divider") != std::string::npos)
        continue;
      for (const ConvexPiece& piece : pieces(*each.shape)) {
        for (const Vec3 v : placed(piece, each.frame).vertices)
          CHECK(-v.y <= 770 - 0.4 * std::max(v.z - 1500, 0.0) + 1e-6);
      }
    }
  }
  // The bend lies in the middle, where two facets meet at the wall.
  const double slope = bounds(part(one_slope, "back.first_1")).centre().y;
  const double lower = bounds(part(facets, "back.first_1")).centre().y;
  CHECK(lower < slope);
}

TEST_CASE("edge bands of a locker are sawn off doors and front edges", "[layout][locker]") {
  const Layout layout = good_locker({"module.locker.edge_band=edge_abs"});
  const Part& door = part(layout, "door.first.leaf");
  CHECK(door.coverings.front().edges.size() == 4);
  CHECK(door.stock.width == Approx(394 - 4));
  check_box(layout, "door.second.leaf", {103, -337.7, 1303},
            {1500 - 14.9 - 600 - 7.45 - 1.5, -320, 1697});
  const Part& side = part(layout, "side.left");
  REQUIRE(side.coverings.size() == 1);
  CHECK(side.coverings.front().edges.size() == 1);
  CHECK(bounds(side).hi.y == Approx(-339.7));
  CHECK(bounds(*side.shape, side.frame).hi.y == Approx(-341.7));
}

TEST_CASE("each fault of a locker is told", "[layout][locker]") {
  struct Row {
    const char* name;
    std::vector<std::string> overrides;
    const char* code;
    std::optional<double> measured;
    std::optional<double> required;
  };
  const auto row = GENERATE(values<Row>({
      {"no front", {"module.locker.bays.first.open=true"}, "locker.bay_front", {}, {}},
      {"faces the rear", {"module.locker.faces=rear"}, "locker.not_at_wall", {}, {}},
      {"hinge opens too little",
       {"module.locker.bays.first.opens=120 deg"},
       "carcass.hinge_opens_too_little",
       110.0,
       120.0},
      {"rails too high", {"module.locker.rail_height=200mm"}, "locker.rails_no_room", 400.0, {}},
      {"above the ribs", {"module.locker.place.bottom=1499 mm"}, "carcass.few_ribs", 0.0, 2.0},
      {"screw too short", {"module.locker.rib_screw=wood_4x20"}, "layout.bolt_too_short", 20.0, {}},
      // Two sheets and a rail of 60.
      {"nothing between", {"module.locker.height=29.8mm"}, "carcass.too_small", 29.8, 89.8},
      {"too shallow", {"module.locker.depth=150mm"}, "locker.too_shallow", {}, 80.0},
  }));
  CAPTURE(row.name);
  const auto built = lay_out_text(kLocker, row.overrides, kLeaningVan);
  const auto found = std::ranges::find(built.findings, row.code, &Finding::code);
  INFO(words(built.findings));
  REQUIRE(found != built.findings.end());
  if (row.measured) CHECK(number(*found, "measured") == Approx(*row.measured));
  if (row.required) CHECK(number(*found, "required") == Approx(*row.required));
  CHECK(found->place);
  CHECK(message_text(*found, LengthStyle::millimetres).find('?') == std::string::npos);
  CHECK_FALSE(advice_text(*found, LengthStyle::millimetres).empty());
}
