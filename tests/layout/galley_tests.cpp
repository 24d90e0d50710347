#include "base/messages.hpp"
#include "base/tolerance.hpp"
#include "layout/project.hpp"
#include "shape/pieces.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <map>
#include <numbers>
#include <set>
#include <sstream>

using namespace ribbay;

// The expected numbers are added up by hand beside each check. The rules behind them (overlay of
// fronts, gaps, dados of a third, a slide's space at each side of a drawer) are common practice, no
// source.

namespace {

const char* const kVan = R"(
format = 1
[vehicle]
title = "Box van"
heights = [0, 1900]
surveyed = "skin"
uncertainty = "3 mm"
floor_thickness = "12 mm"
gross_limit = "3500 kg"
[station.rear]
x = "0 mm"
both = [900, 900]
[station.front]
x = "3700 mm"
both = [900, 900]
[axle.front]
x = "4480 mm"
track = "1740 mm"
limit = "1850 kg"
empty = "1200 kg"
[axle.rear]
x = "830 mm"
track = "1720 mm"
limit = "2000 kg"
empty = "900 kg"
)";

const char* const kStock = R"(
format = 1
[material.plywood]
title = "Plywood"
density = 680
colour = "#d8b888"
assumption = true
[sheet.ply_15]
title = "Plywood 15 mm"
material = "plywood"
nominal = 15
thickness = 15
thinnest = 14.5
thickest = 15.5
length = 2500
width = 1250
grain = true
assumption = true
[sheet.ply_12]
title = "Plywood 12 mm"
material = "plywood"
nominal = 12
thickness = 12
thinnest = 11.5
thickest = 12.5
length = 2500
width = 1250
grain = true
assumption = true
[sheet.ply_6]
title = "Plywood 6 mm"
material = "plywood"
nominal = 6
thickness = 6
thinnest = 5.5
thickest = 6.5
length = 2500
width = 1250
grain = true
assumption = true
[sheet.ply_18]
title = "Plywood 18 mm"
material = "plywood"
nominal = 18
thickness = 18
thinnest = 17.5
thickest = 18.5
length = 2500
width = 1250
grain = true
assumption = true
[slide.slide_400]
title = "Drawer slides 400 mm"
length = 400
travel = 380
thickness = 12.5
height = 45
load = "40 kg"
mass = "1.2 kg"
assumption = true
[hinge.hinge_110]
title = "Hinge 110 degrees"
opening = 110
cup_diameter = 35
cup_depth = 12
cup_edge = 22.5
axis_inset = 2
axis_out = 1
mass = "0.12 kg"
assumption = true
[bolt.screw_4x45]
title = "Wood screw 4 x 45"
kind = "wood"
diameter = 4
length = 45
head_diameter = 8
head_height = 2.5
countersunk = true
clearance_hole = 4.5
pilot_hole = 2.5
assumption = true
[bolt.screw_4x25]
title = "Wood screw 4 x 25"
kind = "wood"
diameter = 4
length = 25
head_diameter = 8
head_height = 2.5
countersunk = true
clearance_hole = 4.5
pilot_hole = 2.5
assumption = true
[bolt.screw_4x12]
title = "Wood screw 4 x 12"
kind = "wood"
diameter = 4
length = 12
head_diameter = 7
head_height = 2.5
clearance_hole = 4.5
pilot_hole = 2.5
assumption = true
[bolt.pin_5]
title = "Shelf pin 5 mm"
kind = "pin"
diameter = 5
length = 8
head_diameter = 7
head_height = 8
clearance_hole = 5.1
assumption = true
)";

