#include "samples.hpp"
#include "shape/region.hpp"

#include <catch2/catch.hpp>

#include <limits>
#include <numbers>

using namespace ribbay;
using std::numbers::pi;

namespace {

/// By the midpoint rule over thin strips; shares no formula with the library.
AreaMoments by_strips(const Loop& loop, double x0, double x1, double y0, double y1, int n) {
  const std::vector<Vec2> polygon = samples::fine_polygon(loop);
  AreaMoments sum;
  for (int i = 0; i < n; ++i) {
    const double y = y0 + (y1 - y0) * (i + 0.5) / n;
    std::vector<double> crossings;
    for (std::size_t k = 0, j = polygon.size() - 1; k < polygon.size(); j = k++)
      if ((polygon[k].y > y) != (polygon[j].y > y))
        crossings.push_back(polygon[k].x + (y - polygon[k].y) / (polygon[j].y - polygon[k].y) *
                                               (polygon[j].x - polygon[k].x));
    std::ranges::sort(crossings);
    for (std::size_t k = 0; k + 1 < crossings.size(); k += 2) {
      const double a = std::clamp(crossings[k], x0, x1);
      const double b = std::clamp(crossings[k + 1], x0, x1);
      const double h = (y1 - y0) / n;
      sum.area += (b - a) * h;
      sum.x += (b * b - a * a) / 2 * h;
      sum.y += (b - a) * y * h;
      sum.xx += (b * b * b - a * a * a) / 3 * h;
      sum.yy += (b - a) * y * y * h;
      sum.xy += (b * b - a * a) / 2 * y * h;
    }
  }
  return sum;
}

}  // namespace

TEST_CASE("a rounded corner is an arc tangent to both sides", "[shape][region]") {
  const std::vector<Side> all = sides(rectangle({0, 0}, {40, 20}, 3));
  REQUIRE(all.size() == 8);
  int arcs = 0;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const Side& side = all[i];
    CHECK(side.b == all[(i + 1) % all.size()].a);
    if (!side.arc) continue;
    ++arcs;
    CHECK(side.radius == 3.0);
    CHECK(side.counter_clockwise);
    CHECK(length(side.a - side.centre) == Approx(3.0));
    CHECK(length(side.b - side.centre) == Approx(3.0));
    const Side& before = all[(i + all.size() - 1) % all.size()];
    CHECK(dot(before.b - before.a, side.a - side.centre) == Approx(0.0).margin(1e-9));
  }
  CHECK(arcs == 4);
}

TEST_CASE("a circle is four arcs without straight sides", "[shape][region]") {
  const std::vector<Side> all = sides(circle({7, -2}, 25.4));
  REQUIRE(all.size() == 4);
  for (const Side& side : all) {
    CHECK(side.arc);
    CHECK(length(side.centre - Vec2{7, -2}) < 1e-12);
  }
}

TEST_CASE("a corner into the material is rounded clockwise", "[shape][region]") {
  const Loop l{{{0, 0}}, {{30, 0}}, {{30, 10}}, {{10, 10}, 4}, {{10, 30}}, {{0, 30}}};
  int clockwise = 0;
  for (const Side& side : sides(l)) clockwise += side.arc && !side.counter_clockwise ? 1 : 0;
  CHECK(clockwise == 1);
  // The fillet adds what lies between it and the sharp corner: (1 - pi/4) r^2.
  CHECK(area({l, {}}) == Approx(30.0 * 10.0 + 10.0 * 20.0 + (1.0 - pi / 4.0) * 16.0));
}

TEST_CASE("corners that go straight on or repeat change nothing", "[shape][region]") {
  Loop plain = rectangle({0, 0}, {40, 20}, 3);
  Loop wordy = plain;
  wordy.insert(wordy.begin() + 1, Corner{{20, 0}, 5});
  wordy.insert(wordy.begin() + 3, wordy[2]);
  CHECK(area({wordy, {}}) == Approx(area({plain, {}})).epsilon(1e-13));
  CHECK(fault({wordy, {}}).empty());
}

TEST_CASE("areas with arcs and holes are those of hand arithmetic", "[shape][region]") {
  CHECK(area({rectangle({0, 0}, {40, 20}), {}}) == 800.0);
  CHECK(area({rectangle({0, 0}, {40, 20}, 3), {}}) ==
        Approx(800.0 - (4.0 - pi) * 9.0).epsilon(1e-14));
  CHECK(area({circle({1000, 1000}, 50), {}}) == Approx(pi * 625.0).epsilon(1e-12));
  CHECK(area({circle({0, 0}, 50), {reversed(circle({5, 0}, 20))}}) ==
        Approx(pi * (625.0 - 100.0)).epsilon(1e-13));
}

