#include "kind_samples.hpp"
#include "small_project.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

/// A custom module of 600 x 400 x 500 at the rear; its left front corner is at (0, 300, 0), its
/// right is the van's -y, its back the van's +x.
std::string custom(const std::string& more) {
  return R"(
[module.thing]
kind = "custom"
faces = "rear"
width = "600 mm"
depth = "400 mm"
height = "500 mm"
place = { rear = "0 mm", middle = "0 mm", on = "floor" }
)" + more;
}

Built<std::optional<Layout>> built_of(const std::string& more) {
  return lay_out_text(custom(more));
}

Layout good(const std::string& more) {
  auto built = built_of(more);
  INFO(words(built.findings));
  REQUIRE(built.value);
  REQUIRE(built.findings.empty());
  return *built.value;
}

const Part& part(const Layout& layout, const std::string& name) {
  const Part* found = layout.find("thing/" + name);
  REQUIRE(found != nullptr);
  return *found;
}

Vec3 in_module(Vec3 van) {
  return {300 - van.y, van.x, van.z};
}
Vec3 way_in_module(Vec3 van) {
  return {-van.y, van.x, van.z};
}

Box box_of(const Layout& layout, const std::string& name) {
  Box box;
  box.add(in_module(bounds(part(layout, name)).lo));
  box.add(in_module(bounds(part(layout, name)).hi));
  return box;
}

bool same(Vec3 a, Vec3 b) {
  return length(a - b) < 1e-6;
}

bool is_box(const Box& box, Vec3 lo, Vec3 hi) {
  return same(box.lo, lo) && same(box.hi, hi);
}

}  // namespace

TEST_CASE("a member needs a profile and two ends, or one end, a way and a length",
          "[layout][custom]") {
  const Layout layout = good(R"(
[module.thing.members]
post = { profile = "slotted_40_80", from = [100, 100, 0], to = [100, 100, "self.height"] }
rail = { profile = "slotted_40_80", from = ["self.width - 200 mm", 300, 60], along = "left", length = 200 }
flat = { profile = "slotted_40_80", from = [300, 100, 40], along = "back", length = 200, across = "up" }
brace = { profile = "slotted_40", from = [400, 60, 50], to = [400, 360, 450], turned = "45 deg" }
)");
  // 40 wide and 80 high: upright, its width points to the right.
  CHECK(is_box(box_of(layout, "post"), {80, 60, 0}, {120, 140, 500}));
  // To the left: its width points to the back, so it stands on edge upright.
  CHECK(is_box(box_of(layout, "rail"), {200, 280, 20}, {400, 320, 100}));
  // To the back with its width up: it lies flat.
  CHECK(is_box(box_of(layout, "flat"), {260, 100, 20}, {340, 300, 60}));
  // 300 to the back and 400 up: 500 long; turned by 45 degrees it is 40 times root 2 wide,
  CHECK(part(layout, "brace").stock.length == Approx(500));
  const Box brace = box_of(layout, "brace");
  // less what its corners of 1.5 mm draw back.
  CHECK(brace.size().x == Approx(40 * std::sqrt(2.0) - 2 * 1.5 * (std::sqrt(2.0) - 1)));
  const Vec3 along = way_in_module(part(layout, "brace").frame.z);
  CHECK(same(along, {0, 0.6, 0.8}));
}

TEST_CASE("holes and threads of a member are where the file says", "[layout][custom]") {
  const Layout layout = good(R"(
[module.thing.members.rail]
profile = "slotted_40"
from = [100, 100, 100]
along = "right"
length = "300 mm"
taps = "both ends"
tap_depth = 30
holes.through = { at = 50, side = "front", diameter = 9 }
holes.blind = { at = 200, side = "up", off_middle = 5, diameter = 6, depth = 12, use = "pilot" }
)");
  const Part& rail = part(layout, "rail");
  const auto& bores = rail.shape->prisms.front().prism.bores;
  REQUIRE(bores.size() == 4);
  const auto has = [&](Vec3 at, Vec3 way, double diameter, double depth, bool through,
                       const std::string& thread) {
    return std::ranges::any_of(bores, [&](const Bore& b) {
      return same(in_module(rail.frame.point(b.at)), at) &&
             same(way_in_module(rail.frame.direction(b.direction)), way) &&
             b.diameter == diameter && b.depth == depth && b.through == through &&
             b.thread == thread;
    });
  };
  CHECK(has({150, 80, 100}, {0, 1, 0}, 9, 40, true, ""));
  // Beside the middle: to the back.
  CHECK(has({300, 105, 120}, {0, 0, -1}, 6, 12, false, ""));
  CHECK(has({100, 100, 100}, {1, 0, 0}, 6.8, 30, false, "M8"));
  CHECK(has({400, 100, 100}, {-1, 0, 0}, 6.8, 30, false, "M8"));
}

