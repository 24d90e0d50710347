#include "laid_out.hpp"

#include <catch2/catch.hpp>

#include <numbers>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

const char* kHatch = R"(
[module.hatch]
kind = "hatch"
faces = "front"
opening_width = "300 mm"
opening_height = "200 mm"
ring_sheet = "birch_12"
lid_sheet = "birch_6"
ring_screw = "wood_3_5x25"
lid_screw = "wood_3x12"
place = { rear = "500 mm", middle = "0 mm", bottom = "300 mm" }
)";

/// A partition with the hatch on its front.
const char* kInPartition = R"(
[module.partition]
kind = "partition"
faces = "front"
sheet = "birch_18"
height = "1000 mm"
pieces = ["1 share", "1 share"]
place = { rear = "900 mm", between = "walls", on = "floor" }
[module.partition.passes.service]
left = "hatch.hole.left"
right = "hatch.hole.right"
bottom = "hatch.hole.bottom"
top = "hatch.hole.top"
radius = "22 mm"
)";

}  // namespace

TEST_CASE("a hatch is as large as its opening and its ring", "[layout][hatch]") {
  const Layout layout = good(kHatch);
  // Ring 36 wide all round, 12 thick; the lid lies flush in it, on 14 of the ring less 1 of play.
  const Vec3 ring = size_of(layout, "hatch/ring");
  CHECK(ring.x == Approx(12.0));
  CHECK(ring.y == Approx(372.0));
  CHECK(ring.z == Approx(272.0));
  const Vec3 lid = size_of(layout, "hatch/lid");
  CHECK(lid.x == Approx(6.4));
  CHECK(lid.y == Approx(326.0));
  CHECK(lid.z == Approx(226.0));
  CHECK(layout.module("hatch")->envelope.size().x == Approx(12.0));
  CHECK(bounds(*layout.find("hatch/lid")).hi.x == Approx(bounds(*layout.find("hatch/ring")).hi.x));
  // What is left of the ring: outline less opening, less the rebate. Round corners take
  // (4 - pi) r^2 of a rectangle.
  const auto rounded = [](double w, double h, double r) {
    return w * h - (4 - std::numbers::pi) * r * r;
  };
  const double clear = rounded(300, 200, 20);
  CHECK(volume(*layout.find("hatch/ring")->shape) ==
        Approx((rounded(372, 272, 56) - clear) * 12.0 - (rounded(328, 228, 34) - clear) * 6.4)
            .epsilon(1e-9));
}

TEST_CASE("an overlapping lid lies on the ring, a round hatch is round", "[layout][hatch]") {
  const Layout over = good(kHatch, {"module.hatch.lid=overlapping"});
  CHECK(over.module("hatch")->envelope.size().x == Approx(12.0 + 6.4));
  CHECK(size_of(over, "hatch/lid").y == Approx(328.0));
  CHECK(bounds(*over.find("hatch/lid")).lo.x == Approx(bounds(*over.find("hatch/ring")).hi.x));

  const Layout round =
      good(kHatch, {"module.hatch.shape=round", "module.hatch.opening_height=300mm"});
  const double pi = std::numbers::pi;
  CHECK(volume(*round.find("hatch/lid")->shape) == Approx(pi * 163 * 163 * 6.4).epsilon(1e-9));
  CHECK(volume(*round.find("hatch/ring")->shape) ==
        Approx(pi * ((186.0 * 186 - 150 * 150) * 12 - (164.0 * 164 - 150 * 150) * 6.4))
            .epsilon(1e-9));
}

TEST_CASE("a partition makes the opening for its hatch and follows it", "[layout][hatch]") {
  const std::string text = std::string(kHatch) + kInPartition;
  const auto opening = [&](const std::vector<std::string>& set) {
    std::vector<std::string> all{"module.hatch.place.rear=partition.front",
                                 "module.hatch.place.middle=-400mm",
                                 "module.hatch.fixed_to=[\"partition/piece_1\"]"};
    all.insert(all.end(), set.begin(), set.end());
    const Layout layout = good(text, all);
    const Part& piece = *layout.find("partition/piece_1");
    CHECK(layout.find("hatch/ring.screw_1")->hosts ==
          std::vector<std::string>{"hatch/ring", "partition/piece_1"});
    Box box;
    for (const Cut& cut : piece.shape->prisms.front().prism.cuts) {
      if (cut.role != CutRole::cut_out) continue;
      for (const Corner& c : cut.outline) box.add(piece.frame.point({c.at.x, c.at.y, 0}));
    }
    return box;
  };
  // 2 mm larger all round than the clear opening.
  CHECK(opening({}).size().y == Approx(304.0));
  CHECK(opening({}).size().z == Approx(204.0));
  CHECK(opening({"module.hatch.place.middle=-300mm"}).lo.y - opening({}).lo.y == Approx(100.0));
}

