#include "scenes.hpp"
#include "shape/sections.hpp"
#include "structure/fixings.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;

namespace {

Part screw_at(const std::string& id, Vec3 at, Vec3 direction, Vec3 across) {
  Part screw =
      scenes::part(id, box_shape({-2, -2, 0}, {2, 2, 30}), frame_zx(at, direction, across));
  screw.kind = PartKind::hardware;
  screw.stock.key = "wood";
  screw.hosts = {"a/block"};
  return screw;
}

/// A block with a screw 4 x 30 from above at (50, 50, 40) and one from the left at height `z`, that
/// passes it `beside`.
Findings crossing_screws(double beside, double z, const std::string& host = "a/block") {
  Layout layout =
      scenes::layout_of({scenes::box_part("a/block", {0, 0, 0}, {100, 100, 40}),
                         screw_at("a/screw_1", {50, 50, 40}, {0, 0, -1}, {1, 0, 0}),
                         screw_at("a/screw_2", {35, 50 + beside, z}, {1, 0, 0}, {0, 1, 0})});
  auto catalogue = std::make_shared<Catalogue>();
  Bolt& bolt = catalogue->bolts["wood"];
  bolt.key = "wood";
  bolt.kind = BoltKind::wood;
  bolt.diameter = 4;
  bolt.length = 30;
  layout.catalogue = catalogue;
  layout.parts.back().hosts = {host};
  Findings findings = check_fixings(layout);
  std::erase_if(findings, [](const Finding& f) { return f.code != "fixing.screws_meet"; });
  return findings;
}

}  // namespace

TEST_CASE("two screws that cross need wood between them", "[structure][fixings]") {
  // Axes 7 apart where they cross: 3 mm of wood, and 4 are wanted.
  const Findings near = crossing_screws(7, 20);
  REQUIRE(near.size() == 1);
  CHECK(near.front().severity == Severity::warning);
  CHECK(std::get<double>(near.front().argument("measured")->value) == Approx(3));
  CHECK(std::get<double>(near.front().argument("required")->value) == Approx(4));
  CHECK(crossing_screws(8.1, 20).empty());
  // Below the upper one's tip, at z = 10, it is nearest to the tip: 6.5 down and 4 beside.
  const Findings below = crossing_screws(4, 3.5);
  REQUIRE(below.size() == 1);
  CHECK(std::get<double>(below.front().argument("measured")->value) ==
        Approx(std::hypot(6.5, 4) - 4));
  CHECK(crossing_screws(4, 1.0).empty());  // hypot(9, 4) - 4 = 5.8
  // Screws that share no piece are not compared.
  CHECK(crossing_screws(7, 20, "a/other").empty());
}
