// What screws need in the parts that they sit in, be they another module's.
#include "projects.hpp"

using namespace ribbay;
using namespace ribbay::testing;

namespace {

std::vector<Bore> bores(const Layout& layout, const char* part, auto wanted) {
  std::vector<Bore> found = layout.find(part)->shape->prisms.front().prism.bores;
  std::erase_if(found, [&](const Bore& bore) { return !wanted(bore); });
  return found;
}

auto of_diameter(double diameter) {
  return [diameter](const Bore& bore) { return std::abs(bore.diameter - diameter) < 1e-9; };
}

}  // namespace

TEST_CASE("a shelf has pilots for what another module screws to it", "[layout][screws]") {
  const Layout layout = demo();
  // By hand: six screws 3 x 12 through a leg of 3 mm, of which two go through the stop's leg as well,
  // and four of 4 x 35 through clamp 12, base 12 (11.9 to 12.1 as sold) and leg 3.
  const auto runners = bores(layout, "rack/shelf.lower", of_diameter(1.8));
  REQUIRE(runners.size() == 6);
  CHECK(std::ranges::count_if(runners, [](const Bore& b) { return std::abs(b.depth - 9) < 1e-6; }) == 4);
  CHECK(std::ranges::count_if(runners, [](const Bore& b) { return std::abs(b.depth - 6) < 1e-6; }) == 2);
  const auto clamps = bores(layout, "rack/shelf.lower", of_diameter(2.5));
  REQUIRE(clamps.size() == 4);
  for (const Bore& bore : clamps) {
    CHECK(bore.role == BoreRole::pilot);
    CHECK(bore.depth == Approx(8).margin(0.1));
    CHECK(bore.at.z == Approx(layout.find("rack/shelf.lower")->stock.thickness));  // from above
  }
}

TEST_CASE("a countersunk head has its recess in the hole that it lies flush in", "[layout][screws]") {
  const Layout layout = demo();
  // Heads of 3 x 12 are 6 across and 1.8 high: the base slides over them.
  const auto sunk = bores(layout, "heater_sled/runner.left", of_diameter(6));
  CHECK(sunk.size() == 2);
  for (const Bore& bore : sunk) CHECK(bore.depth == Approx(1.8));
  CHECK(bores(layout, "heater_sled/stop", of_diameter(6)).size() == 2);
  // Each hole of a screw 3.5 mm thick has one, those of the planks from behind too.
  for (const char* piece : {"partition/piece_1", "partition/piece_2"}) {
    const auto heads = bores(layout, piece, of_diameter(7));
    CHECK(heads.size() >= 30);
    CHECK(heads.size() == bores(layout, piece, of_diameter(4)).size());
  }
  CHECK(bores(layout, "left_lining/hatch.sockets.ring", of_diameter(6)).size() >= 4);
}

TEST_CASE("what is recessed by its kind gets no second recess", "[layout][screws]") {
  const Layout layout = demo();
  for (const Part& part : layout.parts) {
    if (!is_made(part.kind) || part.shape->prisms.size() != 1) continue;
    const auto& all = part.shape->prisms.front().prism.bores;
    for (std::size_t i = 0; i < all.size(); ++i) {
      for (std::size_t j = i + 1; j < all.size(); ++j) {
        CAPTURE(part.id, i, j);
        CHECK_FALSE((length(all[i].at - all[j].at) < 1e-6 && all[i].diameter == all[j].diameter &&
                     dot(all[i].direction, all[j].direction) > 0.5));
      }
    }
  }
}