TEST_CASE("outlines know their length and how far they reach", "[shape][region]") {
  CHECK(perimeter(rectangle({0, 0}, {40, 20}, 3)) == Approx(120.0 - 8.0 * 3.0 + 2.0 * pi * 3.0));
  const Loop loop = circle({10, 5}, 30);
  CHECK(perimeter(loop) == Approx(pi * 30.0));
  CHECK(reach(loop, {0.6, 0.8}) == Approx(10.0 * 0.6 + 5.0 * 0.8 + 15.0));
  CHECK(reach(loop, {0, -1}) == Approx(10.0));
  const Loop rounded = rectangle({0, 0}, {40, 20}, 3);
  const double s = std::sqrt(0.5);
  CHECK(reach(rounded, {s, s}) == Approx((37.0 + 17.0) * s + 3.0));
}

TEST_CASE("moments of a circle are exact anywhere", "[shape][region]") {
  const AreaMoments m = moments({circle({30, -40}, 20), {}});
  const double a = pi * 100.0;
  const double i = pi * 10000.0 / 4.0;  // pi r^4 / 4 about a diameter
  CHECK(m.area == Approx(a).epsilon(1e-13));
  CHECK(m.x == Approx(30.0 * a).epsilon(1e-13));
  CHECK(m.y == Approx(-40.0 * a).epsilon(1e-13));
  CHECK(m.xx == Approx(i + 900.0 * a).epsilon(1e-13));
  CHECK(m.yy == Approx(i + 1600.0 * a).epsilon(1e-13));
  CHECK(m.xy == Approx(-1200.0 * a).epsilon(1e-13));
}

TEST_CASE("moments agree with thin strips on odd outlines", "[shape][region]") {
  for (unsigned seed = 1; seed <= 20; ++seed) {
    CAPTURE(seed);
    samples::Dice dice(seed);
    const Loop loop = samples::random_convex(dice, {20, 10}, 30);
    const AreaMoments m = moments({loop, {}});
    const AreaMoments strips = by_strips(loop, -60, 60, -60, 60, 20000);
    CHECK(m.area == Approx(strips.area).epsilon(1e-4));
    CHECK(m.x == Approx(strips.x).epsilon(1e-4));
    CHECK(m.y == Approx(strips.y).epsilon(1e-4));
    CHECK(m.xx == Approx(strips.xx).epsilon(1e-4));
    CHECK(m.yy == Approx(strips.yy).epsilon(1e-4));
    CHECK(m.xy == Approx(strips.xy).epsilon(1e-4));
  }
}

TEST_CASE("a flat arc of a huge radius keeps its digits", "[shape][region]") {
  // A strip bent by a hair: corner of 0.001 rad rounded by 50 m. Against the same outline in 1000
  // chords, which differ by about s^2/(12 n^2) of the segment.
  const double turn = 0.001;
  const Loop loop{{{0, 0}},
                  {{1000, 0}, 50000},
                  {{1000 + 1000 * std::cos(turn), 1000 * std::sin(turn)}},
                  {{1000, 1000}}};
  const std::vector<Vec2> fine = samples::fine_polygon(loop);
  Loop polygon;
  for (const Vec2 p : fine) polygon.push_back({p});
  const AreaMoments a = moments({loop, {}});
  const AreaMoments b = moments({polygon, {}});
  CHECK(a.area == Approx(b.area).epsilon(1e-11));
  CHECK(a.xx == Approx(b.xx).epsilon(1e-11));
  CHECK(a.yy == Approx(b.yy).epsilon(1e-10));
}