TEST_CASE("a panel is told by its lower left front corner and two sizes", "[layout][custom]") {
  const Layout layout = good(R"(
[module.thing.panels]
top = { sheet = "birch_12", at = [100, 50, 300], size = [400, 200] }
front = { sheet = "birch_12", at = [100, 50, 0], size = [200, 290], faces = "front" }
side = { sheet = "birch_12", at = [0, 50, 0], size = [300, 200], faces = "left", grain = "up" }
)");
  CHECK(is_box(box_of(layout, "top"), {100, 50, 300}, {500, 250, 312}));
  CHECK(is_box(box_of(layout, "front"), {100, 50, 0}, {300, 62, 290}));
  CHECK(is_box(box_of(layout, "side"), {0, 50, 0}, {12, 350, 200}));
  // Grain along the longer side unless it is told; its face looks as told.
  CHECK(part(layout, "top").stock.length == Approx(400));
  CHECK(part(layout, "front").stock.length == Approx(290));
  CHECK(part(layout, "side").stock.length == Approx(200));
  CHECK(same(way_in_module(part(layout, "front").frame.z), {0, -1, 0}));
  CHECK(same(way_in_module(part(layout, "side").frame.z), {-1, 0, 0}));
  CHECK(same(way_in_module(part(layout, "side").frame.x), {0, 0, 1}));
}

TEST_CASE("outline, openings, grooves and holes keep their places whichever way a panel looks",
          "[layout][custom]") {
  const std::string faces = GENERATE("up", "down", "front", "back", "left", "right");
  const std::string grain = GENERATE("", "first", "second");
  CAPTURE(faces, grain);
  const int normal = faces == "up" || faces == "down"      ? 2
                     : faces == "front" || faces == "back" ? 1
                                                           : 0;
  const int u = normal == 0 ? 1 : 0;
  const int v = normal == 2 ? 1 : 2;
  const char* words[] = {"right", "back", "up"};
  std::string text =
      "[module.thing.panels.p]\nsheet = \"birch_12\"\nat = [50, 40, 30]\nfaces = \"" + faces +
      "\"\n";
  if (!grain.empty()) {
    text.append("grain = \"").append(words[grain == "first" ? u : v]).append("\"\n");
  }
  text +=
      R"(outline = [{ at = [0, 0] }, { at = [300, 0], radius = 20 }, { at = [300, 100] }, { at = [100, 250] }, { at = [0, 250] }]
cut_outs.window = { at = [20, 30], size = [60, 40], radius = 4 }
dados.shelf = { at = [100, 20], size = [12, 60], depth = 5, side = "back" }
holes.pin = { at = [200, 50], diameter = 5, depth = 8 }
)";
  const Layout layout = good(text);
  const Part& p = part(layout, "p");
  const Prism& prism = p.shape->prisms.front().prism;
  // 300 x 100, the triangle 200 x 150 and 100 x 150 above it, less a corner of 20.
  const double corner = 20 * 20 * (1 - 3.14159265358979 / 4);
  CHECK(area(prism.section) == Approx(300 * 100 + 100 * 150 + 200 * 150 / 2.0 - corner));
  const auto at = [&](Vec2 c, double height) {
    Vec3 result{50, 40, 30};
    result[u] += c.x;
    result[v] += c.y;
    result[normal] += height;
    return result;
  };
  const bool forward = faces == "up" || faces == "back" || faces == "right";
  const auto box_of_cut = [&](CutRole role) {
    Box box;
    for (const Cut& cut : prism.cuts) {
      if (cut.role != role) continue;
      for (const Corner& c : cut.outline) {
        box.add(in_module(p.frame.point({c.at.x, c.at.y, cut.from})));
        box.add(in_module(p.frame.point({c.at.x, c.at.y, cut.to})));
      }
    }
    return box;
  };
  CHECK(is_box(box_of_cut(CutRole::cut_out), at({20, 30}, 0), at({80, 70}, 12)));
  // From the back: 5 mm of it lie where the face does not look.
  CHECK(is_box(box_of_cut(CutRole::dado), at({100, 20}, forward ? 0 : 7),
               at({112, 80}, forward ? 5 : 12)));
  REQUIRE(prism.bores.size() == 1);
  CHECK(same(in_module(p.frame.point(prism.bores[0].at)), at({200, 50}, forward ? 12 : 0)));
  CHECK(way_in_module(p.frame.direction(prism.bores[0].direction))[normal] ==
        Approx(forward ? -1 : 1));
  CHECK(prism.bores[0].depth == 8);
}

