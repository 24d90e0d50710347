#include "clearance/clearance.hpp"
#include "folding_bunk.hpp"
#include "kind_samples.hpp"
#include "projects.hpp"
#include "small_project.hpp"
#include "solids/solid_set.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

Layout laid_out(const Inputs& inputs) {
  auto built = lay_out(inputs);
  INFO(words(built.findings));
  REQUIRE(built.value);
  REQUIRE_FALSE(has_errors(built.findings));
  return std::move(*built.value);
}

Layout example(const std::string& name) {
  return laid_out_file(RIBBAY_SOURCE_DIR "/params/examples/" + name + ".toml");
}

Layout project(const std::string& modules, const std::vector<std::string>& overrides = {}) {
  const auto inputs = inputs_of_text(modules, overrides);
  REQUIRE(inputs.value);
  return laid_out(*inputs.value);
}

/// Another box in the way; 200 deep.
std::string in_the_way(const std::string& place) {
  return R"(
[module.way]
kind = "bench"
faces = "left"
width = "1400 mm"
depth = "200 mm"
height = "300 mm"
sheet = "birch_12"
lid = "lift-out"
screw = "wood_4x40"
panel_screw = "wood_3_5x16"
finger_hole = "0 mm"
bays.all = {}
place = )" +
         place + "\n";
}

const MotionResult& result(const ClearanceResult& clearance, const std::string& motion) {
  const auto found = std::ranges::find(clearance.motions, motion, &MotionResult::motion);
  REQUIRE(found != clearance.motions.end());
  return *found;
}

}  // namespace

TEST_CASE("the examples of carcasses and tables fit, open and are one solid each",
          "[clearance][carcass]") {
  const std::string name = GENERATE("bench", "locker", "table", "galley", "bunk", "folding_bunk");
  CAPTURE(name);
  const Layout layout = example(name);
  const ClearanceResult clearance = check_clearance(layout);
  INFO(words(clearance.findings));
  CHECK(clearance.findings.empty());
  for (const MotionResult& motion : clearance.motions) {
    CAPTURE(motion.motion, motion.mover, motion.obstacle);
    CHECK_FALSE(motion.blocked);
  }
  const auto solids = make_solids(layout);
  INFO(words(solids.findings));
  CHECK(solids.findings.empty());
}

TEST_CASE("a lid opens until it meets what hangs over it", "[clearance][carcass]") {
  const std::string bench = kLopsidedBench;
  const auto free = check_clearance(project(bench));
  INFO(words(free.findings));
  CHECK_FALSE(result(free, "bench/lid_1").blocked);
  CHECK(result(free, "bench/lid_1").opens == Approx(std::numbers::pi / 2));

  // Its underside lies 150 over the lids; their front edges turn on 439.2 about pins in their upper
  // plane: 500 less a strip of 60 and a leaf of 0.8.
  const auto clearance = check_clearance(project(
      bench + in_the_way("{ rear = \"100 mm\", right = \"-470 mm\", bottom = \"600 mm\" }")));
  const MotionResult& lid = result(clearance, "bench/lid_1");
  CHECK(lid.blocked);
  CHECK(lid.opens == Approx(std::asin(150 / 439.2)).margin(1e-3));
  CHECK(lid.obstacle.starts_with("way/"));
}

TEST_CASE("a bunk folds until it meets the locker over it", "[clearance][carcass]") {
  const std::string bunk = kFoldingBunk;
  const auto free = check_clearance(project(bunk));
  INFO(words(free.findings));
  CHECK_FALSE(result(free, "bunk/leaf").blocked);
  CHECK(result(free, "bunk/leaf").opens == Approx(std::numbers::pi / 2));
  CHECK_FALSE(result(free, "bunk/leg.left").blocked);
  CHECK_FALSE(result(free, "bunk/leg.right").blocked);

  // Pins at y = -770 + 2 + 96.8 + 1 = -670.2 and z = 434.9 + 70 + 17.7 + 1.8 = 524.4 (strip and hinge
  // as in bunk_fold_tests.cpp). The box's lower front edge lies at y = -570, z = 800; the deck's upper
  // face, 1.8 under the plane of the pins, meets it.
  const auto clearance = check_clearance(
      project(bunk + in_the_way("{ rear = \"800 mm\", right = \"-770 mm\", bottom = \"800 mm\" }")));
  const MotionResult& leaf = result(clearance, "bunk/leaf");
  CHECK(leaf.blocked);
  const double away = std::hypot(100.2, 275.6);
  CHECK(leaf.opens == Approx(std::atan2(275.6, 100.2) + std::asin(1.8 / away)).margin(1e-3));
  CHECK(leaf.obstacle.starts_with("way/"));
}

TEST_CASE("a door that lifts opens until it meets what stands before it", "[clearance][carcass]") {
  const std::string locker = kLopsidedLocker;
  const auto free = check_clearance(project(locker));
  INFO(words(free.findings));
  CHECK(result(free, "locker/door.first").opens == Approx(110 * std::numbers::pi / 180));

  // The locker's front stands at y = -770 + 350, this 200 before it. The door is 354 high and
  // turns 2 below its upper edge and 1 before its face.
  const auto clearance = check_clearance(project(
      locker + in_the_way("{ rear = \"100 mm\", right = \"-220 mm\", bottom = \"1100 mm\" }")));
  const MotionResult& door = result(clearance, "locker/door.first");
  CHECK(door.blocked);
  const double radius = std::hypot(352, 1);
  CHECK(door.opens == Approx(std::asin(199 / radius) + std::atan(1 / 352.0)).margin(2e-3));
  CHECK(door.obstacle.starts_with("way/"));
}

TEST_CASE("a table leaf drops unless something stands below it", "[clearance][carcass]") {
  const std::string table = kLopsidedTable;
  const auto free = check_clearance(project(table));
  INFO(words(free.findings));
  CHECK_FALSE(result(free, "table/top").blocked);
  const auto clearance = check_clearance(project(
      table + in_the_way("{ rear = \"100 mm\", right = \"-500 mm\", bottom = \"200 mm\" }")));
  CHECK(result(clearance, "table/top").blocked);
}
