#include "assembly/lifting.hpp"
#include "projects.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

/// A bar of 1000 x 200 x 100 that stands at x 100, and a smaller one on its front end.
Layout two_bars(double below_kg, double above_kg) {
  Layout layout = demo();
  layout.parts.clear();
  layout.motions.clear();
  Part below;
  below.id = "m/below";
  below.module = "m";
  below.kind = PartKind::panel;
  below.mass_kg = below_kg;
  below.shape = std::make_shared<const Shape>(box_shape({0, 0, 0}, {1000, 200, 100}));
  below.frame.origin = {100, 0, 50};
  Part above = below;
  above.id = "m/above";
  above.mass_kg = above_kg;
  above.shape = std::make_shared<const Shape>(box_shape({0, 0, 0}, {200, 200, 100}));
  above.frame.origin = {900, 0, 150};
  layout.parts = {above, below};
  return layout;
}

}  // namespace

TEST_CASE("the ends take what the lever gives them", "[assembly][lift]") {
  const Layout layout = two_bars(30, 10);
  const auto found = lift(layout, {"m/above", "m/below"});
  REQUIRE(found);
  // By hand, from the rear end at 100: (30 * 500 + 10 * 900) / 40 = 600; the rear end takes
  // 40 * 400 / 1000 = 16 kg, the front end 24. Over the foot: (30 * 50 + 10 * 150) / 40 = 75.
  CHECK(found->mass_kg == Approx(40));
  CHECK(found->centre.x == Approx(700));
  CHECK(found->above_foot == Approx(75));
  REQUIRE(found->ends.size() == 2);
  CHECK(found->ends[0].side.x == Approx(-1));
  CHECK(found->ends[0].from_centre == Approx(600));
  CHECK(found->ends[0].mass_kg == Approx(16));
  CHECK(found->ends[1].mass_kg == Approx(24));
  CHECK_FALSE(found->beyond_two);
  CHECK_FALSE(found->moving);
  // 1 kg more on the small one: the front end takes more than 25 kg? No: 24.9.
  CHECK_FALSE(lift(two_bars(30, 11), {"m/above", "m/below"})->beyond_two);
  CHECK(lift(two_bars(30, 12), {"m/above", "m/below"})->beyond_two);  // 25.8
}

TEST_CASE("nobody lifts by what opens", "[assembly][lift]") {
  Layout layout = two_bars(30, 10);
  const auto handle = layout.catalogue->handles.begin()->first;
  Part part = layout.parts.front();
  part.id = "m/handle";
  part.kind = PartKind::hardware;
  part.stock.key = handle;
  part.mass_kg = 0.1;
  layout.parts.push_back(part);
  const std::vector<std::string> all{"m/above", "m/below", "m/handle"};
  CHECK(lift(layout, all)->handles == std::vector<std::string>{"m/handle"});
  Motion door;
  door.id = "m/door";
  door.parts = {"m/above", "m/handle"};
  layout.motions.push_back(door);
  const auto found = lift(layout, all);
  CHECK(found->handles.empty());
  CHECK(found->moving);
  // All of it moves as one: nothing opens.
  layout.motions.front().parts.push_back("m/below");
  CHECK_FALSE(lift(layout, all)->moving);
}

TEST_CASE("what is carried in as one is all of the module but equipment and its fixings",
          "[assembly][lift]") {
  const Layout layout = demo();
  for (const AssemblyUnit& unit : plan_assembly(layout).units) {
    if (!unit.bench || unit.name != unit.module) continue;
    CAPTURE(unit.name);
    double mass = 0.0;
    for (const std::string& id : carried(layout, unit)) {
      const Part* part = layout.find(id);
      REQUIRE(part != nullptr);
      CHECK(part->kind != PartKind::equipment);
      mass += part->mass_kg;
    }
    CHECK(mass == Approx(unit.carried_kg));
    for (const Driven& each : unit.fixings)
      CHECK(std::ranges::count(carried(layout, unit), each.id) == 0);
  }
}