TEST_CASE("an outline may be walked either way round", "[layout][custom]") {
  const char* one =
      "[module.thing.panels.p]\nsheet = \"birch_12\"\nat = [0, 0, 0]\n"
      "outline = [{ at = [0, 0] }, { at = [300, 0] }, { at = [0, 200] }]\n";
  const char* other =
      "[module.thing.panels.p]\nsheet = \"birch_12\"\nat = [0, 0, 0]\n"
      "outline = [{ at = [0, 200] }, { at = [300, 0] }, { at = [0, 0] }]\n";
  CHECK(key(*part(good(one), "p").shape) == key(*part(good(other), "p").shape));
}

TEST_CASE("what is repeated is made at its pitch and joined wherever it touches",
          "[layout][custom]") {
  const Layout layout = good(R"(
[module.thing.members]
beam = { profile = "maple_50_25", from = [50, 25, 12.5], along = "right", length = 500, repeat = { count = 2, pitch = [0, 300, 0] } }
[module.thing.panels.slat]
sheet = "birch_9"
at = [60, 0, 25]
size = [60, 350]
repeat = { count = 5, pitch = [100, 0, 0] }
[module.thing.joints.slats]
kind = "screw"
parts = ["slat", "beam"]
screw = "wood_3_5x16"
)");
  for (int i = 1; i <= 5; ++i) {
    const double x = 60 + 100.0 * (i - 1);
    CHECK(is_box(box_of(layout, "slat_" + std::to_string(i)), {x, 0, 25}, {x + 60, 350, 34.2}));
  }
  CHECK(is_box(box_of(layout, "beam_2"), {50, 300, 0}, {550, 350, 25}));
  // Each of five slats lies on both beams, and each meeting of 60 x 50 has two screws.
  CHECK(layout.joints.size() == 10);
  for (const Joint& joint : layout.joints) CHECK(joint.hardware.size() == 2);
  CHECK(layout.find("thing/slat") == nullptr);
  CHECK(part(layout, "slat_3").title == "Slat");
}

TEST_CASE("one copy that does not touch is told by its own name", "[layout][custom]") {
  const auto built = built_of(R"(
[module.thing.members]
beam = { profile = "maple_50_25", from = [50, 25, 12.5], along = "right", length = 300 }
[module.thing.panels.slat]
sheet = "birch_9"
at = [60, 0, 25]
size = [60, 300]
repeat = { count = 4, pitch = [100, 0, 0] }
[module.thing.joints.slats]
kind = "screw"
parts = ["slat", "beam"]
screw = "wood_3_5x16"
)");
  INFO(words(built.findings));
  REQUIRE(built.findings.size() == 1);
  CHECK(built.findings[0].code == "joint.apart");
  CHECK(built.findings[0].subjects[1] == "thing/slat_4");
}

TEST_CASE("a fault that all copies share is told once, where the joint is", "[layout][custom]") {
  std::string text = kLopsidedCustom;
  const std::string bolt = "bolt = \"m8_25\", nut = \"slot_nut_8_m8\", spacing";
  text.replace(text.find(bolt), bolt.size(), "bolt = \"m8_30\", nut = \"slot_nut_8_m8\", spacing");
  const auto built = lay_out_text(text);
  INFO(words(built.findings));
  REQUIRE(built.findings.size() == 1);  // of three bolts
  CHECK(built.findings[0].code == "layout.bolt_too_long");
  REQUIRE(built.findings[0].place);
  CHECK_THAT(built.findings[0].place->text, Catch::Contains("panel on face"));
}

TEST_CASE("bent sheet hangs flat on flat", "[layout][custom]") {
  const Layout layout = good(R"(
[module.thing.bent.cradle]
sheet = "aluminium_2"
at = [100, 50, 100]
[module.thing.bent.cradle.flats]
floor = { size = [200, 150] }
back = { on = "floor", side = "upper", reach = 60 }
lip = { on = "back", side = "upper", reach = 20 }
)");
  const Part& cradle = part(layout, "cradle");
  CHECK(cradle.kind == PartKind::folded);
  REQUIRE(cradle.flat);
  CHECK(cradle.flat->bends.size() == 2);
  const Sheet& sheet = layout.catalogue->sheets.at("aluminium_2");
  const double bend = std::acos(0.0) * (sheet.bend_radius + sheet.k_factor * sheet.thickness);
  CHECK(cradle.stock.width == Approx(std::max(200.0, 150 + 60 + 20 + 2 * bend)).epsilon(1e-9));
  // Bent up behind the floor: 150 and a bend of radius and thickness; up by that and 60; the lip
  // comes back over the floor.
  const Box box = box_of(layout, "cradle");
  const double r = sheet.bend_radius + sheet.thickness;
  CHECK(box.lo.y == Approx(50));
  CHECK(box.hi.y == Approx(50 + 150 + r));
  CHECK(box.hi.z == Approx(100 + 2 * r + 60));
}