/// A galley of 930 x 500 x 880 mm, seen from the right: its x is the van's, from 1000 mm, its front
/// at y 0.
///
/// Boards of 15 mm; in depth 20 overhang + 18 front + 2 buffer = 40, back panel 6; in height 80 toe
/// space, 18 counter. Drawers at the left, a door hung on the right, a shelf behind it.
const char* const kProject = R"(
format = 1
include = ["stock.toml"]
[project]
name = "test"
vehicle = "van.toml"
[module.galley]
kind = "galley"
faces = "right"
width = 930
depth = 500
height = 880
place = { rear = "1000 mm", right = "0 mm", on = "floor" }
sheet = "ply_15"
back_sheet = "ply_6"
front_sheet = "ply_18"
drawer_sheet = "ply_12"
drawer_bottom_sheet = "ply_6"
counter_sheet = "ply_18"
slide = "slide_400"
hinge = "hinge_110"
screw = "screw_4x45"
panel_screw = "screw_4x25"
slide_screw = "screw_4x12"
shelf_pin = "pin_5"
[module.galley.columns.first]
width = "420 mm"
drawers = ["1 share", "1 share", "2 shares"]
[module.galley.columns.second]
width = "1 share"
door = "right"
shelves = ["300 mm"]
[module.galley.columns.third]
when = false
width = "300 mm"
[module.galley.columns.fourth]
when = false
width = "250 mm"
)";

Built<std::optional<Layout>> lay_out_test(const std::vector<std::string>& overrides = {}) {
  const ReadFile read = [](const std::string& path) -> Result<std::string> {
    if (path.ends_with("van.toml")) return std::string(kVan);
    if (path.ends_with("stock.toml")) return std::string(kStock);
    return std::string(kProject);
  };
  Findings findings;
  auto inputs = take(read_inputs("project.toml", overrides, read), findings);
  Built<std::optional<Layout>> built;
  if (inputs) built = lay_out(*inputs);
  built.findings.insert(built.findings.begin(), findings.begin(), findings.end());
  return built;
}

std::string told(const Findings& findings) {
  std::ostringstream text;
  for (const Finding& finding : findings) {
    text << finding_text(finding, LengthStyle::millimetres) << '\n';
  }
  return text.str();
}

/// The layout of a project that has nothing wrong with it.
Layout good_layout(const std::vector<std::string>& overrides = {}) {
  auto built = lay_out_test(overrides);
  INFO(told(built.findings));
  REQUIRE(built.findings.empty());
  REQUIRE(built.value);
  return std::move(*built.value);
}

const Part& part(const Layout& layout, const std::string& name) {
  const Part* found = layout.find("galley/" + name);
  INFO(name);
  REQUIRE(found != nullptr);
  return *found;
}

Box box(const Layout& layout, const std::string& name) {
  return bounds(part(layout, name));
}

void check_box(const Layout& layout, const std::string& name, Vec3 lo, Vec3 hi) {
  const Box found = box(layout, name);
  INFO(name << ": " << found.lo.x << " " << found.lo.y << " " << found.lo.z << " to " << found.hi.x
            << " " << found.hi.y << " " << found.hi.z);
  for (int axis = 0; axis < 3; ++axis) {
    CHECK(found.lo[axis] == Approx(lo[axis]).margin(1e-9));
    CHECK(found.hi[axis] == Approx(hi[axis]).margin(1e-9));
  }
}

std::set<std::string> ids(const Layout& layout) {
  std::set<std::string> all;
  for (const Part& each : layout.parts) all.insert(each.id);
  return all;
}

std::size_t count(const Layout& layout, PartKind kind) {
  return static_cast<std::size_t>(std::ranges::count(layout.parts, kind, &Part::kind));
}

const Finding& only(const Built<std::optional<Layout>>& built, const std::string& code) {
  const auto found = std::ranges::find(built.findings, code, &Finding::code);
  INFO(told(built.findings));
  REQUIRE(found != built.findings.end());
  CHECK(std::ranges::count(built.findings, code, &Finding::code) == 1);
  return *found;
}

double number(const Finding& finding, const std::string& argument) {
  const Argument* found = finding.argument(argument);
  INFO(argument);
  REQUIRE(found != nullptr);
  return std::get<double>(found->value);
}

bool is_host(const Part& a, const Part& b) {
  return std::ranges::count(a.hosts, b.id) > 0 || std::ranges::count(b.hosts, a.id) > 0;
}

