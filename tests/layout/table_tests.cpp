#include "laid_out.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>

using namespace ribbay;
using namespace ribbay::testing;

// Sheets as bought: birch_15 is 14.9 thick, birch_18 17.7, birch_21 20.5. Fittings as in
// params/stock: the folding leg is 690 long, the post 680, a socket 38 high.

namespace {

/// At the right wall, where ribs above z = 100 leave 770 and the wall 800: its x is 1700 less the
/// van's, its front at y = -200.
const char* const kWallTable = R"(
[module.table]
kind = "table"
stands = "wall"
faces = "left"
width = "700 mm"
depth = "600 mm"
height = "710.5 mm"
top_sheet = "birch_21"
rail_sheet = "birch_15"
hinge = "table_80"
screw = "wood_4x50"
rib_screw = "wood_4x40"
leg = "table_leg_folding"
leg_screw = "wood_4x20"
knee_room = "500 mm"
place = { rear = "1000 mm", against = "right wall", on = "floor" }
)";

const char* const kPostTable = R"(
[module.table]
kind = "table"
stands = "post"
faces = "left"
width = "800 mm"
depth = "500 mm"
height = "700.5 mm"
top_sheet = "birch_21"
post = "table_post"
socket = "table_socket"
socket_screw = "wood_4x20"
place = { rear = "1000 mm", middle = "0 mm", on = "floor" }
)";

const Part& part(const Layout& layout, const std::string& name) {
  return part_named(layout, "table/" + name);
}

void check_box(const Layout& layout, const std::string& name, Vec3 lo, Vec3 hi) {
  check_bounds(part(layout, name), lo, hi);
}

/// Ahead of a worktop whose underside is 713.5 above the floor. Seen from behind, its left is +y.
const char* kSlideTable = R"(
[module.table]
kind = "table"
stands = "slide"
faces = "rear"
width = "1000 mm"
depth = "520 mm"
height = "713.5 mm"
top_sheet = "birch_21"
rail_sheet = "birch_15"
rail_height = "100 mm"
slide = "slide_500"
slide_screw = "wood_3x12"
screw = "wood_4x50"
leg = "table_leg_folding"
leg_screw = "wood_4x20"
place = { rear = "100 mm", middle = "0 mm", on = "floor" }
)";

}  // namespace

TEST_CASE("a wall table is a leaf at a strip on a rail that is screwed to the ribs",
          "[layout][table]") {
  const Layout layout = good(kWallTable);
  // 2 from the ribs; the rail below the strip; the strip 65 deep; the leaf 2 in front of it.
  check_box(layout, "rail", {1000, -768, 610}, {1700, -768 + 14.9, 690});
  check_box(layout, "strip", {1000, -768, 690}, {1700, -703, 710.5});
  check_box(layout, "top", {1000, -701, 690}, {1700, -200, 710.5});
  // The one rib between 1000 and 1700 that is not at an end stands at 1250.
  CHECK(part(layout, "rail.rib_screw_1").frame.origin.x == Approx(1250));
  const Loop& outline = part(layout, "top").shape->prisms.front().prism.section.outer;
  CHECK(std::ranges::count(outline, 40.0, &Corner::radius) == 2);
  CHECK(std::ranges::count(outline, 0.0, &Corner::radius) == 2);
}

TEST_CASE("the leg of a wall table folds, then its leaf drops about the pin below it",
          "[layout][table]") {
  const Layout layout = good(kWallTable);
  REQUIRE(layout.motions.size() == 2);
  const Motion& leg = layout.motions[0];
  CHECK(leg.id == "table/leg");
  CHECK(leg.travel == Approx(std::numbers::pi / 2));
  CHECK(leg.parts == std::vector<std::string>{"table/leg.folding"});
  CHECK(leg.after.empty());
  // Its plate is 120 from the end that it folds away from, the axis 24 below the leaf.
  CHECK(leg.origin.z == Approx(690 - 24));
  CHECK(leg.origin.x == Approx(1000 + 120));
  CHECK(leg.origin.y == Approx(-200 - 120));
  // It stands on the floor; its foot goes to the left, which is the front of the van, and up.
  CHECK(bounds(part(layout, "leg.folding")).lo.z == Approx(0).margin(1e-9));
  const Vec3 way = cross(leg.axis, Vec3{1120, -320, 0} - leg.origin);
  CHECK(way.x > 0);
  CHECK(std::ranges::count(part(layout, "leg.folding").hosts, "vehicle/floor") == 1);

  const Motion& leaf = layout.motions[1];
  CHECK(leaf.travel == Approx(std::numbers::pi / 2));
  CHECK(leaf.after == "table/leg");
  // Hinges of 2 under the boards, in the middle of the gap of 2.
  CHECK(leaf.origin.z == Approx(690 - 2));
  CHECK(leaf.origin.y == Approx(-702));
  CHECK(cross(leaf.axis, Vec3{1200, -200, 690} - leaf.origin).z < 0);
  for (const char* rides : {"table/leg", "table/leg.folding"})
    CHECK(std::ranges::count(leaf.parts, rides) == 1);
  REQUIRE(layout.zones.size() == 1);
  const Box knees = bounds(layout.zones.front().shape, layout.zones.front().frame);
  CHECK(knees.hi.z == Approx(690));
  CHECK(knees.lo.z == Approx(190));
}