TEST_CASE("fittings bore what carries them", "[layout][custom]") {
  const Layout layout = good(R"(
[module.thing.panels.top]
sheet = "birch_18"
at = [0, 0, 400]
size = [600, 400]
[module.thing.fittings.drain]
item = "drain_40"
on = "top"
at = [300, 200, 417.7]
[module.thing.fittings.leg]
item = "table_leg_folding"
on = "top"
at = [100, 200, 400]
stands_out = "down"
screw = "wood_4x20"
)");
  const Part& top = part(layout, "top");
  int openings = 0;
  int pilots = 0;
  for (const Bore& bore : top.shape->prisms.front().prism.bores) {
    openings += bore.role == BoreRole::access ? 1 : 0;
    pilots += bore.role == BoreRole::pilot ? 1 : 0;
    if (bore.role == BoreRole::access) {
      CHECK(bore.diameter == layout.catalogue->fittings.at("drain_40").cut_out);
      CHECK(same(in_module(top.frame.point(bore.at)), {300, 200, 417.7}));
    }
  }
  CHECK(openings == 1);
  CHECK(pilots == 4);
  // 690 long, below the top.
  CHECK(box_of(layout, "leg").lo.z == Approx(400 - 24));  // its bracket
  CHECK(box_of(layout, "leg.folding").lo.z == Approx(400 - 690));
  CHECK(box_of(layout, "leg").hi.z == Approx(400));
}

TEST_CASE("motions, zones and supports stand in the van", "[layout][custom]") {
  const Layout layout = good(R"(
[module.thing.panels]
leaf = { sheet = "birch_12", at = [0, 0, 300], size = [300, 400] }
arm = { sheet = "birch_12", at = [0, 0, 200], size = [30, 300], repeat = { count = 2, pitch = [200, 0, 0] } }
[module.thing.motions]
open = { moves = ["leaf"], axis = "front", turns = "90 deg", about = [0, 200, 300], must_turn = "80 deg" }
pull = { moves = ["arm"], axis = "front", slides = 250, title = "Arms" }
[module.thing.zones.lap]
at = [300, 0, 320]
size = [300, 400, 180]
kind = "head room"
allowed = ["arm", "self"]
[module.thing.supports.left_foot]
part = "leaf"
at = [0, 10, 0]
load = "25 kg"
[module.thing.supports.on_arms]
part = "arm"
at = [15, 10, 0]
load = "5 kg"
[module.thing.supports.on_second]
part = "arm_2"
at = [215, 20, 0]
load = "5 kg"
)");
  REQUIRE(layout.motions.size() == 2);
  const Motion& open = layout.motions[0];
  CHECK(open.id == "thing/motion.open");
  CHECK(open.kind == MotionKind::rotation);
  CHECK(open.travel == Approx(std::acos(0.0)));
  CHECK(open.required == Approx(80 * std::acos(0.0) / 90));
  CHECK(same(open.origin, {200, 300, 300}));
  CHECK(same(open.axis, {-1, 0, 0}));  // to the front of what faces the rear
  const Motion& pull = layout.motions[1];
  CHECK(pull.title == "Arms");
  CHECK(pull.parts == std::vector<std::string>{"thing/arm_1", "thing/arm_2"});
  CHECK(pull.travel == 250);
  CHECK(pull.required == 250);
  REQUIRE(layout.zones.size() == 1);
  CHECK(layout.zones[0].kind == ZoneKind::head_room);
  CHECK(layout.zones[0].allowed == std::vector<std::string>{"thing/arm_1", "thing/arm_2", "thing"});
  const Box zone = bounds(layout.zones[0].shape, layout.zones[0].frame);
  CHECK(same(zone.lo, {0, -300, 320}));
  CHECK(same(zone.hi, {400, 0, 500}));
  REQUIRE(layout.supports.size() == 4);
  CHECK(same(layout.supports[0].at, {10, 300, 0}));
  CHECK(layout.supports[0].load_kg == 25);
  // One for each arm, 200 to the right of the other; of one arm alone it is where it is told.
  CHECK(same(layout.supports[1].at, {10, 285, 0}));
  CHECK(same(layout.supports[2].at, {10, 85, 0}));
  CHECK(same(layout.supports[3].at, {20, 85, 0}));
}