/// How deep two convex pieces overlap, by the separating axis theorem; 0 or less: not at all.
double overlap(const ConvexPiece& a, const ConvexPiece& b) {
  std::vector<Vec3> axes = a.normals;
  axes.insert(axes.end(), b.normals.begin(), b.normals.end());
  for (const Vec3 u : a.edges) {
    for (const Vec3 v : b.edges) {
      const Vec3 axis = cross(u, v);
      if (length(axis) > 1e-6) axes.push_back(normalized(axis));
    }
  }
  double depth = 1e9;
  for (const Vec3 axis : axes) {
    const auto extent = [axis](const ConvexPiece& piece) {
      double lo = 1e9;
      double hi = -1e9;
      for (const Vec3 p : piece.vertices) {
        lo = std::min(lo, dot(p, axis));
        hi = std::max(hi, dot(p, axis));
      }
      return std::pair{lo, hi};
    };
    const auto [a_lo, a_hi] = extent(a);
    const auto [b_lo, b_hi] = extent(b);
    depth = std::min({depth, a_hi - b_lo, b_hi - a_lo});
  }
  return depth;
}

double overlap(const Pieces& a, const Pieces& b) {
  double deepest = 0.0;
  for (const ConvexPiece& p : a) {
    for (const ConvexPiece& q : b) {
      if (near(p.box, q.box, 0.0)) deepest = std::max(deepest, overlap(p, q));
    }
  }
  return deepest;
}

void check_no_overlap(const Layout& layout) {
  std::vector<Pieces> placed_pieces;
  for (const Part& each : layout.parts) {
    placed_pieces.emplace_back();
    for (const ConvexPiece& piece : pieces(*each.shape)) {
      placed_pieces.back().push_back(placed(piece, each.frame));
    }
  }
  for (std::size_t i = 0; i < layout.parts.size(); ++i) {
    for (std::size_t k = i + 1; k < layout.parts.size(); ++k) {
      if (is_host(layout.parts[i], layout.parts[k])) continue;
      const double depth = overlap(placed_pieces[i], placed_pieces[k]);
      if (depth > kContact)
        FAIL_CHECK(layout.parts[i].id << " is " << depth << " mm deep in " << layout.parts[k].id);
    }
  }
}

}  // namespace

TEST_CASE("a galley has its parts", "[layout][galley]") {
  const Layout layout = good_layout();
  // 3 uprights, 2 bottoms, 2 backs, 2 stretchers, toe board, counter = 11; 3 drawers of front, two
  // sides, inner front, back and bottom = 18; a door; a shelf.
  CHECK(count(layout, PartKind::panel) == 31);
  std::map<std::string, int> bought;
  for (const Part& each : layout.parts) {
    if (each.kind == PartKind::hardware) ++bought[each.stock.key];
  }
  CHECK(bought["slide_400"] == 3);  // a pair counts once
  CHECK(bought["hinge_110"] == 2);  // up to 900 mm
  CHECK(bought["pin_5"] == 4);
  // 3 x (4 in the carcass, 4 in the drawer) for slides; 2 x (2 in the plate, 2 in the cup) for
  // hinges.
  CHECK(bought["screw_4x12"] == 32);
  // Fronts: two rows of two each. Counter: two for each column and stretcher.
  CHECK(bought["screw_4x25"] == 3 * 4 + 8);
  // Toe board: 2 in each of 3 uprights. Bottoms: 2 from each end of the galley. Stretchers: each 2
  // from each end and 2 into the divider. Backs: each 2 into bottom and stretcher.
  CHECK(bought["screw_4x45"] == 6 + 4 + 12 + 8);
  REQUIRE(layout.motions.size() == 4);
  CHECK(layout.motions[0].id == "galley/door.second");
  CHECK(layout.motions[1].id == "galley/drawer.first_1");
}