TEST_CASE("a lid comes off forwards, and counts what holds it", "[layout][hatch]") {
  const Layout layout = good(kHatch);
  REQUIRE(layout.motions.size() == 1);
  CHECK(layout.motions.front().axis == Vec3{1, 0, 0});
  CHECK(layout.motions.front().required == Approx(60.0));
  REQUIRE(layout.removals.size() == 1);
  CHECK(layout.removals.front().id == "hatch/lid");
  CHECK(layout.removals.front().travel == Approx(6.4));
  int screws = 0;
  for (const Part& part : layout.parts) screws += part.id.starts_with("hatch/lid.screw_") ? 1 : 0;
  CHECK(layout.removals.front().fasteners == screws);
  // Above and below at 150 at most: straight sides of 260 take three, sides of 160 one between.
  CHECK(screws == 8);
}

TEST_CASE("latches lock towards the edges of the lid", "[layout][hatch]") {
  const Layout layout = good(kHatch, {"module.hatch.latch=cam_latch", "module.hatch.latches=3"});
  // The latch's cam reaches 33 from its middle, which stands 25 inside the lid's edge: 8 past it.
  const Box lid = bounds(*layout.find("hatch/lid"));
  for (int i = 1; i <= 3; ++i) {
    const Box box = bounds(*layout.find("hatch/lid.latch_" + std::to_string(i)));
    CHECK(box.hi.x == Approx(lid.hi.x + 10.0));  // its knob stands on the lid's face
    CHECK(box.lo.x == Approx(lid.hi.x - 27.0));
    CHECK(std::max({box.hi.y - lid.hi.y, lid.lo.y - box.lo.y, box.hi.z - lid.hi.z}) == Approx(8.0));
  }
  const auto held = std::ranges::find(layout.joints, "hatch/joint.lid", &Joint::id);
  REQUIRE(held != layout.joints.end());
  CHECK(held->kind == "held in");
}

TEST_CASE("a latch that catches nothing behind the ring is told", "[layout][hatch]") {
  const auto told = [&](const std::string& latch, const std::string& more = {}) {
    return has_code(lay_out_text(kHatch + more, {"module.hatch.latch=" + latch}).findings,
                    "hatch.latch_reach");
  };
  CHECK(told("slam_latch"));  // all of it stands on the lid's face
  CHECK_FALSE(told("cam_latch"));
  // The ring is 12 thick, measured 11.6. The cam must pass the edge of the opening, 25 - 13 = 12
  // from the latch's middle, by 3.
  const auto cam = [&](const std::string& deep, const std::string& far) {
    return "[fitting.own]\nbased_on = \"cam_latch\"\nbox.cam = { at = [-7, -7, -" + deep +
           "], size = [14, " + far + ", 3] }\n";
  };
  CHECK_FALSE(told("own", cam("15", "22")));
  CHECK(told("own", cam("14", "22")));
  CHECK(told("own", cam("15", "21.9")));
}

TEST_CASE("what a hatch cannot be is told", "[layout][hatch]") {
  const auto codes = [&](const std::vector<std::string>& set) {
    return lay_out_text(kHatch, set).findings;
  };
  CHECK_FALSE(has_errors(codes({})));
  CHECK(has_code(codes({"module.hatch.shape=round"}), "hatch.not_round"));
  CHECK(has_code(codes({"module.hatch.radius=120mm"}), "hatch.radius"));
  CHECK(has_code(codes({"module.hatch.lid_sheet=birch_12"}), "hatch.lid_too_thick"));
  CHECK_FALSE(has_code(codes({"module.hatch.lid_sheet=birch_12", "module.hatch.lid=overlapping"}),
                       "hatch.lid_too_thick"));
  CHECK(has_code(codes({"module.hatch.flange=20mm"}), "hatch.narrow_flange"));
  CHECK(has_code(codes({"module.hatch.ledge=8mm"}), "hatch.narrow_ledge"));
  // 14 mm of ledge, 3 of which the lid must lie on.
  CHECK_FALSE(has_code(codes({"module.hatch.play=11mm"}), "hatch.play"));
  CHECK(has_code(codes({"module.hatch.play=11.1mm"}), "hatch.play"));
  CHECK(has_code(codes({"module.hatch.finger_hole=400mm"}), "hatch.finger_hole"));
  CHECK_FALSE(has_code(codes({"module.hatch.finger_hole=30mm"}), "hatch.finger_hole"));
  CHECK(has_code(codes({"module.hatch.ring_screw=wood_3_5x16"}), "hatch.screw_length"));
  CHECK(has_code(codes({"module.hatch.width=400mm"}), "hatch.size"));
  std::string loose = kHatch;
  loose.replace(loose.find("lid_screw"), loose.find("place") - loose.find("lid_screw"), "");
  CHECK(has_code(lay_out_text(loose).findings, "hatch.lid_not_held"));
}