namespace {

struct Row {
  const char* code;
  const char* text;
  const char* says;  ///< part of the message
};

const char* kBoard =
    "[module.thing.panels.p]\nsheet = \"birch_12\"\nat = [0, 0, 0]\nsize = [300, "
    "200]\n";

}  // namespace

TEST_CASE("each mistake in a custom module is told at its place", "[layout][custom]") {
  const auto row = GENERATE(values<Row>({
      {"custom.empty", "", "module thing makes no parts"},
      {"custom.member_ends",
       "members.m = { profile = \"slotted_40\", from = [0, 0, 0], along = \"up\" }",
       "thing/m does not say where it ends"},
      {"custom.member_ends",
       "members.m = { profile = \"slotted_40\", from = [0, 0, 0], to = [0, 0, 9], along = \"up\" }",
       "thing/m does not say where it ends"},
      {"custom.no_length",
       "members.m = { profile = \"slotted_40\", from = [0, 0, 9], to = [0, 0, 9] }",
       "thing/m has no length"},
      {"custom.across_along",
       "members.m = { profile = \"slotted_40\", from = [0, 0, 9], to = [0, 0, 99], across = "
       "\"up\" }",
       "thing/m runs the way"},
      {"custom.no_core_bore",
       "members.m = { profile = \"aluminium_flat_40_4\", from = [50, 50, 0], to = [50, 50, 99], "
       "taps = \"end\" }",
       "aluminium_flat_40_4 has no core bore"},
      {"custom.hole_side",
       "members.m = { profile = \"slotted_40\", from = [50, 50, 0], to = [50, 50, 99], holes.a = { "
       "at = 50, side = \"up\", diameter = 5 } }",
       "thing/m has no face that looks up"},
      {"custom.hole_outside",
       "members.m = { profile = \"slotted_40\", from = [50, 50, 0], to = [50, 50, 99], holes.a = { "
       "at = 98, side = \"front\", diameter = 5 } }",
       "thing/m: a hole"},
      {"custom.hole_too_deep",
       "members.m = { profile = \"slotted_40\", from = [50, 50, 0], to = [50, 50, 99], holes.a = { "
       "at = 50, side = \"front\", diameter = 5, depth = 41 } }",
       "thing/m: a hole is 41 mm deep, and there is 40 mm to drill"},
      {"custom.hole_too_deep", "PANELholes.a = { at = [50, 20], diameter = 5, depth = 13 }",
       "thing/p: a hole is 13 mm deep, and there is 12 mm to drill"},
      {"custom.tap_too_deep",
       "members.m = { profile = \"slotted_40\", from = [50, 50, 0], to = [50, 50, 99], taps = "
       "\"both ends\", tap_depth = 50 }",
       "thing/m: the thread would be 50 mm deep, and it has 49.5 mm"},
      {"custom.fitting_askew",
       "panels.p = { sheet = \"birch_12\", at = [0, 0, 0], size = [300, 200], tilt = { edge = "
       "\"front\", angle = \"20 deg\" } }\n[module.thing.fittings.f]\nitem = \"magnet_20\"\non = "
       "\"p\"\nat = [50, 0, 12]",
       "thing/f: thing/p has no face that looks up"},
      {"custom.same_name",
       "members.p = { profile = \"slotted_40\", from = [50, 50, 100], to = [50, 50, 199] }\nPANEL",
       "thing/p is the name"},
      {"custom.panel_size", "panels.q = { sheet = \"birch_12\", at = [0, 0, 0] }",
       "thing/q has neither or both"},
      {"custom.grain_across",
       "panels.q = { sheet = \"birch_12\", at = [0, 0, 0], size = [10, 10], grain = \"down\" }",
       "down is square to the sheet, which looks up"},
      {"shape.crosses_itself",
       "panels.q = { sheet = \"birch_12\", at = [0, 0, 0], outline = [{ at = [0, 0] }, { at = [90, "
       "90] }, { at = [90, 0] }, { at = [0, 90] }, { at = [-10, 40] }] }",
       "thing/q"},
      {"shape.radius_too_large",
       "panels.q = { sheet = \"birch_12\", at = [0, 0, 0], outline = [{ at = [0, 0] }, { at = [90, "
       "0], radius = 100 }, { at = [90, 90] }] }",
       "thing/q"},
      {"custom.cut_out_outside", "PANELcut_outs.a = { at = [280, 20], size = [40, 20] }",
       "thing/p: an opening"},
      {"custom.opening_size", "PANELcut_outs.a = { at = [80, 20] }", "thing/p: an opening"},
      {"custom.groove_too_deep", "PANELdados.a = { at = [80, 20], size = [40, 20], depth = 12 }",
       "a groove is 12 mm deep, and the sheet 12 mm thick"},
      {"custom.groove_outside", "PANELrebates.a = { at = [300, 20], size = [40, 20], depth = 2 }",
       "thing/p: a groove lies beside it"},
      {"custom.hole_outside", "PANELholes.a = { at = [298, 20], diameter = 5 }", "thing/p: a hole"},
      {"custom.outside", "PANELrepeat = { count = 2, pitch = [310, 0, 0] }",
       "thing/p_2 reaches 10 mm out of its module at the right"},
      {"custom.first_flat",
       "bent.b = { sheet = \"aluminium_2\", at = [0, 0, 0], flats.a = { reach = 10 } }",
       "its first flat, a, has no size"},
      {"custom.flat_on",
       "bent.b = { sheet = \"aluminium_2\", at = [0, 0, 0], flats.a = { size = [90, 90] }, flats.c "
       "= { on = \"x\", reach = 10 } }",
       "flat c does not say"},
      {"custom.bend_angle",
       "bent.b = { sheet = \"aluminium_2\", at = [0, 0, 0], flats.a = { size = [90, 90] }, flats.c "
       "= { on = \"a\", reach = 10, angle = 0 } }",
       "flat c is bent by nothing"},
      {"custom.bend_radius",
       "bent.b = { sheet = \"aluminium_2\", at = [0, 0, 0], flats.a = { size = [90, 90] }, flats.c "
       "= { on = \"a\", reach = 10, radius = 0.5 } }",
       "would be bent to 0.5 mm"},
      {"custom.not_foldable",
       "bent.b = { sheet = \"birch_12\", at = [0, 0, 0], flats.a = { size = [90, 90] }, flats.c = "
       "{ on = \"a\", reach = 10 } }",
       "birch_12 is no sheet for folding"},
      {"custom.unknown_part",
       "PANEL[module.thing.joints.j]\nkind = \"screw\"\nparts = [\"p\", \"pp\"]\nscrew = "
       "\"wood_4x20\"",
       "parts names 'pp', which is no part of it; there are: p"},
      {"custom.same_part",
       "PANEL[module.thing.joints.j]\nkind = \"screw\"\nparts = [\"p\", \"p\"]\nscrew = "
       "\"wood_4x20\"",
       "thing/joint.j joins p to itself"},
      {"custom.same_part",
       "panels.p = { sheet = \"birch_12\", at = [0, 0, 0], size = [50, 50], repeat = { count = 2, "
       "pitch = [50, 0, 0] } }\n[module.thing.joints.j]\nkind = \"contact\"\nparts = [\"p\", "
       "\"p_1\"]",
       "thing/joint.j joins p_1 to itself"},
      {"custom.joint_needs",
       "PANEL[module.thing.joints.j]\nkind = \"dowel\"\nparts = [\"p\", \"p\"]",
       "a joint of the kind dowel needs dowel"},
      {"custom.joint_unused",
       "PANEL[module.thing.joints.j]\nkind = \"dado\"\nparts = [\"p\", \"p\"]\nscrew = "
       "\"wood_4x20\"",
       "a joint of the kind dado has no use for screw"},
      {"custom.cannot_join",
       "PANEL[module.thing.equipment.e]\nitem = \"battery_small\"\nat = [0, 0, 20]\n"
       "[module.thing.joints.j]\nkind = \"contact\"\nparts = [\"p\", \"e\"]",
       "needs members or panels, and e is neither"},
      {"custom.cannot_carry",
       "[module.thing.equipment.e]\nitem = \"battery_small\"\nat = [0, 0, 20]\n"
       "[module.thing.fittings.f]\nitem = \"magnet_20\"\non = \"e\"\nat = [0, 0, 0]",
       ""},
      {"custom.fitting_off",
       "PANEL[module.thing.fittings.f]\nitem = \"magnet_20\"\non = \"p\"\nat = [50, 50, 20]",
       "thing/f sits 8 mm above the face of thing/p"},
      {"custom.motion_way", "PANEL[module.thing.motions.m]\nmoves = [\"p\"]",
       "thing/m says neither or both"},
      {"custom.motion_about", "PANEL[module.thing.motions.m]\nmoves = [\"p\"]\nturns = \"90 deg\"",
       "thing/m: what turns"},
      {"custom.motion_required",
       "PANEL[module.thing.motions.m]\nmoves = [\"p\"]\nslides = 100\nmust_slide = 200",
       "must_slide does not fit"},
      {"custom.motion_other",
       "PANEL[module.thing.motions.m]\nmoves = [\"p\"]\nslides = 100\nmust_turn = \"9 deg\"",
       "thing/m slides, and must_turn says how far what turns must open"},
      {"custom.zone_outside",
       "[module.thing.zones.z]\nat = [0, 0, 9000]\nsize = [100, 100, 100]",
       "z 9000 mm to 9100 mm in the van: it lies outside"},
      {"custom.moves_twice", "PANEL[module.thing.motions.m]\nmoves = [\"p\", \"p\"]\nslides = 100",
       "thing/m moves thing/p twice"},
      {"input.empty_list", "PANEL[module.thing.motions.m]\nmoves = []\nslides = 100", ""},
  }));
  CAPTURE(row.code, row.text);
  std::string text = row.text;
  if (const auto at = text.find("PANEL"); at != std::string::npos) {
    // Tables with dotted keys of the module itself stand before [module.thing.panels.p].
    text = text.substr(0, at) + kBoard + text.substr(at + 5);
  }
  const auto built = built_of(text + "\n");
  INFO(words(built.findings));
  const auto found = std::ranges::find(built.findings, row.code, &Finding::code);
  REQUIRE(found != built.findings.end());
  const std::string message = message_text(*found, LengthStyle::millimetres);
  CHECK_THAT(message, Catch::Contains(row.says));
  CHECK_FALSE(message.ends_with("?"));
  CHECK_FALSE(advice_text(*found, LengthStyle::millimetres).empty());
  REQUIRE(found->place);
  CHECK(found->place->line > 0);
}

