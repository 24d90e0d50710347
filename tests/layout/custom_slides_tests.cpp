#include "laid_out.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

/// A box open at the front, 500 x 450, sides of 17.7, with two boards of 12 on slides of 12.7.
const char* kDrawer = R"(
[module.box]
kind = "custom"
faces = "front"
width = 500
depth = 450
height = 300
place = { rear = 1000, middle = 0 }
panels.left = { sheet = "birch_18", at = [0, 0, 0], size = [450, 300], faces = "right" }
panels.right = { sheet = "birch_18", at = [482.3, 0, 0], size = [450, 300], faces = "right" }
panels.in_left = { sheet = "birch_12", at = [30.4, 10, 50], size = [400, 100], faces = "right" }
panels.in_right = { sheet = "birch_12", at = [457.6, 10, 50], size = [400, 100], faces = "right" }
panels.floor = { sheet = "birch_9", at = [42.4, 10, 50], size = [415.2, 400] }
slides.drawer = { slide = "slide_400", carriers = ["right", "left"], riders = ["in_left", "in_right"], screw = "wood_3x12", held_by = "floor", moves = ["floor"] }
)";

/// A door of 14.9 before a side of 17.7, 2 mm in front of it, on hinges at its left.
const char* kDoor = R"(
[module.box]
kind = "custom"
faces = "front"
width = 500
depth = 450
height = 700
place = { rear = 1000, middle = 0 }
panels.side = { sheet = "birch_18", at = [0, 16.9, 0], size = [400, 700], faces = "right" }
panels.door = { sheet = "birch_15", at = [2, 0, 10], size = [400, 600], faces = "front" }
cup_hinges.door = { hinge = "hinge_110", leaf = "door", on = "side", edge = "left", screw = "wood_3x12" }
)";

/// A flap that rises to the front by 20 degrees before a level strip, hinged on their undersides.
const char* kTilted = R"(
[module.box]
kind = "custom"
faces = "front"
width = 600
depth = 350
height = 300
place = { rear = 1000, middle = 0 }
panels.strip = { sheet = "birch_12", at = [0, 302, 100], size = [600, 48] }
panels.flap = { sheet = "birch_12", at = [0, 100, 100], size = [600, 200], tilt = { edge = "back", angle = "20 deg" } }
hinges.flap_hinge = { hinge = "butt_50", leaf = "flap", on = "strip", at = [0, 299.736, 98.5], opens = "60 deg", leaf_side = "down", on_side = "down" }
)";

const Motion& motion_of(const Layout& layout, const std::string& id) {
  const auto found = std::ranges::find(layout.motions, id, &Motion::id);
  REQUIRE(found != layout.motions.end());
  return *found;
}

std::vector<Vec3> bores(const Layout& layout, const std::string& part, BoreRole role) {
  std::vector<Vec3> found;
  for (const Bore& bore : layout.find(part)->shape->prisms.front().prism.bores)
    if (bore.role == role) found.push_back(layout.find(part)->frame.point(bore.at));
  return found;
}

}  // namespace

TEST_CASE("nothing is drilled for the far end of a stay", "[layout][custom]") {
  const Layout layout =
      good(std::string(kDoor) +
           "fittings.stay = { item = \"lid_stay\", on = \"side\", at = [17.7, 300, 500], "
           "stands_out = \"right\", screw = \"wood_3x12\" }\n");
  CHECK(layout.find("box/screw.stay_first") != nullptr);
  CHECK(layout.find("box/screw.stay_second") != nullptr);
  CHECK(layout.find("box/screw.stay_head") == nullptr);
}

TEST_CASE("slides on both sides of a panel take other holes in it", "[layout][custom]") {
  const Layout layout = good(std::string(kDrawer) + R"(
[module.box.panels.far]
sheet = "birch_18"
at = [964.6, 0, 0]
size = [450, 300]
faces = "right"
[module.box.panels.far_left]
sheet = "birch_12"
at = [512.7, 10, 50]
size = [400, 100]
faces = "right"
[module.box.panels.far_right]
sheet = "birch_12"
at = [939.9, 10, 50]
size = [400, 100]
faces = "right"
[module.box.panels.far_floor]
sheet = "birch_9"
at = [524.7, 10, 50]
size = [415.2, 400]
[module.box.slides.second]
slide = "slide_400"
carriers = ["right", "far"]
riders = ["far_left", "far_right"]
screw = "wood_3x12"
held_by = "far_floor"
moves = ["far_floor"]
)",
                             {"module.box.width=982.3mm"});
  // 12 of a screw in 17.7 from both sides would meet: those of the right slide are moved by 16.
  const auto places = [&](const char* part) {
    std::vector<double> x;
    for (const Vec3& at : bores(layout, part, BoreRole::pilot)) x.push_back(at.x);
    std::ranges::sort(x);
    return x;
  };
  const auto shared = places("box/right");
  REQUIRE(shared.size() == 4);
  CHECK(shared[1] - shared[0] == Approx(16));
  CHECK(shared[3] - shared[2] == Approx(16));
  CHECK(places("box/far") == places("box/left"));
}