TEST_CASE("the carcass of a galley adds up", "[layout][galley]") {
  const Layout layout = good_layout();
  // Height of the uprights: 880 - 18. Depth: from 20 + 18 + 2 to 500.
  check_box(layout, "side.left", {1000, 40, 0}, {1015, 500, 862});
  check_box(layout, "divider.first", {1435, 40, 0}, {1450, 500, 862});  // 15 + 420 from the left
  check_box(layout, "side.right", {1915, 40, 0}, {1930, 500, 862});
  // A third of 15 mm deep in both uprights, up to the back panel at 500 - 6.
  check_box(layout, "bottom.first", {1010, 40, 80}, {1440, 494, 95});
  check_box(layout, "bottom.second", {1445, 40, 80}, {1920, 494, 95});
  check_box(layout, "back.second", {1445, 494, 80}, {1920, 500, 862});
  check_box(layout, "stretcher.first.front", {1015, 70, 847}, {1915, 150, 862});
  check_box(layout, "stretcher.first.rear", {1015, 414, 847}, {1915, 494, 862});
  check_box(layout, "toe", {1000, 90, 0}, {1930, 105, 80});
  check_box(layout, "counter", {1000, 0, 862}, {1930, 500, 880});
}

TEST_CASE("uprights are cut for what they hold", "[layout][galley]") {
  const Layout layout = good_layout();
  // Blank 862 x 460 x 15 less toe space 80 x (50 + 15) x 15, dado 15 x 460 x 5 and rebate 6 x 862 x
  // 5, which share 15 x 6 x 5.
  const double toe = 80.0 * 65 * 15;
  const double house = 15.0 * 460 * 5 + 6.0 * 862 * 5 - 15.0 * 6 * 5;
  CHECK(volume(*part(layout, "side.left").shape) == Approx(862.0 * 460 * 15 - toe - house));
  // The divider houses both columns and lets both stretchers through, 80 x 15 each; behind the rear one
  // no horn of 6 is left, which would be 15 - 2 x 5 thick between the rebates.
  CHECK(volume(*part(layout, "divider.first").shape) ==
        Approx(862.0 * 460 * 15 - toe - 2 * house - 2 * 80.0 * 15 * 15 - 6.0 * 15 * 5));
}

TEST_CASE("fronts overlay the carcass and share what is left between gaps", "[layout][galley]") {
  const Layout layout = good_layout();
  // From 80 up to 862 - 3; less two gaps of 3 mm, 773 mm in four shares of 193.25.
  const double share = (862.0 - 3 - 80 - 2 * 3) / 4;
  // Left end: a whole gap from the side's outer face; right: half a gap from the divider's middle
  // at 1442.5.
  check_box(layout, "drawer.first_1.front", {1003, 20, 859 - share}, {1441, 38, 859});
  check_box(layout, "drawer.first_2.front", {1003, 20, 856 - 2 * share}, {1441, 38, 856 - share});
  check_box(layout, "drawer.first_3.front", {1003, 20, 80}, {1441, 38, 80 + 2 * share});
  check_box(layout, "door.second.leaf", {1444, 20, 80}, {1927, 38, 859});
}

TEST_CASE("a drawer box leaves room for one slide on each side", "[layout][galley]") {
  const Layout layout =
      good_layout({"module.galley.columns.first.drawers=[\"150 mm\", \"1 share\"]"});
  // Opening 420 less 2 x 12.5; length that of the slides; below the stretchers and above the
  // front's lower edge by 10 mm of air.
  check_box(layout, "drawer.first_1.side.left", {1027.5, 38, 719}, {1039.5, 438, 837});
  check_box(layout, "drawer.first_1.side.right", {1410.5, 38, 719}, {1422.5, 438, 837});
  // A third of 12 mm deep in the sides.
  check_box(layout, "drawer.first_1.inner_front", {1035.5, 38, 719}, {1414.5, 50, 837});
  check_box(layout, "drawer.first_1.back", {1035.5, 426, 719}, {1414.5, 438, 837});
  // From groove floor to groove floor 379 x 384, less 1 of play.
  check_box(layout, "drawer.first_1.bottom", {1036, 46.5, 729}, {1414, 429.5, 735});
  // The lowest drawer stays 10 mm above the bottom board, whose face is at 95.
  CHECK(box(layout, "drawer.first_2.side.left").lo.z == Approx(105));
  // Both sides are one piece, made twice.
  CHECK(key(*part(layout, "drawer.first_1.side.left").shape) ==
        key(*part(layout, "drawer.first_1.side.right").shape));
  // The slides fill the 12.5 mm between box and carcass, with play between their halves.
  CHECK(box(layout, "drawer.first_1.slide.left.fixed").lo.x == Approx(1015));
  CHECK(box(layout, "drawer.first_1.slide.left.moving").hi.x == Approx(1027.5));
  CHECK(box(layout, "drawer.first_1.slide.right.moving").lo.x == Approx(1422.5));
  CHECK(box(layout, "drawer.first_1.slide.right.fixed").hi.x == Approx(1435));
}