TEST_CASE("what names a part that could not be made is not told again", "[layout][custom]") {
  const auto built = built_of(std::string(kBoard) + R"(
[module.thing.panels.bad]
sheet = "birch_12"
at = [0, 0, 20]
repeat = { count = 2, pitch = [0, 0, 50] }
[module.thing.joints.j]
kind = "contact"
parts = ["p", "bad_2"]
[module.thing.motions.m]
moves = ["p", "bad"]
slides = 100
)");
  INFO(words(built.findings));
  REQUIRE(built.findings.size() == 1);
  CHECK(built.findings.front().code == "custom.panel_size");
}

TEST_CASE("a misspelt part is told with the nearest name", "[layout][custom]") {
  std::string text = kLopsidedCustom;
  const std::string from = "parts = [\"cross\", \"post_a\"]";
  text.replace(text.find(from), from.size(), "parts = [\"cross\", \"psot_a\"]");
  const auto built = lay_out_text(text);
  INFO(words(built.findings));
  REQUIRE(built.findings.size() == 1);
  CHECK(built.findings[0].code == "custom.unknown_part");
  CHECK(advice_text(built.findings[0], LengthStyle::millimetres) == "write post_a");
}

TEST_CASE("a panel is tilted about a named edge of its back, with all that is drilled in it",
          "[layout][custom]") {
  const auto tilted = [](const std::string& edge, const std::string& angle,
                         const std::string& faces = "up") {
    return lay_out_text(R"(
[module.box]
kind = "custom"
faces = "rear"
width = "400 mm"
depth = "400 mm"
height = "400 mm"
place = { rear = "100 mm", middle = "0 mm", on = "floor" }
[module.box.panels.ramp]
sheet = "birch_12"
at = [100, 100, 100]
size = [200, 100]
faces = ")" + faces + R"("
tilt = { edge = ")" + edge + "\", angle = \"" + angle + R"(" }
holes.one = { at = [150, 20], diameter = 6 }
)");
  };
  const auto box = [](const Built<std::optional<Layout>>& built) {
    INFO(words(built.findings));
    REQUIRE(built.value);
    return bounds(*built.value->find("box/ramp"));
  };
  // 200 long and 12 thick, turned up by 30 degrees about its left edge. Seen from the rear of the
  // van the module's left is +y: it begins at y = 200 - 100.
  const double c = std::cos(std::numbers::pi / 6);
  const auto up = tilted("left", "30 deg");
  CHECK(box(up).lo.z == Approx(100));
  CHECK(box(up).hi.z == Approx(100 + 200 * 0.5 + 12 * c));
  CHECK(box(up).lo.y == Approx(100 - 200 * c));
  CHECK(box(up).hi.y == Approx(100 + 12 * 0.5));
  CHECK(box(up).size().x == Approx(100));
  // Its hole goes with it: where it comes out of the back, 150 from the edge.
  const Part& ramp = *up.value->find("box/ramp");
  const Bore& bore = ramp.shape->prisms.front().prism.bores.front();
  const Vec3 in = ramp.frame.point(bore.at);
  const Vec3 down = ramp.frame.direction(bore.direction);
  CHECK(down.z == Approx(-c));
  CHECK((in + down * 12).z == Approx(100 + 150 * 0.5));

  const auto low = tilted("right", "-30 deg");  // the left side goes down
  CHECK(box(low).lo.z == Approx(100 - 200 * 0.5).margin(1e-9));
  // One that looks to the front (the rear of the van) leans forward about its lower edge.
  const auto leaning = tilted("down", "90 deg", "front");
  CHECK(box(leaning).size().z == Approx(12));
  CHECK(box(leaning).size().x == Approx(100));
  const auto none = tilted("up", "30 deg");
  REQUIRE(has_code(none.findings, "custom.tilt_edge"));
  CHECK_THAT(words(none.findings), Catch::Contains("looks up has no edge that lies up"));
  CHECK(has_errors(tilted("left", "120 deg").findings));
}

