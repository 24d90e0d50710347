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
  const Layout layout = good({"module.sled.clamp=sled_clamp"});
  REQUIRE(layout.motions.size() == 1);
  const Motion& motion = layout.motions.front();
  CHECK(motion.kind == MotionKind::translation);
  CHECK(motion.axis.x == Approx(-1));  // faces the rear
  const double deep = layout.module("sled")->envelope.size().x;
  CHECK(deep == Approx(172 + 40 + 30));  // the jaws of the clamps are 40 deep
  CHECK(motion.travel == Approx(deep));
  CHECK(motion.required == Approx(deep));
  CHECK(motion.parts.size() == 4);
  REQUIRE(layout.removals.size() == 1);
  const Removal& removal = layout.removals.front();
  CHECK(removal.id == "sled/item");
  CHECK(removal.direction.x == Approx(-1));
  CHECK(removal.fasteners == 2);
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
  CHECK(built.value->find("sled/runner.right.screw_2") != nullptr);
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
}