TEST_CASE("no two parts of a galley overlap", "[layout][galley]") {
  const auto overrides = GENERATE(values<std::vector<std::string>>(
      {{},
       {"module.galley.columns.first.before=62mm"},
       {"module.galley.columns.second.before=40mm", "module.galley.columns.second.after=30mm"},
       {"module.galley.columns.second.door=left"},
       {"module.galley.toe_height=30mm", "module.galley.pull_width=0mm"},
       {"module.galley.toe_height=0mm", "module.galley.pull_width=0mm"},
       // Slides on both faces of a divider, and hinges opposite slides.
       {"module.galley.width=1500mm", "module.galley.columns.third.when=true",
        "module.galley.columns.third.drawers=[\"1 share\", \"1 share\"]",
        "module.galley.columns.fourth.when=true",
        "module.galley.columns.fourth.drawers=[\"1 share\", \"1 share\"]"},
       // Hinges and shelf pins on both faces of a divider.
       {"module.galley.width=1300mm", "module.galley.columns.third.when=true",
        "module.galley.columns.third.door=left", "module.galley.columns.third.shelves=300mm"},
       {"module.galley.height=1100mm", "module.galley.columns.third.when=true",
        "module.galley.columns.third.width=180 mm",
        "module.galley.columns.third.open=true", "module.galley.columns.first.width=1 share"}}));
  CAPTURE(overrides);
  check_no_overlap(good_layout(overrides));
}

TEST_CASE("names of a galley's parts do not depend on sizes", "[layout][galley]") {
  const std::set<std::string> before = ids(good_layout());
  CHECK(ids(good_layout(
            {"module.galley.width=1100mm", "module.galley.height=850mm",
             "module.galley.columns.first.width=380 mm",
             "module.galley.columns.first.drawers=[\"160 mm\", \"1 share\", \"330 mm\"]"})) ==
        before);
  // A spacer adds its filler and cleat, with three screws each, and takes nothing away.
  std::set<std::string> with_spacer = ids(good_layout({"module.galley.columns.first.before=62mm"}));
  CHECK(std::ranges::includes(with_spacer, before));
  CHECK(with_spacer.size() == before.size() + 8);
  CHECK(with_spacer.contains("galley/filler.before.first"));
}

TEST_CASE("a spacer moves its column and is closed by a filler", "[layout][galley]") {
  SECTION("before the first column") {
    const Layout layout = good_layout({"module.galley.columns.first.before=62mm"});
    check_box(layout, "side.left", {1062, 40, 0}, {1077, 500, 862});
    // To half a gap before the middle of the side, at 1069.5.
    check_box(layout, "filler.before.first", {1000, 20, 80}, {1068, 38, 859});
    CHECK(box(layout, "drawer.first_1.front").lo.x == Approx(1071));
    check_box(layout, "cleat.before.first", {1047, 38, 95}, {1062, 98, 847});
    CHECK(layout.motions[1].gives_way == "galley.columns.first.before");
  }
  SECTION("after the last column") {
    const Layout layout = good_layout({"module.galley.columns.second.after=50mm"});
    check_box(layout, "side.right", {1865, 40, 0}, {1880, 500, 862});
    check_box(layout, "filler.after.second", {1874, 20, 80}, {1930, 38, 859});
    check_box(layout, "cleat.after.second", {1880, 38, 95}, {1895, 98, 847});
    CHECK(layout.motions[0].gives_way == "galley.columns.second.after");
  }
  SECTION("between columns each has its own side") {
    const Layout layout = good_layout({"module.galley.columns.second.before=40mm"});
    check_box(layout, "divider.first", {1435, 40, 0}, {1450, 500, 862});
    check_box(layout, "side.second", {1490, 40, 0}, {1505, 500, 862});
    check_box(layout, "filler.before.second", {1444, 20, 80}, {1496, 38, 859});
    check_box(layout, "stretcher.second.rear", {1505, 414, 847}, {1915, 494, 862});
  }
}