TEST_CASE("a motion may begin when another one has ended", "[layout][custom]") {
  const auto with = [](const std::string& after) {
    return lay_out_text(std::string(kLopsidedCustom),
                        {"module.stand.motions.flap.after=" + after});
  };
  const auto sound = with("out");
  INFO(words(sound.findings));
  REQUIRE(sound.value);
  const auto flap = std::ranges::find(sound.value->motions, "stand/motion.flap", &Motion::id);
  REQUIRE(flap != sound.value->motions.end());
  CHECK(flap->after == "stand/motion.out");
  for (const char* wrong : {"flap", "oot"}) {
    const auto built = with(wrong);
    INFO(words(built.findings));
    REQUIRE(has_code(built.findings, "custom.unknown_motion"));
  }
  CHECK_THAT(words(with("oot").findings), Catch::Contains("did you mean out?"));
}

TEST_CASE("motions that come after each other in a circle are told with their path", "[layout][custom]") {
  const auto built = lay_out_text(std::string(kLopsidedCustom),
                                  {"module.stand.motions.out.after=flap"});
  INFO(words(built.findings));
  REQUIRE(has_code(built.findings, "custom.motion_circle"));
  const auto told = std::ranges::find(built.findings, "custom.motion_circle", &Finding::code);
  CHECK(told->severity == Severity::error);
  REQUIRE(told->place);
  CHECK(told->place->line > 0);
  CHECK_THAT(message_text(*told, LengthStyle::millimetres),
             Catch::Contains("stand/motion.out, then stand/motion.flap, then stand/motion.out"));
}