TEST_CASE("slides of a custom module lie between two pairs of panels", "[layout][custom]") {
  const Layout layout = good(kDrawer);
  const Motion& motion = motion_of(layout, "box/motion.drawer");
  CHECK(motion.kind == MotionKind::translation);
  CHECK(motion.axis.x == Approx(1));
  CHECK(motion.travel == Approx(400));
  CHECK(motion.required == Approx(400));
  for (const char* part :
       {"box/in_left", "box/in_right", "box/floor", "box/drawer.slide.left.moving",
        "box/drawer.slide.right.moving", "box/drawer.slide.left.moving.screw_1"})
    CHECK(std::ranges::find(motion.parts, part) != motion.parts.end());
  CHECK(std::ranges::find(motion.parts, "box/drawer.slide.left.fixed") == motion.parts.end());

  // In the middle of the 100 that all four share, from 50: 100, and a slide is 45 high. Its front
  // end lies at the riders', 10 behind the front of the module at 1450.
  const Box fixed = bounds(*layout.find("box/drawer.slide.left.fixed"));
  CHECK(fixed.lo.z == Approx(77.5));
  CHECK(fixed.hi.z == Approx(122.5));
  CHECK(fixed.hi.x == Approx(1440));
  CHECK(fixed.lo.x == Approx(1040));
  // The module's left is the van's right when it looks to the front: its side ends 17.7 inside.
  CHECK(fixed.lo.y == Approx(-250 + 17.7));
  CHECK(bounds(*layout.find("box/drawer.slide.right.fixed")).hi.y == Approx(250 - 17.7));

  // Screws 53 and 40 from the ends, alike on both sides.
  const auto left = bores(layout, "box/left", BoreRole::pilot);
  const auto right = bores(layout, "box/right", BoreRole::pilot);
  REQUIRE(left.size() == 2);
  REQUIRE(right.size() == 2);
  CHECK(length(left[0] - left[1]) == Approx(400 - 53 - 40));
  CHECK(length(right[0] - right[1]) == Approx(400 - 53 - 40));
  CHECK(left[0].z == Approx(100));
  CHECK(bores(layout, "box/in_left", BoreRole::pilot).size() == 2);
}

TEST_CASE("a pair of slides comes out to any side", "[layout][custom]") {
  std::string text = kDrawer;
  // The same box turned by a quarter: left and right become front and back.
  const auto put = [&](const char* from, const char* to) {
    REQUIRE(text.find(from) != std::string::npos);
    text.replace(text.find(from), std::string(from).size(), to);
  };
  put("width = 500\ndepth = 450", "width = 450\ndepth = 500");
  put("at = [0, 0, 0], size = [450, 300], faces = \"right\"",
      "at = [0, 0, 0], size = [450, 300], faces = \"back\"");
  put("at = [482.3, 0, 0], size = [450, 300], faces = \"right\"",
      "at = [0, 482.3, 0], size = [450, 300], faces = \"back\"");
  put("at = [30.4, 10, 50], size = [400, 100], faces = \"right\"",
      "at = [10, 30.4, 50], size = [400, 100], faces = \"back\"");
  put("at = [457.6, 10, 50], size = [400, 100], faces = \"right\"",
      "at = [10, 457.6, 50], size = [400, 100], faces = \"back\"");
  put("at = [42.4, 10, 50], size = [415.2, 400]", "at = [10, 42.4, 50], size = [400, 415.2]");
  put("held_by", "out = \"left\", held_by");
  const Layout layout = good(text.c_str());
  // It looks to the front of the van, so its left is the van's right.
  CHECK(motion_of(layout, "box/motion.drawer").axis.y == Approx(-1));
  // Who stands before it, and looks to the van's left, has the van's front at the right.
  CHECK(bounds(*layout.find("box/drawer.slide.right.fixed")).hi.x == Approx(1500 - 17.7));
  const Layout image = good(text.c_str(), {"module.box.mirrored=true"});
  CHECK(motion_of(image, "box/motion.drawer").axis.y == Approx(1));
  CHECK(bounds(*image.find("box/drawer.slide.left.fixed")).hi.x == Approx(1500 - 17.7));
}