TEST_CASE("drawers come straight out, with all that rides along", "[layout][galley]") {
  const Layout layout = good_layout();
  const Motion& motion = layout.motions[1];
  CHECK(motion.kind == MotionKind::translation);
  CHECK(motion.axis == Vec3{0, -1, 0});
  CHECK(motion.travel == 380.0);
  CHECK(motion.required == 380.0);
  // Front and box of 6 pieces, 4 front screws, two moving halves of slides with 2 screws each.
  CHECK(motion.parts.size() == 6 + 4 + 2 + 4);
  for (const std::string& id : motion.parts) {
    INFO(id);
    CHECK(layout.find(id) != nullptr);
  }
}

TEST_CASE("a door turns outward about its hinges", "[layout][galley]") {
  const bool right = GENERATE(true, false);
  const Layout layout =
      right ? good_layout() : good_layout({"module.galley.columns.second.door=left"});
  const Motion& door = layout.motions[0];
  CHECK(door.kind == MotionKind::rotation);
  CHECK(door.travel == Approx(110 * std::numbers::pi / 180));
  CHECK(door.required == Approx(std::numbers::pi / 2));
  // 2 mm inside the door's hinge edge, 1 mm before its face at y 20.
  CHECK(door.origin.x == Approx(right ? 1925 : 1446));
  CHECK(door.origin.y == Approx(19));
  // A small turn must bring the free edge forward, towards -y.
  const Vec3 arm{right ? -480.0 : 480.0, 0, 0};
  CHECK(cross(door.axis, arm).y == Approx(-480));
  CHECK((box(layout, "door.second.hinge_1.plate").centre().x > 1680) == right);
}

TEST_CASE("doors above 900 mm get a third hinge", "[layout][galley]") {
  struct Row {
    const char* height;
    std::size_t hinges;
  };
  // The door is 101 mm lower than the galley: 80 toe space, 18 counter, 3 gap.
  const auto row = GENERATE(values<Row>({{"1001mm", 2}, {"1002mm", 3}}));
  const Layout layout = good_layout({std::string("module.galley.height=") + row.height});
  std::size_t hinges = 0;
  for (const Part& each : layout.parts) hinges += each.stock.key == "hinge_110" ? 1 : 0;
  CHECK(hinges == row.hinges);
}

TEST_CASE("screws end inside the boards they hold", "[layout][galley]") {
  const Layout layout = good_layout({"module.galley.columns.first.before=62mm"});
  for (const Part& screw : layout.parts) {
    if (screw.stock.key.find("screw") != 0) continue;
    Box hosts;
    for (const std::string& id : screw.hosts) hosts.add(bounds(*layout.find(id)));
    const Box body = bounds(screw);
    INFO(screw.id);
    for (int axis = 0; axis < 3; ++axis) {
      // The heads of slide screws lie on their halves, those of hinge screws stand 2.5 mm out.
      CHECK(body.lo[axis] >= hosts.lo[axis] - 2.5 - kSame);
      CHECK(body.hi[axis] <= hosts.hi[axis] + 2.5 + kSame);
    }
  }
}