TEST_CASE("an axis far from all that turns about it is told", "[layout][custom]") {
  const auto with = [](const std::string& about) {
    return lay_out_text(std::string(kLopsidedCustom), {"module.stand.motions.flap.about=" + about});
  };
  // The flap's own edge lies at [0, 120, 660]; the axis runs to the right, so that only its second
  // and third numbers count.
  CHECK_FALSE(has_code(with("[-2000, 120, 660]").findings, "custom.hinge_far"));
  CHECK_FALSE(has_code(with("[0, 120, 860]").findings, "custom.hinge_far"));
  const auto far = with("[0, 120, 1660]");
  INFO(words(far.findings));
  REQUIRE(has_code(far.findings, "custom.hinge_far"));
  const auto told = std::ranges::find(far.findings, "custom.hinge_far", &Finding::code);
  CHECK(told->severity == Severity::error);
  REQUIRE(told->place);
  CHECK(std::get<double>(told->argument("measured")->value) > 900);
  CHECK_THAT(finding_text(*told, LengthStyle::millimetres), Catch::Contains("through or near what moves"));
}

TEST_CASE("motions that go nowhere and zones around nothing are errors", "[layout][custom]") {
  const auto fails = [](const std::string& set) {
    const auto built = lay_out_text(std::string(kLopsidedCustom), {set});
    INFO(words(built.findings));
    const auto error = std::ranges::find(built.findings, Severity::error, &Finding::severity);
    REQUIRE(error != built.findings.end());
    CHECK(error->place);
    return has_errors(built.findings);
  };
  CHECK(fails("module.stand.motions.out.slides=0 mm"));
  CHECK(fails("module.stand.motions.flap.turns=0 deg"));
  CHECK(fails("module.stand.motions.flap.turns=361 deg"));
  CHECK(fails("module.stand.motions.out.moves=[]"));
  CHECK(fails("module.stand.zones.view.size=[0, 100, 40]"));
}
