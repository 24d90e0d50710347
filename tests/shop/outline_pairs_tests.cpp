#include "shop/outline_pairs.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

using namespace ribbay;

namespace {

bool within(Vec2 p, const Polygon& polygon) {
  // By the angle that the outline turns about the point: no code in common with what is tested.
  double angle = 0.0;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Vec2 a = polygon[i] - p;
    const Vec2 b = polygon[(i + 1) % polygon.size()] - p;
    angle += std::atan2(cross(a, b), dot(a, b));
  }
  return std::abs(angle) > std::numbers::pi;
}

/// Points along the outline, `step` apart at most.
std::vector<Vec2> walked(const Polygon& polygon, double step) {
  std::vector<Vec2> points;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Vec2 a = polygon[i];
    const Vec2 way = polygon[(i + 1) % polygon.size()] - a;
    const int steps = std::max(1, static_cast<int>(std::ceil(length(way) / step)));
    for (int k = 0; k < steps; ++k) points.push_back(a + way * (static_cast<double>(k) / steps));
  }
  return points;
}

double area(const Polygon& polygon) {
  double twice = 0.0;
  for (std::size_t i = 0; i < polygon.size(); ++i)
    twice += cross(polygon[i], polygon[(i + 1) % polygon.size()]);
  return twice / 2;
}

/// Both lie in the rectangle, and a saw cut apart, by points every mm: off by half a mm at most.
void check_pair(const OutlinePair& pair, const Polygon& a, const Polygon& b, double kerf) {
  CHECK(area(pair.first) == Approx(area(a)));
  CHECK(area(pair.second) == Approx(area(b)));
  for (const Polygon* each : {&pair.first, &pair.second}) {
    for (const Vec2 p : *each) {
      CHECK(p.x > -1e-6);
      CHECK(p.y > -1e-6);
      CHECK(p.x < pair.length + 1e-6);
      CHECK(p.y < pair.width + 1e-6);
    }
  }
  double least = 1e9;
  const std::vector<Vec2> first = walked(pair.first, 1.0);
  const std::vector<Vec2> second = walked(pair.second, 1.0);
  for (const Vec2 p : first) {
    for (const Vec2 q : second) least = std::min(least, length(p - q));
  }
  CHECK(least > kerf - 1e-6);
  CHECK(std::ranges::none_of(first, [&](Vec2 p) { return within(p, pair.second); }));
  CHECK(std::ranges::none_of(second, [&](Vec2 p) { return within(p, pair.first); }));
}

}  // namespace

TEST_CASE("two triangles share a rectangle along their long sides", "[shop][pairs]") {
  // By hand: legs 1000 and 600, turned by half a turn, 3 mm between the long sides. Pushed along the
  // length that takes 3 / sin = 3 * sqrt(1000^2 + 600^2) / 600 = 5.831 mm more.
  const Polygon triangle{{0, 0}, {1000, 0}, {0, 600}};
  const auto pair = pair_outlines(triangle, triangle, 3.0);
  REQUIRE(pair);
  CHECK(pair->turned);
  check_pair(*pair, triangle, triangle, 3.0);
  const double along = (1000 + 5.831) * 600;
  CHECK(pair->length * pair->width == Approx(along).epsilon(1e-3));
}

TEST_CASE("two angles lie in each other", "[shop][pairs]") {
  // By hand: 400 x 400 with arms 200 wide: 600 x 400 and a saw cut each way.
  const Polygon angle{{0, 0}, {400, 0}, {400, 200}, {200, 200}, {200, 400}, {0, 400}};
  const auto pair = pair_outlines(angle, angle, 3.0);
  REQUIRE(pair);
  check_pair(*pair, angle, angle, 3.0);
  const auto [least, most] = std::minmax(pair->length, pair->width);
  CHECK(least == Approx(403).margin(0.01));
  CHECK(most == Approx(603).margin(0.01));
}

TEST_CASE("rectangles share nothing", "[shop][pairs]") {
  const Polygon plain{{0, 0}, {700, 0}, {700, 300}, {0, 300}};
  CHECK_FALSE(pair_outlines(plain, plain, 3.0));
}

TEST_CASE("a curved lining lies in the hollow of another one", "[shop][pairs]") {
  // A strip that bows: between two arcs about one centre, 1000 mm and 700 mm, 60 degrees.
  Polygon bow;
  for (int i = 0; i <= 12; ++i) {
    const double angle = (60.0 + 5.0 * i) * std::numbers::pi / 180;
    bow.push_back(Vec2{std::cos(angle), std::sin(angle)} * 1000);
  }
  for (int i = 12; i >= 0; --i) {
    const double angle = (60.0 + 5.0 * i) * std::numbers::pi / 180;
    bow.push_back(Vec2{std::cos(angle), std::sin(angle)} * 700);
  }
  const auto pair = pair_outlines(bow, bow, 4.0);
  REQUIRE(pair);
  check_pair(*pair, bow, bow, 4.0);
  // Rectangles around them: 1000 long, 1000 - 700 cos 30 = 393.8 wide, twice; unturned, one above
  // the other, at most 300 mm and the saw cut at the middle more, and some for the slope.
  CHECK(pair->length * pair->width < 1000 * (393.8 + 352));
}

TEST_CASE("pairs of random outlines never overlap", "[shop][pairs]") {
  std::mt19937 random(20261126);
  const auto number = [&](int from, int to) {
    return from + static_cast<int>(random() % static_cast<unsigned>(to - from + 1));
  };
  int shared = 0;
  for (int round = 0; round < 25; ++round) {
    CAPTURE(round);
    const auto star = [&] {  // corners round a middle: crosses itself nowhere
      Polygon polygon;
      const int corners = number(3, 9);
      for (int i = 0; i < corners; ++i) {
        const double angle = 2 * std::numbers::pi * i / corners;
        polygon.push_back(Vec2{std::cos(angle), std::sin(angle)} * number(40, 200));
      }
      return polygon;
    };
    const Polygon a = star();
    const Polygon b = star();
    const auto pair = pair_outlines(a, b, 3.0);
    if (!pair) continue;
    ++shared;
    check_pair(*pair, a, b, 3.0);
  }
  CHECK(shared > 10);
}