TEST_CASE("a drawer with no room is reported with the sizes on every axis", "[layout][galley]") {
  const auto built = lay_out_test({"module.galley.columns.first.width=60 mm",
                                   "module.galley.columns.first.drawers=[\"70 mm\", \"1 share\"]",
                                   "module.galley.pull_width=20mm"});
  const auto found = std::ranges::find(built.findings, "galley.no_room", &Finding::code);
  INFO(told(built.findings));
  REQUIRE(found != built.findings.end());
  CHECK(found->severity == Severity::error);
  CHECK(found->subjects.front() == "galley.columns.first.drawers");
  REQUIRE(found->place);
  // Inside: 60 - 2 x 12.5 - 2 x 12 wide; 400 - 2 x 12 long; from 789 + 10 + 10 + 6 up to 859 - 22
  // - 15.
  CHECK(number(*found, "width") == Approx(11));
  CHECK(number(*found, "length") == Approx(376));
  CHECK(number(*found, "height") == Approx(7));
  CHECK(advice_text(*found, LengthStyle::millimetres).find("69 mm") != std::string::npos);

  SECTION("and what it advises is enough, and not more than enough") {
    const double front = number(*found, "front_needed");
    const double opening = number(*found, "opening_needed");
    for (const double less : {0.0, 0.01}) {
      const auto again = lay_out_test(
          {"module.galley.columns.first.width=" + std::to_string(opening - less),
           "module.galley.columns.first.drawers=[" + std::to_string(front) + ", \"1 share\"]",
           "module.galley.pull_width=20mm"});
      INFO(told(again.findings));
      CHECK((std::ranges::count(again.findings, "galley.no_room", &Finding::code) == 0) ==
            (less == 0.0));
    }
  }
}

TEST_CASE("what cannot be made is told with both numbers", "[layout][galley]") {
  struct Row {
    const char* name;
    std::vector<std::string> overrides;
    const char* code;
    double measured;
    double required;
  };
  const auto row = GENERATE(values<Row>({
      // 930 less 3 boards of 15.
      {"columns too wide",
       {"module.galley.columns.first.width=900 mm"},
       "carcass.widths_do_not_fit",
       900,
       885},
      {"columns too narrow",
       {"module.galley.columns.second.width=400 mm"},
       "carcass.widths_do_not_fit",
       820,
       885},
      // 862 - 3 - 80 less one gap.
      {"fronts too high",
       {"module.galley.columns.first.drawers=[\"400 mm\", \"400 mm\"]"},
       "galley.fronts_do_not_fit",
       800,
       776},
      // From 40 to 400 - 6.
      {"slide too long", {"module.galley.depth=400mm"}, "galley.slide_too_long", 400, 354},
      {"spacer too narrow",
       {"module.galley.columns.first.before=10mm"},
       "galley.spacer_too_narrow",
       10,
       16},
      // The inner corner of the door turns on hypot(2, 18 + 1) = 19.105 about the axis, 19 in front
      // of it.
      {"door binds", {"module.galley.buffer=0.1mm"}, "carcass.door_binds", 0.1, 0.11},
      // Under the stretchers at 847, above the bottom at 95, 15 thick.
      {"shelf too high",
       {"module.galley.columns.second.shelves=[\"740 mm\"]"},
       "galley.shelf_no_room",
       740,
       737},
      // 12 mm side and 1.5 mm steel of the slide: 16 mm would come out, 12 + 1.5 - 1 would not.
      {"slide screw too long",
       {"module.galley.slide_screw=screw_4x25"},
       "joinery.screw_too_long",
       25,
       12.5},
      // Counter screws hold 12 - 12.5 + ... : of 12 mm with a sunk head of 2.5, nothing passes the
      // 15 mm stretcher.
      {"counter screw too short",
       {"module.galley.panel_screw=screw_4x12"},
       "joinery.screw_too_short",
       0,
       6},
      {"toe board too low", {"module.galley.toe_height=5mm"}, "carcass.too_small", 5, 20},
      {"galley too shallow", {"module.galley.depth=220mm"}, "carcass.too_small", 220, 237},
  }));
  CAPTURE(row.name);
  const auto built = lay_out_test(row.overrides);
  INFO(told(built.findings));
  const Finding& finding = only(built, row.code);
  CHECK(number(finding, "measured") == Approx(row.measured));
  CHECK(number(finding, "required") == Approx(row.required));
  CHECK(finding.severity == Severity::error);
  CHECK(finding.place);
  CHECK(message_text(finding, LengthStyle::millimetres).find('?') == std::string::npos);
  CHECK_FALSE(advice_text(finding, LengthStyle::millimetres).empty());
}

