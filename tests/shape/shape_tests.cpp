#include "samples.hpp"
#include "shape/shape.hpp"

#include <catch2/catch.hpp>

#include <numbers>

using namespace ribbay;
using namespace samples;
using std::numbers::pi;

namespace {

void check_near(Vec3 a, Vec3 b, double within) {
  CAPTURE(a.x, a.y, a.z, b.x, b.y, b.z);
  CHECK(length(a - b) <= within);
}

}  // namespace

TEST_CASE("equal shapes have equal keys and any difference shows", "[shape]") {
  const Shape plain = random_panel(5);
  CHECK(key(plain) == key(random_panel(5)));
  Shape other = plain;
  other.prisms[0].prism.height += 1e-6;
  CHECK(key(other) != key(plain));
  other = plain;
  other.prisms[0].prism.height += 1e-12;
  CHECK(key(other) == key(plain));
  other = plain;
  other.prisms[0].frame.origin.x = 1.0;
  CHECK(key(other) != key(plain));
  other = plain;
  other.prisms[0].prism.bores.push_back({{0, 0, 0}, {0, 0, 1}, 5, 10, false});
  const std::string bored = key(other);
  CHECK(bored != key(plain));
  other.prisms[0].prism.bores[0].thread = "M6";
  CHECK(key(other) != bored);
  other = plain;
  other.prisms[0].prism.coarse = plain.prisms[0].prism.section;
  CHECK(key(other) != key(plain));
  other = plain;
  other.prisms[0].prism.cuts.push_back({rectangle({0, 0}, {1, 1}), 0, 1});
  CHECK(key(other) != key(plain));
}

TEST_CASE("a box has the bounds, volume and centroid of hand arithmetic", "[shape]") {
  const Shape box = box_shape({10, -20, 5}, {110, 30, 23});
  CHECK(bounds(box).lo == Vec3{10, -20, 5});
  CHECK(bounds(box).hi == Vec3{110, 30, 23});
  CHECK(volume(box) == 100.0 * 50.0 * 18.0);
  check_near(centroid(box), {60, 5, 14}, 1e-12);
}

TEST_CASE("a turned cylinder has exact bounds", "[shape]") {
  // Axis at 30 degrees to the horizontal in the xz plane: half extents r sin + L/2 cos and so on.
  const double c = std::cos(pi / 6.0);
  const double s = std::sin(pi / 6.0);
  const Frame frame = frame_zx({0, 0, 0}, {c, 0, s}, {-s, 0, c});
  const Shape shape{{cylinder(20, 100, frame)}};
  const Box box = bounds(shape);
  check_near(box.lo, {-10.0 * s, -10.0, -10.0 * c}, 1e-12);
  check_near(box.hi, {100.0 * c + 10.0 * s, 10.0, 100.0 * s + 10.0 * c}, 1e-12);
  CHECK(volume(shape) == Approx(pi * 100.0 * 100.0).epsilon(1e-13));
  check_near(centroid(shape), {50.0 * c, 0.0, 50.0 * s}, 1e-12);
}

TEST_CASE("bounds follow arcs, not their corners", "[shape]") {
  // A D: flat on the left, a half round nose of radius 10 (two quarter arcs) on the right.
  const Loop d{{{0, -10}}, {{30, -10}, 10}, {{30, 10}, 10}, {{0, 10}}};
  const Box box = bounds(prism({d, {}}, 5));
  CHECK(box.hi.x == Approx(30.0));
  // An equilateral triangle with side 60 and corners of radius 5: each corner draws back by r.
  const double h = 60.0 * std::sqrt(3.0) / 2.0;
  const Loop t{{{0, 0}, 5}, {{60, 0}, 5}, {{30, h}, 5}};
  const Box rounded = bounds(prism({t, {}}, 5));
  CHECK(rounded.hi.y == Approx(h - 5.0));  // distance corner to arc: r / sin 30 - r
  CHECK(rounded.lo.y == Approx(0.0).margin(1e-12));
}