TEST_CASE("a table slides out under a worktop and its leg unfolds then", "[layout][table]") {
  const Layout layout = good(kSlideTable);
  // 3 of air over a top of 20.5; slides of 45 below it; carriers of 14.9 at both ends.
  check_box(layout, "top", {100, -482.1, 690}, {600, 482.1, 710.5});
  check_box(layout, "carrier.left", {100, 485.1, 613.5}, {620, 500, 713.5});
  check_box(layout, "back", {605.1, -485.1, 613.5}, {620, 485.1, 713.5});
  check_box(layout, "side.left", {100, 485.1 - 12.7 - 14.9, 645}, {600, 485.1 - 12.7, 690});
  CHECK(bounds(part(layout, "top.slide.left.fixed")).hi.y == Approx(485.1));
  // The leg lies below the top, 9 of air round its tube of 30.
  const Box leg = bounds(part(layout, "leg.folding"));
  CHECK(leg.hi.z == Approx(690 - 4));  // its foot is 40 thick, about an axis 24 below
  CHECK(leg.lo.z == Approx(690 - 44));
  CHECK(leg.size().y == Approx(666));  // tube and foot
  REQUIRE(layout.motions.size() == 2);
  const Motion& unfold = layout.motions[0];
  const Motion& out = layout.motions[1];
  CHECK(unfold.id == "table/leg");
  CHECK(unfold.after == "table/top");
  CHECK(unfold.origin.x == Approx(100 + 120 - 500));  // brought out by then
  CHECK(out.travel == Approx(500));
  CHECK(out.axis.x == Approx(-1));
  CHECK(std::ranges::count(out.parts, "table/leg.folding") == 1);
  // Turned about its axis by its travel, the foot stands on the floor.
  const double radius = 666.0;
  CHECK(unfold.origin.z - radius == Approx(0).margin(1e-9));
  CHECK(layout.joints.size() > 6);
}

TEST_CASE("a table on a post lifts off it", "[layout][table]") {
  const Layout layout = good(kPostTable);
  check_box(layout, "top", {1000, -250, 680}, {1800, 250, 700.5});
  check_box(layout, "post_1", {1370, -30, 0}, {1430, 30, 680});
  CHECK(bounds(part(layout, "socket_1.floor")).hi.z == Approx(38));
  CHECK(bounds(part(layout, "socket_1.top")).lo.z == Approx(642));
  REQUIRE(layout.motions.size() == 1);
  CHECK(layout.motions.front().axis.z == Approx(1));
  CHECK(layout.motions.front().travel == Approx(38 + 20));
  REQUIRE(layout.removals.size() == 1);
  CHECK(layout.removals.front().travel == Approx(38));
  CHECK(layout.floor_bolts.size() == 4);
  const Layout two = good(kPostTable, {"module.table.posts=2"});
  CHECK(bounds(part(two, "post_1")).centre().x == Approx(1600));
  CHECK(bounds(part(two, "post_2")).centre().x == Approx(1200));
}