TEST_CASE("ribs behind a hatch are told", "[layout][hatch]") {
  // At the left wall, 10 off the ribs, which stand at 250, 750, ... and are 60 wide.
  const auto at = [&](const std::string& rear) {
    std::string text = kHatch;
    text.replace(text.find("middle = \"0 mm\""), 15, "left = \"760 mm\"");
    const auto built =
        lay_out_text(text, {"module.hatch.faces=right", "module.hatch.place.rear=" + rear});
    CHECK_FALSE(has_code(built.findings, "layout.two_places"));
    return built.findings;
  };
  CHECK_FALSE(has_code(at("300 mm"), "hatch.rib_behind_ring"));  // 300 to 672: between two ribs
  CHECK(has_code(at("370 mm"), "hatch.rib_behind_ring"));        // to 742, its opening to 706
  CHECK_FALSE(has_code(at("370 mm"), "hatch.rib_in_opening"));
  CHECK(has_code(at("500 mm"), "hatch.rib_in_opening"));
}

TEST_CASE("a hatch in a lining lies on its flat and takes its hole from the opening",
          "[layout][hatch][lining]") {
  const Layout layout = good(R"(
[module.lining]
kind = "lining"
faces = "right"
sheet = "poplar_5"
width = "1000 mm"
height = "900 mm"
place = { rear = "780 mm", against = "left wall", gap = "4 mm", bottom = "200 mm" }
[module.lining.openings.box]
rear = 900
front = 1120
bottom = 500
top = 700
[module.lining.openings.box.hatch]
ring_sheet = "birch_9"
lid_sheet = "birch_6"
lid = "overlapping"
ring_screw = "wood_3_5x16"
lid_screw = "wood_3x12"
)");
  // The wall stands at 800, its ribs at 770; the panel's face lies 4 + 4.8 before them.
  const Box ring = bounds(*layout.find("lining/hatch.box.ring"));
  CHECK(ring.hi.y == Approx(770 - 4 - 4.8));
  CHECK(ring.size().y == Approx(9.2));
  CHECK(ring.lo.x == Approx(900 + 2 - 36));
  CHECK(ring.hi.z == Approx(700 - 2 + 36));
  const Part& panel = *layout.find("lining/piece_1");
  std::size_t pilots = 0;
  for (const Bore& bore : panel.shape->prisms.front().prism.bores)
    pilots += bore.role == BoreRole::pilot ? 1U : 0U;
  std::size_t screws = 0;
  for (const Part& part : layout.parts)
    screws += part.id.starts_with("lining/hatch.box.ring.screw_") ? 1U : 0U;
  CHECK(screws > 4);
  CHECK(pilots == screws);
}

TEST_CASE("what a hatch or a sled is fixed to must be a part", "[layout][hatch]") {
  const std::string example = RIBBAY_SOURCE_DIR "/params/examples/";
  const auto findings = [&](const std::string& file, const std::string& set) {
    const auto inputs = read_inputs(example + file, {set});
    REQUIRE(inputs.value);
    return lay_out(*inputs.value).findings;
  };
  const auto wrong = findings("hatch.toml", "module.valves.fixed_to=[\"partition/piece2\"]");
  REQUIRE(has_code(wrong, "layout.no_such_host"));
  const auto told = std::ranges::find(wrong, "layout.no_such_host", &Finding::code);
  CHECK(std::get<std::string>(told->argument("nearest")->value) == "partition/piece_2");
  CHECK(told->place->file == "--set");
  CHECK(has_code(findings("sled.toml", "module.sled.into=rack"), "layout.no_such_host"));
  CHECK_FALSE(has_code(findings("hatch.toml", "module.valves.fixed_to=[\"vehicle/wall.left\"]"),
                       "layout.no_such_host"));
}