TEST_CASE("placed bounds are exact when the frame is square to the axes", "[shape]") {
  const Shape box = box_shape({0, 0, 0}, {100, 50, 18});
  const Box b = bounds(box, frame_zx({1000, 0, 0}, {0, 1, 0}, {0, 0, 1}));
  CHECK(b.lo == Vec3{1000, 0, 0});
  CHECK(b.hi == Vec3{1050, 18, 100});
}

TEST_CASE("placed bounds are exact when the frame is tilted", "[shape]") {
  // A disc of 100 by 10 about y, tipped by half a right angle: 100 / sqrt 2 + 10 / sqrt 2 each way.
  // Turned about its axis it stays as wide as it is; the box around its box would be 100 sqrt 2.
  const double c = std::sqrt(0.5);
  const Shape disc{{cylinder(100, 10)}};
  const Box tipped = bounds(disc, Frame{{}, {c, 0, -c}, {0, 1, 0}, {c, 0, c}});
  CHECK(tipped.size().x == Approx(110 * c));
  CHECK(tipped.size().y == Approx(100));
  CHECK(tipped.size().z == Approx(110 * c));
  const Box turned = bounds(disc, Frame{{}, {c, c, 0}, {-c, c, 0}, {0, 0, 1}});
  CHECK(turned.size().x == Approx(100));
  CHECK(turned.size().y == Approx(100));
}

TEST_CASE("what a cut takes away at an edge moves the bounds", "[shape]") {
  const Shape shape =
      prism({rectangle({0, 0}, {100, 50}), {}}, 18,
            {{rectangle({-1, -1}, {10, 51}), -1, 20}, {rectangle({-1, -1}, {101, 51}), 15, 18}});
  CHECK(bounds(shape).lo == Vec3{10, 0, 0});
  CHECK(bounds(shape).hi == Vec3{100, 50, 15});
}

TEST_CASE("volumes under cuts are those of hand arithmetic", "[shape]") {
  const Region plate{rectangle({0, 0}, {100, 60}), {}};
  const double blank = 100.0 * 60.0 * 18.0;
  struct Row {
    const char* name;
    std::vector<Cut> cuts;
    double removed;
  };
  const auto row = GENERATE_COPY(values<Row>({
      {"a dado through", {{rectangle({40, -5}, {55, 65}), 12, 20}}, 15.0 * 60.0 * 6.0},
      {"a stopped dado", {{rectangle({40, 0}, {55, 30}), 12, 18}}, 15.0 * 30.0 * 6.0},
      {"a notch at the corner", {{rectangle({-5, -5}, {20, 10}), -5, 30}}, 20.0 * 10.0 * 18.0},
      {"a round hole", {{circle({50, 30}, 20), 0, 18}}, pi * 100.0 * 18.0},
      {"half a hole at the edge", {{circle({50, 0}, 20), 0, 18}}, pi * 50.0 * 18.0},
      {"a quarter at the corner", {{circle({0, 0}, 20), 0, 18}}, pi * 25.0 * 18.0},
      {"the same cut twice",
       {{rectangle({40, -5}, {55, 65}), 12, 20}, {rectangle({40, -5}, {55, 65}), 12, 20}},
       15.0 * 60.0 * 6.0},
      {"dados that cross",
       {{rectangle({40, -5}, {55, 65}), 12, 20}, {rectangle({-5, 20}, {105, 35}), 14, 20}},
       15.0 * 60.0 * 6.0 + 100.0 * 15.0 * 4.0 - 15.0 * 15.0 * 4.0},
      {"from both faces, through in the middle",
       {{rectangle({40, -5}, {55, 65}), 9, 18}, {rectangle({-5, 20}, {105, 35}), 0, 9}},
       15.0 * 60.0 * 9.0 + 100.0 * 15.0 * 9.0},
      {"a cut beside the plate", {{rectangle({200, 0}, {300, 10}), 0, 18}}, 0.0},
      {"a cut that shares the edge from outside", {{rectangle({100, 0}, {120, 60}), 0, 18}}, 0.0},
      {"a cut above the plate", {{rectangle({40, 0}, {55, 30}), 18, 30}}, 0.0},
      {"all of it", {{rectangle({-1, -1}, {101, 61}), -1, 19}}, 100.0 * 60.0 * 18.0},
      {"a lens of two circles",  // area common to circles of radius 10 whose centres are 10 apart
       {{circle({50, 30}, 20), 0, 18}, {circle({60, 30}, 20), 0, 18}},
       18.0 * (2.0 * pi * 100.0 - (2.0 * 100.0 * pi / 3.0 - 50.0 * std::sqrt(3.0)))},
      {"a hole tangent to the edge of a notch",
       {{rectangle({-5, -5}, {20, 10}), 0, 18}, {circle({30, 5}, 20), 0, 18}},
       // the circle reaches x = 20 where the notch ends; below y = 0 a segment of it lies outside
       18.0 * (200.0 + pi * 100.0 - (100.0 * std::acos(0.5) - 5.0 * std::sqrt(75.0)))},
  }));
  CAPTURE(row.name);
  CHECK(volume(prism(plate, 18, row.cuts)) ==
        Approx(blank - row.removed).epsilon(1e-12).margin(1e-7));
}

