#include "samples.hpp"
#include "shape/plate_edges.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;

namespace {

/// 100 x 60, its corners R20, with a round hole, an opening through it and a pocket.
Prism plate() {
  Region region{rectangle({0, 0}, {100, 60}, 20), {reversed(circle({70, 30}, 20))}};
  return {.section = std::move(region),
          .height = 12,
          .cuts = {{rectangle({20, 20}, {40, 40}, 5), 0, 12, CutRole::cut_out},
                   {rectangle({45, 10}, {55, 20}), 6, 12, CutRole::groove}},
          .bores = {},
          .coarse = {}};
}

}  // namespace

TEST_CASE("a point of a plate knows its nearest edge", "[shape][plate_edges]") {
  const Prism p = plate();
  CHECK(to_edge(p, {50, 4}) == Approx(4));
  // In the groove, which is not cut through: the opening's corner is nearest, R5 about (35, 25).
  CHECK(to_edge(p, {50, 15}) == Approx(std::hypot(15, 10) - 5));
  CHECK(to_edge(p, {70, 30}) == Approx(10));  // the middle of the hole
  CHECK(to_edge(p, {43, 30}) == Approx(3));   // beside the opening
  // On the corner's diagonal, 20 less sqrt(2) x 14 from the arc about (20, 20).
  CHECK(to_edge(p, {6, 6}) == Approx(20 - 14 * std::sqrt(2.0)));
  CHECK(to_edge(p, {0, 0}) == Approx(20 * std::sqrt(2.0) - 20));
}

TEST_CASE("a point lies within a plate when fine polygons say so", "[shape][plate_edges]") {
  const Prism p = plate();
  CHECK(is_within(p, {6, 6.5}));
  CHECK_FALSE(is_within(p, {5, 5}));    // rounded off
  CHECK_FALSE(is_within(p, {70, 39}));  // in the hole
  CHECK_FALSE(is_within(p, {30, 30}));
  CHECK(is_within(p, {20.5, 20.5}));  // in the corner that R5 leaves
  CHECK(is_within(p, {50, 15}));
  // Second opinion: odd crossings with polygons of many chords.
  const auto odd = [](const Loop& loop, Vec2 at) {
    const std::vector<Vec2> polygon = samples::fine_polygon(loop);
    bool inside = false;
    for (std::size_t i = 0, j = polygon.size() - 1; i < polygon.size(); j = i++) {
      const Vec2 a = polygon[i];
      const Vec2 b = polygon[j];
      if ((a.y > at.y) != (b.y > at.y) && at.x < a.x + (b.x - a.x) * (at.y - a.y) / (b.y - a.y))
        inside = !inside;
    }
    return inside;
  };
  for (double x = -5.3; x < 106; x += 1.7) {
    for (double y = -5.1; y < 66; y += 1.3) {
      const Vec2 at{x, y};
      if (to_edge(p, at) < 0.1) continue;
      const bool expected =
          odd(p.section.outer, at) && !odd(p.section.holes[0], at) && !odd(p.cuts[0].outline, at);
      CAPTURE(x, y);
      CHECK(is_within(p, at) == expected);
    }
  }
}
