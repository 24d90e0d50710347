#include "small_project.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

/// A battery 330 x 172 x 195 on a board of 12 mm, on angles 30 x 30 x 3.
const char* kSled = R"(
[module.sled]
kind = "sled"
faces = "rear"
item = "battery_small"
base = "birch_12"
runner = "aluminium_angle_30_3"
place = { rear = "100 mm", middle = "0 mm", bottom = "300 mm" }
)";

const std::vector<std::string> kClamps{"module.sled.clamp=sled_clamp",
                                       "module.sled.clamp_screw=wood_4x40"};

/// The same on slides 300 long of 12.7, their screws tapped into angles 50 x 50 x 5 with a fillet
/// of 7; the sides are of the base's 12 mm board.
const std::vector<std::string> kOnSlides{
    "module.sled.runner=angle_50_5",       "module.sled.slide=slide_300",
    "module.sled.slide_bolt=m5_8_button",  "module.sled.slide_screw=wood_3x12",
    "module.sled.side_screw=wood_4x40"};

Built<std::optional<Layout>> lay_out_sled(const std::vector<std::string>& overrides = {}) {
  return lay_out_text(kSled, overrides);
}

Layout good(const std::vector<std::string>& overrides = {}) {
  auto built = lay_out_sled(overrides);
  INFO(words(built.findings));
  REQUIRE(built.value);
  REQUIRE_FALSE(has_errors(built.findings));
  return *built.value;
}

double fillet_of(const Layout& layout) {
  double radius = 0.0;
  for (const Corner& corner : layout.catalogue->profiles.at("aluminium_angle_30_3").section.outer) {
    if (std::abs(corner.at.x) < 14 && std::abs(corner.at.y) < 14)
      radius = std::max(radius, corner.radius);
  }
  return radius;
}

}  // namespace

TEST_CASE("a sled is as large as its item needs", "[layout][sled]") {
  const Layout layout = good();
  const double side = 3 + std::max(1.0, fillet_of(layout));  // upright leg, air or fillet
  const Vec3 size = layout.module("sled")->envelope.size();
  CHECK(size.y == Approx(330 + 2 * side));
  CHECK(size.x == Approx(172 + 30));  // and the stop behind it
  // The terminals stand 20 above the body: the envelope is that of the body.
  CHECK(size.z == Approx(3 + 12 + 195));
  CHECK(bounds(*layout.find("sled/base")).lo.z == Approx(300 + 3));
  CHECK(bounds(*layout.find("sled/base")).size().y == Approx(330));
  CHECK(bounds(*layout.find("sled/item")).lo.z == Approx(300 + 15));
}

TEST_CASE("a sled comes out at its front with all that rides on it", "[layout][sled]") {
  const Layout layout = good(kClamps);
  REQUIRE(layout.motions.size() == 1);
  const Motion& motion = layout.motions.front();
  CHECK(motion.kind == MotionKind::translation);
  CHECK(motion.axis.x == Approx(-1));  // faces the rear
  const double deep = layout.module("sled")->envelope.size().x;
  CHECK(deep == Approx(172 + 40 + 30));  // the jaws of the clamps are 40 deep
  CHECK(motion.travel == Approx(deep));
  CHECK(motion.required == Approx(deep));
  CHECK(motion.parts.size() == 4 + 4);  // and the screws, which are out by then
  REQUIRE(layout.removals.size() == 1);
  const Removal& removal = layout.removals.front();
  CHECK(removal.id == "sled/item");
  CHECK(removal.direction.x == Approx(-1));
  // A sled is released with four screws: common practice, no source.
  CHECK(removal.undo ==
        std::vector<std::string>{"sled/clamp.left.screw.one", "sled/clamp.left.screw.two",
                                 "sled/clamp.right.screw.one", "sled/clamp.right.screw.two"});
  CHECK(removal.fasteners == 0);
  CHECK(removal.after.empty());
  CHECK(removal.along ==
        std::vector<std::string>{"sled/base", "sled/clamp.left", "sled/clamp.right"});
  // After its travel nothing of it is over the runners.
  for (const std::string& id : motion.parts)
    CHECK(bounds(*layout.find(id)).hi.x - motion.travel <= 100 + 1e-9);
}

TEST_CASE("a sled's base may be folded from metal", "[layout][sled]") {
  const Layout layout = good({"module.sled.base=aluminium_1_5", "module.sled.rim=30mm"});
  const Part& base = *layout.find("sled/base");
  CHECK(base.kind == PartKind::folded);
  CHECK(bounds(base).size().z == Approx(30));
  CHECK(bounds(base).size().y == Approx(330 + 2 * (1.5 + 1.5)));
  CHECK(bounds(*layout.find("sled/item")).lo.z == Approx(300 + 3 + 1.5));
}