TEST_CASE("slides lie in the slots of members that run along them", "[layout][custom]") {
  std::string text = kDrawer;
  const std::string panel =
      "panels.left = { sheet = \"birch_18\", at = [0, 0, 0], size = [450, "
      "300], faces = \"right\" }";
  REQUIRE(text.find(panel) != std::string::npos);
  // Its face 17.7 inside, its slot at the height of 100.
  text.replace(
      text.find(panel), panel.size(),
      "members.left = { profile = \"slotted_40\", from = [-2.3, 0, 100], along = \"back\", "
      "length = \"450 mm\" }");
  const auto with = [&](std::vector<std::string> more) {
    more.insert(more.begin(), {"module.box.slides.drawer.bolt=m8_12_button",
                               "module.box.slides.drawer.nut=slot_nut_8_m8"});
    return lay_out_text(text, more);
  };
  const auto built = with({});
  INFO(words(built.findings));
  REQUIRE(built.value);
  REQUIRE_FALSE(has_errors(built.findings));
  const Part* nut = built.value->find("box/drawer.slide.left.fixed.screw_1.nut");
  REQUIRE(nut != nullptr);
  CHECK(nut->frame.origin.z == Approx(100));
  CHECK(has_code(with({"module.box.slides.drawer.middle=110 mm"}).findings, "custom.slide_slot"));
  CHECK(has_code(lay_out_text(text).findings, "custom.slide_needs"));
  CHECK(has_code(with({"module.box.slides.drawer.bolt=m6_12"}).findings, "joint.threads_differ"));
}

TEST_CASE("what slides of a custom module cannot do is told", "[layout][custom]") {
  struct Row {
    std::vector<std::string> set;
    const char* code;
    const char* words;
  };
  const std::string slides = "module.box.slides.drawer.";
  const auto row = GENERATE_COPY(values<Row>({
      {{"module.box.panels.in_left.at=[35.4, 10, 50]"},
       "custom.slide_room",
       "there are 17.7 mm, and slide slide_400 fills 12.7 mm"},
      // A little more room is taken, and no less: the slide would be pressed.
      {{"module.box.panels.in_left.at=[30.1, 10, 50]"},
       "custom.slide_room",
       "there are 12.4 mm, and slide slide_400 fills 12.7 mm"},
      {{slides + "riders=[\"in_left\"]"}, "custom.slide_two", "riders means 1 parts"},
      {{slides + "riders=[\"in_left\", \"floor\"]"}, "custom.slide_part", "fixed to 'floor'"},
      {{slides + "riders=[\"in_left\", \"in_rigth\"]"}, "custom.unknown_part", "in_right"},
      {{slides + "out=right"}, "custom.slide_part", "out to the right"},
      {{slides + "from_front=20 mm"},
       "custom.slide_beside",
       "reach 20 mm past box/in_left at its back"},
      {{slides + "middle=60 mm"},
       "custom.slide_beside",
       "reach 12.5 mm past box/in_left at its underside"},
      {{slides + "must_slide=500 mm"}, "custom.slide_short", "come out 400 mm"},
      {{slides + "load=60 kg"}, "custom.slide_overloaded", "which bear 40 kg"},
      // Jolts: half as much again as 30 kg is more than 40 kg.
      {{slides + "load=30 kg"}, "slides.little_reserve", "1.5 times as much"},
      {{slides + "held_by=nobody"}, "custom.unknown_part", "held_by names 'nobody'"},
      {{slides + "after=door"}, "custom.unknown_motion", "'door'"},
      {{"module.box.motions.drawer.moves=floor", "module.box.motions.drawer.slides=5"},
       "custom.same_name",
       "another part"},
  }));
  CAPTURE(row.code, row.set.front());
  const auto built = lay_out_text(kDrawer, row.set);
  INFO(words(built.findings));
  CHECK(has_code(built.findings, row.code));
  CHECK(words(built.findings).find(row.words) != std::string::npos);
}

TEST_CASE("slides that neither lock nor are held are told", "[layout][custom]") {
  std::string text = kDrawer;
  text.replace(text.find("held_by = \"floor\", "), 19, "");
  CHECK(has_code(lay_out_text(text).findings, "custom.slide_not_held"));
  CHECK_FALSE(has_code(lay_out_text(text, {"slide.slide_400.locks_in=true"}).findings,
                       "custom.slide_not_held"));
  CHECK_FALSE(has_code(lay_out_text(kDrawer).findings, "custom.slide_not_held"));
}