TEST_CASE("faults of a region are named", "[shape][region]") {
  constexpr double nan = std::numeric_limits<double>::quiet_NaN();
  constexpr double inf = std::numeric_limits<double>::infinity();
  struct Row {
    const char* name;
    Region region;
    const char* expected;
  };
  const Loop plate = rectangle({0, 0}, {40, 20});
  const auto row = GENERATE_COPY(values<Row>({
      {"a plate", {plate, {}}, ""},
      {"a plate with two holes",
       {plate, {reversed(circle({10, 10}, 8)), reversed(circle({30, 10}, 8))}},
       ""},
      {"a full radius at both ends", {rectangle({0, 0}, {40, 20}, 10), {}}, ""},
      {"nothing", {}, "shape.few_corners"},
      {"two corners", {{{{0, 0}}, {{1, 1}}}, {}}, "shape.few_corners"},
      {"three corners of which two are one",
       {{{{0, 0}}, {{0, 0}}, {{1, 1}}}, {}},
       "shape.few_corners"},
      {"not a number", {{{{0, 0}}, {{nan, 0}}, {{1, 1}}}, {}}, "shape.not_finite"},
      {"an endless side", {{{{0, 0}}, {{inf, 0}}, {{1, 1}}}, {}}, "shape.not_finite"},
      {"a negative radius", {rectangle({0, 0}, {40, 20}, -1), {}}, "shape.not_finite"},
      {"clockwise", {reversed(plate), {}}, "shape.wrong_direction"},
      {"a hole that runs the outer way", {plate, {circle({10, 10}, 8)}}, "shape.wrong_direction"},
      {"a radius larger than half the side",
       {rectangle({0, 0}, {40, 20}, 10.1), {}},
       "shape.radius_too_large"},
      {"a bow tie", {{{{0, 0}}, {{10, 10}}, {{10, 0}}, {{0, 12}}}, {}}, "shape.crosses_itself"},
      {"a spike", {{{{0, 0}}, {{20, 0}}, {{10, 0}}, {{10, 10}}}, {}}, "shape.crosses_itself"},
      {"a corner that touches another side",
       {{{{0, 0}}, {{20, 0}}, {{20, 10}}, {{10, 0}}, {{0, 10}}}, {}},
       "shape.crosses_itself"},
      {"a hole across the edge", {plate, {reversed(circle({0, 10}, 8))}}, "shape.crosses_itself"},
      {"a hole that touches the edge",
       {plate, {reversed(circle({4, 10}, 8))}},
       "shape.crosses_itself"},
      {"a hole outside", {plate, {reversed(circle({100, 10}, 8))}}, "shape.crosses_itself"},
      {"a hole around everything",
       {plate, {reversed(circle({20, 10}, 100))}},
       "shape.crosses_itself"},
      {"a hole in a hole",
       {plate, {reversed(circle({20, 10}, 16)), reversed(circle({20, 10}, 6))}},
       "shape.crosses_itself"},
      {"holes that cross",
       {plate, {reversed(circle({18, 10}, 8)), reversed(circle({22, 10}, 8))}},
       "shape.crosses_itself"},
      {"round outlines that cross in arcs only",
       {circle({0, 0}, 20), {reversed(circle({8, 0}, 10))}},
       "shape.crosses_itself"},
  }));
  CAPTURE(row.name);
  CHECK(fault(row.region) == row.expected);
}

TEST_CASE("every section family is free of faults", "[shape][region]") {
  for (const samples::Named& family : samples::section_families()) {
    CAPTURE(family.name);
    CHECK(fault(family.section) == "");
  }
  SlottedSizes torn;  // slots that eat into each other
  torn.cavity = 36;
  torn.depth = 16;
  CHECK(fault(slotted_section(torn)) == "shape.crosses_itself");
}

TEST_CASE("the area of a slotted profile is that of hand arithmetic", "[shape][region]") {
  const SlottedSizes s;
  // Square less four slots (rectangle through the lip, trapezoid behind it), the core bore and the
  // corners.
  const double slot = s.opening * s.lip + (s.cavity + s.floor) / 2.0 * (s.depth - s.lip);
  const double expected = s.cell * s.cell - 4.0 * slot - pi / 4.0 * s.core_bore * s.core_bore -
                          (4.0 - pi) * s.corner_radius * s.corner_radius;
  CHECK(area(slotted_section(s)) == Approx(expected).epsilon(1e-13));

  SlottedSizes two = s;
  two.across = 2;
  // Six slots, and a chamber: two cavities that face each other, closed to the width of the cavity
  // at the lips.
  const double chamber = 2.0 * (s.cavity * s.lip + (s.cavity + s.floor) / 2.0 * (s.depth - s.lip));
  CHECK(area(slotted_section(two)) ==
        Approx(2.0 * s.cell * s.cell - 6.0 * slot - chamber - pi / 2.0 * s.core_bore * s.core_bore -
               (4.0 - pi) * s.corner_radius * s.corner_radius)
            .epsilon(1e-13));
}