TEST_CASE("runners are screwed down where the file says into what", "[layout][sled]") {
  const std::string shelf = std::string(kPlainRack) + R"(
[module.rack.shelves.low]
level = 1
bay = 1
sheet = "birch_12"
)";
  const auto built = lay_out_text(shelf + kSled, {"module.sled.screw=wood_3_5x16",
                                                  "module.sled.into=rack/shelf.low"});
  INFO(words(built.findings));
  REQUIRE(built.value);
  const Part* screw = built.value->find("sled/runner.left.screw_1");
  REQUIRE(screw != nullptr);
  CHECK(screw->hosts == std::vector<std::string>{"sled/runner.left", "rack/shelf.low"});
  // The rearmost one goes through the stop too, and is what holds it.
  const Part* last = built.value->find("sled/runner.left.screw_2");
  REQUIRE(last != nullptr);
  CHECK(last->hosts ==
        std::vector<std::string>{"sled/stop", "sled/runner.left", "rack/shelf.low"});
  CHECK(last->frame.origin.z - screw->frame.origin.z == Approx(3));
  const auto joint = std::ranges::find(built.value->joints, "sled/joint.stop.to.runner.left",
                                       &Joint::id);
  REQUIRE(joint != built.value->joints.end());
  CHECK(joint->kind == "screwed");
  CHECK(joint->hardware == std::vector<std::string>{"sled/runner.left.screw_2"});
  CHECK(built.value->find("sled/runner.right.screw_2") != nullptr);
}

TEST_CASE("the clamps' screws go through clamp, base and runner", "[layout][sled]") {
  const Layout layout = good(kClamps);
  const Part& screw = *layout.find("sled/clamp.left.screw.one");
  CHECK(screw.hosts == std::vector<std::string>{"sled/clamp.left", "sled/base",
                                                "sled/runner.left", "vehicle/floor"});
  CHECK(screw.frame.origin.z == Approx(300 + 3 + 12 + 12));  // on the jaw, 12 high
  // Two in each clamp; all four are bored through the base and two through each runner.
  CHECK(layout.floor_bolts.size() == 4);
  CHECK(layout.find("sled/base")->shape->prisms.front().prism.bores.size() == 4);
  CHECK(layout.find("sled/runner.left")->shape->prisms.front().prism.bores.size() == 2);
}

TEST_CASE("the screws of a runner keep clear of those of its clamp", "[layout][sled]") {
  std::vector<std::string> both = kClamps;
  both.emplace_back("module.sled.screw=wood_3x12");
  const Layout layout = good(both);
  // The jaw is 40 deep, and half of 30 behind it stands the first screw.
  CHECK(layout.find("sled/runner.left.screw_1")->frame.origin.x == Approx(100 + 40 + 15));
  auto bores = layout.find("sled/runner.left")->shape->prisms.front().prism.bores;
  std::erase_if(bores, [](const Bore& bore) { return !bore.through; });  // recesses of the heads
  for (std::size_t i = 0; i < bores.size(); ++i) {
    for (std::size_t k = i + 1; k < bores.size(); ++k)
      CHECK(length(bores[i].at - bores[k].at) > (bores[i].diameter + bores[k].diameter) / 2);
  }
}