TEST_CASE("concealed hinges of a custom module hang a panel before another's edge",
          "[layout][custom]") {
  const Layout layout = good(kDoor);
  const Motion& motion = motion_of(layout, "box/motion.door");
  CHECK(motion.kind == MotionKind::rotation);
  CHECK(motion.travel == Approx(110 * std::numbers::pi / 180));
  CHECK(motion.required == Approx(std::numbers::pi / 2));
  // 2 mm inside the door's edge, which is 2 mm inside the module; 1 mm before its face at 1450.
  CHECK(motion.origin.x == Approx(1451));
  CHECK(motion.origin.y == Approx(-250 + 2 + 2));
  // It opens away from the module: what lies to its right comes forward.
  CHECK(cross(motion.axis, Vec3{0, 1, 0}).x > 0.0);
  // Cups 22.5 from the edge, 100 from the ends of 600, above 10.
  auto cups = bores(layout, "box/door", BoreRole::cup);
  REQUIRE(cups.size() == 2);
  std::ranges::sort(cups, {}, &Vec3::z);
  CHECK(cups[0].y == Approx(-250 + 2 + 22.5));
  CHECK(cups[0].z == Approx(110));
  CHECK(cups[1].z == Approx(510));
  // Plates on the side's inner face: two screws each.
  const auto plate = bores(layout, "box/side", BoreRole::pilot);
  REQUIRE(plate.size() == 4);
  for (const Vec3 at : plate) CHECK(at.y == Approx(-250 + 17.7));
  CHECK(std::ranges::find(motion.parts, "box/door.hinge_1.cup") != motion.parts.end());
  CHECK(std::ranges::find(motion.parts, "box/door.hinge_1.plate") == motion.parts.end());
}

TEST_CASE("what concealed hinges of a custom module cannot do is told", "[layout][custom]") {
  struct Row {
    std::vector<std::string> set;
    const char* code;
    const char* words;
  };
  const auto row = GENERATE(values<Row>({
      {{"module.box.panels.door.at=[2, -20, 10]"}, "custom.cup_apart", "lies 22 mm in front of"},
      {{"module.box.panels.door.at=[2, 30, 10]"}, "custom.cup_apart", "lies 28 mm behind"},
      {{"module.box.panels.door.at=[30, 0, 10]"}, "custom.cup_overlay", "ends 12.3 mm short of"},
      {{"module.box.panels.door.at=[2, 2, 10]"}, "carcass.door_binds", "the gap behind its leaf"},
      {{"module.box.cup_hinges.door.edge=front"}, "custom.cup_edge", "'door' has no face or edge"},
      {{"module.box.cup_hinges.door.edge=up"}, "custom.cup_edge", "'side' has no face or edge"},
      {{"module.box.cup_hinges.door.on=sid"}, "custom.unknown_part", "write side"},
      {{"module.box.cup_hinges.door.opens=120"}, "carcass.hinge_opens_too_little", "110 deg"},
      {{"module.box.panels.door.sheet=birch_9", "module.box.panels.door.at=[2, 5.7, 10]"},
       "carcass.cup_too_deep",
       "12 mm deep"},
      {{"module.box.panels.side.repeat.count=2", "module.box.panels.side.repeat.pitch=[100, 0, 0]"},
       "custom.cup_panel",
       "'side' is not one panel"},
  }));
  CAPTURE(row.code, row.set.front());
  const auto built = lay_out_text(kDoor, row.set);
  INFO(words(built.findings));
  CHECK(has_code(built.findings, row.code));
  CHECK(words(built.findings).find(row.words) != std::string::npos);
}

TEST_CASE("a hinge lies on a tilted panel, its screws square to it", "[layout][custom]") {
  const Layout layout = good(kTilted);
  const Part& flap = *layout.find("box/flap");
  int pilots = 0;
  for (const Bore& bore : flap.shape->prisms.front().prism.bores) {
    if (bore.role != BoreRole::pilot) continue;
    ++pilots;
    CHECK(bore.direction.z == Approx(1));  // into its back
    CHECK(std::abs(bore.at.z) < 1e-6);
    CHECK(bore.depth < 12);
  }
  CHECK(pilots == 4);
  // The leaf of the hinge lies in the flap's plane: 20 degrees from level.
  const Part& leaf = *layout.find("box/flap_hinge.hinge_1.moving");
  const double rise = std::max({std::abs(leaf.frame.x.z), std::abs(leaf.frame.y.z)});
  CHECK(rise == Approx(std::cos(20 * std::numbers::pi / 180)));
  // A pin that lies so far before one face only is told.
  CHECK(has_code(lay_out_text(kTilted, {"module.box.hinges.flap_hinge.at=[0, 296, 98.5]"}).findings,
                 "custom.hinge_off"));
  // The flap hangs down before the strip, and between the two faces stands its own wood.
  CHECK(has_code(lay_out_text(kTilted, {"module.box.panels.flap.tilt.angle=-90 deg",
                                        "module.box.hinges.flap_hinge.leaf_side=front",
                                        "module.box.hinges.flap_hinge.at=[0, 286.3, 98.5]"})
                     .findings,
                 "custom.hinge_sides"));
}