TEST_CASE("a column needs exactly one front, and the items that its front uses",
          "[layout][galley]") {
  struct Row {
    std::vector<std::string> overrides;
    const char* code;
  };
  const auto row = GENERATE(values<Row>({
      {{"module.galley.columns.first.door=left"}, "galley.column_front"},
      {{"module.galley.columns.third.when=true"}, "galley.column_front"},
      {{"module.galley.columns.first.shelves=[\"100 mm\"]"}, "galley.shelves_behind_drawers"},
      {{"module.galley.columns.second.shelves=[\"650 mm\"]"}, "galley.shelf_at_hinge"},
      {{"module.galley.pull_width=400mm"}, "galley.pull_too_large"},
      {{"module.galley.front_sheet=ply_12"}, "carcass.cup_too_deep"},
  }));
  const auto built = lay_out_test(row.overrides);
  INFO(told(built.findings));
  const auto found = std::ranges::find(built.findings, row.code, &Finding::code);
  REQUIRE(found != built.findings.end());
  CHECK(message_text(*found, LengthStyle::millimetres).find('?') == std::string::npos);
  CHECK_FALSE(advice_text(*found, LengthStyle::millimetres).empty());
}

TEST_CASE("edge bands of a galley are part of its sizes, and are sawn off first",
          "[layout][galley]") {
  const std::string band = R"(
[finish.band]
title = "Edge band 2 mm"
kind = "edge_band"
thickness = 2
width = 23
area_mass = "1 kg/m2"
colour = "#e8e8e4"
assumption = true
)";
  const ReadFile read = [&](const std::string& path) -> Result<std::string> {
    if (path.ends_with("van.toml")) return std::string(kVan);
    if (path.ends_with("stock.toml")) return std::string(kStock) + band;
    return std::string(kProject);
  };
  const auto inputs = read_inputs("project.toml", {"module.galley.edge_band=band"}, read);
  INFO(told(inputs.findings));
  REQUIRE(inputs.value);
  auto built = lay_out(*inputs.value);
  INFO(told(built.findings));
  REQUIRE(built.findings.empty());
  const Layout banded = std::move(*built.value);
  const Layout plain = good_layout();
  REQUIRE(banded.parts.size() == plain.parts.size());
  for (std::size_t i = 0; i < plain.parts.size(); ++i) {
    CAPTURE(plain.parts[i].id);
    const Box a = bounds(plain.parts[i]);
    const Box b = bounds(banded.parts[i]);
    for (int axis = 0; axis < 3; ++axis) {
      CHECK(a.lo[axis] == Approx(b.lo[axis]).margin(1e-9));
      CHECK(a.hi[axis] == Approx(b.hi[axis]).margin(1e-9));
    }
  }
  // All four edges of a front, the front edge of a shelf and of a side, nothing on a drawer's side.
  const auto less = [&](const std::string& name) {
    const Stock& a = part(plain, name).stock;
    const Stock& b = part(banded, name).stock;
    return std::pair{a.length - b.length, a.width - b.width};
  };
  CHECK(less("door.second.leaf").first == Approx(4));
  CHECK(less("door.second.leaf").second == Approx(4));
  CHECK(less("drawer.first_1.front").second == Approx(4));
  CHECK(less("shelf.second_1").first == Approx(0).margin(1e-9));
  CHECK(less("shelf.second_1").second == Approx(2));
  CHECK(less("side.left").second == Approx(2));
  CHECK(less("drawer.first_1.side.left").second == Approx(0).margin(1e-9));
}
