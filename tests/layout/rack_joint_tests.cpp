#include "kind_samples.hpp"
#include "small_project.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

/// The lopsided rack: 1000 x 600 x 900 with two bays, so posts at x = 0, 540 and 960 (40 wide),
/// rails at z = 0, 400 and 860; its left front corner at (100, 500, 0), its right the van's -y.
Layout rack(const std::vector<std::string>& joint) {
  std::vector<std::string> set;
  for (const std::string& field : joint) set.push_back("module.rack." + field);
  auto built = lay_out_text(kLopsidedRack, set);
  INFO(words(built.findings));
  REQUIRE(built.value);
  REQUIRE_FALSE(has_errors(built.findings));
  return *built.value;
}

Vec3 in_module(Vec3 van) {
  return {500 - van.y, van.x - 100, van.z};
}

std::size_t count(const Layout& layout, const std::string& kind) {
  return static_cast<std::size_t>(
      std::ranges::count(layout.joints, kind, [](const Joint& joint) { return joint.kind; }));
}

std::vector<Bore> bores(const Layout& layout, const std::string& id, BoreRole role) {
  const Part* part = layout.find(id);
  REQUIRE(part != nullptr);
  std::vector<Bore> all;
  for (Bore bore : part->shape->prisms.front().prism.bores) {
    if (bore.role != role) continue;
    bore.at = in_module(part->frame.point(bore.at));
    all.push_back(bore);
  }
  return all;
}

}  // namespace

TEST_CASE("brackets hold the rails unless the rack says otherwise", "[layout][rack][joints]") {
  const Layout plain = rack({});
  const Layout said = rack({"joint=bracket"});
  REQUIRE(plain.parts.size() == said.parts.size());
  // 3 levels of 4 rails and 3 side rails with two ends each, and 6 feet.
  CHECK(count(plain, "inside-corner bracket") >= 42);
  for (std::size_t i = 0; i < plain.parts.size(); ++i) {
    CHECK(plain.parts[i].id == said.parts[i].id);
    CHECK(key(*plain.parts[i].shape) == key(*said.parts[i].shape));
  }
}

TEST_CASE("end bolts hold a rack where a driver reaches them", "[layout][rack][joints]") {
  const Layout plain = rack({});
  const Layout bolted = rack({"joint=end bolt", "end_bolt=m8_25_button"});
  // On each level four rail ends at outer posts and six side rail ends; the four at posts between
  // the bays keep their brackets.
  CHECK(count(bolted, "end bolt") == 30);
  CHECK(count(bolted, "inside-corner bracket") == count(plain, "inside-corner bracket") - 30);
  // The rail's left end at x = 40: tapped. Its right end at the post between the bays: not.
  const auto taps = bores(bolted, "rack/rail.level_2.bay_1.front", BoreRole::end_tap);
  REQUIRE(taps.size() == 1);
  CHECK(length(taps[0].at - Vec3{40, 20, 420}) < 1e-6);
  CHECK(taps[0].depth == Approx(25 - 4.5 + 5));
  // The left front post lets the driver in from its left and its front, on three levels.
  const auto access = bores(bolted, "rack/post.front_left", BoreRole::access);
  CHECK(access.size() == 6);
  CHECK(std::ranges::count_if(access, [](const Bore& b) { return b.at.x < 1e-6; }) == 3);
  CHECK(std::ranges::count_if(access, [](const Bore& b) { return b.at.y < 1e-6; }) == 3);
}

TEST_CASE("hidden connectors hold every rail of a rack", "[layout][rack][joints]") {
  const Layout hidden = rack({"joint=hidden connector", "connector=hidden_40"});
  CHECK(count(hidden, "hidden connector") == 42);
  // Drilled from inside: at the back of the front rail, 20 from both of its ends.
  const auto holes = bores(hidden, "rack/rail.level_2.bay_1.front", BoreRole::bolt);
  REQUIRE(holes.size() == 2);
  for (const Bore& hole : holes) CHECK(hole.at.y == Approx(40));
  CHECK(std::min(holes[0].at.x, holes[1].at.x) == Approx(60));
  // The infill gives way to the feet only: its corners, 10.3 each way.
  const Part& infill = *hidden.find("rack/infill.side");
  const auto& cuts = infill.shape->prisms.front().prism.cuts;
  REQUIRE(cuts.size() == 4);
  for (const Cut& cut : cuts) CHECK(area({cut.outline, {}}) == Approx(10.3 * 10.3));
}

TEST_CASE("gusset plates lie on the outside of a rack", "[layout][rack][joints]") {
  const Layout plated = rack({"joint=gusset plate", "plate=gusset_40"});
  // On each level: four at the fronts and backs of the outer posts, four on the outer side rails.
  CHECK(count(plated, "gusset plate") == 24);
  const Part& plate = *plated.find("rack/plate.level_2.bay_1.front.left");
  Box box;
  box.add(in_module(bounds(plate).lo));
  box.add(in_module(bounds(plate).hi));
  // Its corner lies 20 outside the crossing of the slots at (20, 420); it reaches down.
  CHECK(length(box.lo - Vec3{0, -4, 320}) < 1e-6);
  CHECK(length(box.hi - Vec3{120, 0, 440}) < 1e-6);
}

TEST_CASE("a rack's joint asks for what it is made with", "[layout][rack][joints]") {
  const char* kind = GENERATE("end bolt", "hidden connector", "gusset plate");
  const auto built = lay_out_text(kLopsidedRack, {std::string("module.rack.joint=") + kind});
  INFO(words(built.findings));
  REQUIRE(built.findings.size() == 1);
  CHECK(built.findings[0].code == "rack.joint_needs");
  CHECK_THAT(message_text(built.findings[0], LengthStyle::millimetres),
             Catch::Contains(std::string("joint = \"") + kind + "\" needs"));
}

TEST_CASE("a rack in its mirror image is drilled alike", "[layout][rack][joints]") {
  const std::vector<std::string> joint{"joint=end bolt", "end_bolt=m8_25_button"};
  auto mirrored = joint;
  mirrored.emplace_back("mirrored=true");
  const Layout plain = rack(joint);
  const Layout image = rack(mirrored);
  REQUIRE(plain.parts.size() == image.parts.size());
  for (const BoreRole role : {BoreRole::access, BoreRole::end_tap}) {
    for (const auto& [a, b] : {std::pair{"rack/post.front_left", "rack/post.front_right"},
                               {"rack/rail.level_1.bay_1.back", "rack/rail.level_1.bay_1.back"}}) {
      const auto left = bores(plain, a, role);
      const auto right = bores(image, b, role);
      REQUIRE(left.size() == right.size());
      for (const Bore& bore : left) {
        CHECK(std::ranges::any_of(right, [&](const Bore& other) {
          return length(other.at - Vec3{1000 - bore.at.x, bore.at.y, bore.at.z}) < 1e-6;
        }));
      }
    }
  }
}