TEST_CASE("a sled on slides stays on them and its item is lifted off", "[layout][sled]") {
  const Layout layout = good(kOnSlides);
  const Vec3 size = layout.module("sled")->envelope.size();
  CHECK(size.y == Approx(330 + 2 * (5 + 12.7 + 12)));
  CHECK(size.x == Approx(300));  // the slides are longer than the battery is deep
  // 5 of the leg and 7 of its fillet below the base.
  CHECK(bounds(*layout.find("sled/base")).lo.z == Approx(300 + 12));
  CHECK(bounds(*layout.find("sled/side.left")).size().z == Approx(45));
  CHECK(layout.find("sled/stop") == nullptr);
  CHECK(bounds(*layout.find("sled/item")).lo.x == Approx(100));  // at the front
  // Seen from behind the van, left is +y: the side stands beside its slide of 12.7.
  const double wall = size.y / 2 - 5;
  CHECK(bounds(*layout.find("sled/side.left")).hi.y == Approx(wall - 12.7));
  CHECK(bounds(*layout.find("sled/sled.slide.left.fixed")).hi.y == Approx(wall));

  const Part& bolt = *layout.find("sled/sled.slide.left.fixed.screw_1");
  CHECK(bolt.frame.origin.z == Approx(300 + 12 + 22.5));
  CHECK(bolt.frame.origin.x == Approx(100 + 53));
  const auto& bores = layout.find("sled/runner.left")->shape->prisms.front().prism.bores;
  REQUIRE(bores.size() == 2);
  CHECK(bores.front().thread == "M5");
  CHECK(bores.front().diameter == Approx(4.2));  // less a pitch of 0.8

  REQUIRE(layout.motions.size() == 1);
  CHECK(layout.motions.front().travel == Approx(300));
  REQUIRE(layout.removals.size() == 1);
  const Removal& removal = layout.removals.front();
  CHECK(removal.after == "sled/slide");
  CHECK(removal.direction.z == Approx(1));
  CHECK(removal.travel == Approx(45 - 12));  // out of the sides
  CHECK(removal.fasteners == 2);             // the battery's own
  CHECK(removal.undo.empty());
}

TEST_CASE("a sled may have candidates, and is by default as large as the first", "[layout][sled]") {
  std::string text = kSled;
  text.replace(text.find("item = \"battery_small\""), 22,
               "candidates = [\"battery_large\", \"battery_small\"]");
  const auto built = lay_out_text(text);
  INFO(words(built.findings));
  REQUIRE(built.value);
  const double side = 3 + std::max(1.0, fillet_of(*built.value));
  CHECK(built.value->module("sled")->envelope.size().y == Approx(480 + 2 * side));
  const auto smaller = lay_out_text(text, {"module.sled.item=battery_small"});
  REQUIRE(smaller.value);
  CHECK(smaller.value->module("sled")->envelope.size().y == Approx(330 + 2 * side));
}

TEST_CASE("what a sled cannot be is reported", "[layout][sled]") {
  const auto code = [](const std::vector<std::string>& overrides, const char* expected) {
    const Findings findings = lay_out_sled(overrides).findings;
    INFO(words(findings));
    CHECK(has_code(findings, expected));
  };
  code({"module.sled.runner=tube_40_20_2"}, "sled.runner");
  code({"module.sled.width=300mm"}, "sled.too_small");
  code({"module.sled.depth=150mm"}, "sled.too_small");
  code({"module.sled.rim=20mm"}, "sled.no_rim");
  code({"module.sled.from_left=20mm"}, "sled.item_beside");
  code({"module.sled.screw=m6_16"}, "sled.screw_head");
  code({}, "sled.not_held");
  const auto with = [](std::vector<std::string> base, const char* more) {
    base.emplace_back(more);
    return base;
  };
  CHECK_FALSE(has_code(lay_out_sled(kClamps).findings, "sled.not_held"));
  code({"module.sled.clamp=sled_clamp"}, "carcass.item_missing");
  // 27 through clamp, base and runner, and 1.5 x 4 to hold: 33.
  code(with(kClamps, "module.sled.clamp_screw=wood_4x30"), "sled.clamp_screw");
  code(kOnSlides, "sled.not_held");
  code(with(kOnSlides, "module.sled.runner=aluminium_angle_30_3"), "sled.thread");
  code(with(kOnSlides, "module.sled.runner=aluminium_angle_30_3"), "sled.runner_low");
  code(with(kOnSlides, "module.sled.rim=10mm"), "sled.rim_and_slide");
  code(with(kOnSlides, "module.sled.depth=250mm"), "sled.slide_too_long");
  code(with(kOnSlides, "module.sled.item=tank_fresh_70"), "sled.overloaded");
  code(with(kOnSlides, "module.sled.from_front=150mm"), "sled.item_beside");
  code(with(kOnSlides, "module.sled.quarter_turns=1"), "sled.short_travel");
  for (const char* item : {"slide_bolt", "slide_screw", "side_screw"}) {
    std::vector<std::string> lacking = kOnSlides;
    std::erase_if(lacking, [&](const std::string& setting) {
      return setting.find(std::string(".") + item + "=") != std::string::npos;
    });
    code(lacking, "carcass.item_missing");
  }
  // Slides that lock hold it.
  CHECK_FALSE(has_code(
      lay_out_sled(with(with(with(kOnSlides, "module.sled.slide=heavy_600"),
                             "slide.heavy_600.height=45 mm"),
                        "module.sled.depth=600 mm"))
          .findings,
      "sled.not_held"));
}