TEST_CASE("the edge band of a round corner is sawn off its radius", "[layout][table]") {
  const Layout layout =
      good(kPostTable, {"module.table.edge_band=edge_abs", "module.table.corner_radius=60 mm"});
  check_box(layout, "top", {1000, -250, 680}, {1800, 250, 700.5});
  const Part& top = part(layout, "top");
  CHECK(top.stock.length == Approx(796));
  CHECK(top.stock.width == Approx(496));
  const Loop& sawn = top.shape->prisms.front().prism.section.outer;
  CHECK(std::ranges::count_if(sawn,
                              [](const Corner& c) { return std::abs(c.radius - 58) < 1e-9; }) == 4);
  CHECK(top.coverings.front().edges.size() == 4);
}

TEST_CASE("a wall table beyond the survey says so", "[layout][table]") {
  std::string text = kWallTable;
  const std::string against = "against = \"right wall\"";
  text.replace(text.find(against), against.size(), "right = \"-800 mm\"");
  CHECK_FALSE(has_errors(lay_out_text(text).findings));
  const auto beyond = lay_out_text(text, {"module.table.place.rear=2800 mm"});
  INFO(words(beyond.findings));
  CHECK(has_code(beyond.findings, "table.outside_survey"));
}

TEST_CASE("each fault of a table is told with both numbers", "[layout][table]") {
  struct Row {
    const char* name;
    const char* text;
    std::vector<std::string> overrides;
    const char* code;
    std::optional<double> measured;
    std::optional<double> required;
  };
  const auto row = GENERATE(values<Row>({
      {"leg too short",
       kWallTable,
       {"module.table.height=750mm"},
       "carcass.leg_length",
       690.0,
       729.5},
      {"post too short",
       kPostTable,
       {"module.table.height=750mm"},
       "table.post_length",
       680.0,
       729.5},
      {"round corners",
       kPostTable,
       {"module.table.corner_radius=300mm"},
       "table.radius_too_large",
       300.0,
       250.0},
      {"long slides",
       kSlideTable,
       {"module.table.slide=heavy_600", "module.table.rail_height=120 mm"},
       "table.slide_too_long",
       600.0,
       505.1},
      {"weak slides", kSlideTable, {"slide.slide_500.load=5 kg"}, "table.overloaded", {}, 5.0},
      // 3 of air, 20.5 of top and 45 of slide.
      {"low carriers",
       kSlideTable,
       {"module.table.rail_height=60 mm"},
       "carcass.too_small",
       60.0,
       68.5},
      {"no slide", kPostTable, {"module.table.stands=slide"}, "carcass.item_missing", {}, {}},
      {"stiff leg",
       kWallTable,
       {"module.table.leg=table_post", "fitting.table_post.use=leg"},
       "carcass.leg_fixed",
       {},
       {}},
      {"not at a wall", kWallTable, {"module.table.faces=rear"}, "table.not_at_wall", {}, {}},
      {"narrow strip",
       kWallTable,
       {"module.table.hinge_strip=45 mm"},
       "carcass.hinge_too_wide",
       40.0,
       31.1},
      {"one rib", kWallTable, {}, "carcass.few_ribs", 1.0, 2.0},
      {"no post", kPostTable, {"module.table.stands=wall"}, "carcass.item_missing", {}, {}},
      {"no depth", kWallTable, {"module.table.depth=200 mm"}, "carcass.too_small", 200.0, {}},
  }));
  CAPTURE(row.name);
  const auto built = lay_out_text(row.text, row.overrides);
  const auto found = std::ranges::find(built.findings, row.code, &Finding::code);
  INFO(words(built.findings));
  REQUIRE(found != built.findings.end());
  if (row.measured) CHECK(number(*found, "measured") == Approx(*row.measured));
  if (row.required) CHECK(number(*found, "required") == Approx(*row.required));
  CHECK(found->place);
  CHECK(message_text(*found, LengthStyle::millimetres).find('?') == std::string::npos);
  CHECK_FALSE(advice_text(*found, LengthStyle::millimetres).empty());
}

TEST_CASE("both slides of a pair are screwed through the same holes", "[layout][table]") {
  const Layout layout = good(kSlideTable);
  for (const char* half : {"fixed", "moving"}) {
    for (const char* number : {"1", "2"}) {
      CAPTURE(half, number);
      const auto screw = [&](const char* side) {
        return part(layout, std::string("top.slide.") + side + "." + half + ".screw_" + number)
            .frame.origin;
      };
      CHECK(screw("left").x == Approx(screw("right").x));
      CHECK(screw("left").y == Approx(-screw("right").y));
    }
  }
}