TEST_CASE("the centroid knows about cuts and frames", "[shape]") {
  // Upper half of the right half taken away: an L seen from the side.
  Shape shape =
      prism({rectangle({0, 0}, {100, 60}), {}}, 20, {{rectangle({50, -1}, {101, 61}), 10, 21}});
  const double full = 50.0 * 60.0 * 20.0;
  const double low = 50.0 * 60.0 * 10.0;
  const double all = full + low;
  check_near(centroid(shape), {(full * 25 + low * 75) / all, 30, (full * 10 + low * 5) / all},
             1e-10);
  shape.prisms[0].frame = frame_zx({0, 0, 500}, {1, 0, 0}, {0, 1, 0});  // x to y, y to z, z to x
  check_near(centroid(shape), {(full * 10 + low * 5) / all, (full * 25 + low * 75) / all, 530},
             1e-10);
}

TEST_CASE("several prisms count as one body", "[shape]") {
  Shape bolt{{cylinder(8, 40), cylinder(13, 8, {.origin = {0, 0, -8}})}};
  CHECK(volume(bolt) == Approx(pi * (16.0 * 40.0 + 42.25 * 8.0)));
  check_near(bounds(bolt).lo, {-6.5, -6.5, -8}, 1e-12);
  check_near(bounds(bolt).hi, {6.5, 6.5, 40}, 1e-12);
}

TEST_CASE("bores are counted apart from the volume", "[shape]") {
  Shape panel = box_shape({0, 0, 0}, {100, 60, 18});
  panel.prisms[0].prism.bores = {{{20, 30, 18}, {0, 0, -1}, 8, 18, true},
                                 {{70, 30, 18}, {0, 0, -1}, 5, 11, false}};
  CHECK(volume(panel) == 100.0 * 60.0 * 18.0);
  CHECK(bores_volume(panel) == Approx(pi / 4.0 * (64.0 * 18.0 + 25.0 * 11.0)));
}

TEST_CASE("volumes under cuts agree with counting points", "[shape]") {
  for (unsigned seed = 1; seed <= 12; ++seed) {
    CAPTURE(seed);
    const Shape shape = random_panel(seed);
    const Prism& p = shape.prisms[0].prism;
    const Solid solid(p);
    const Vec2 size = p.section.outer[2].at;
    Dice dice(seed + 1000);
    int hits = 0;
    constexpr int n = 40000;
    for (int i = 0; i < n; ++i)
      hits += solid.contains(
          {dice.between(0, size.x), dice.between(0, size.y), dice.between(0, p.height)});
    const double whole = size.x * size.y * p.height;
    const double share = static_cast<double>(hits) / n;
    // four standard deviations of a count
    CHECK(std::abs(volume(shape) / whole - share) <
          4.0 * std::sqrt(share * (1.0 - share) / n) + 1e-9);
  }
}
