#include "base/tolerance.hpp"
#include "clearance/separation.hpp"
#include "clearance/sweep.hpp"
#include "scenes.hpp"

#include <numbers>

using namespace ribbay;
using scenes::block;
using scenes::Dice;

namespace {

constexpr double kPi = std::numbers::pi;

ConvexPiece random_piece(Dice& dice, double size) {
  if (dice.whole(0, 2) == 0) {
    const Vec3 half{dice.real(1, size), dice.real(1, size), dice.real(1, size)};
    return block(-half, half, scenes::turned_frame(dice.direction(), dice.real(0, kPi)));
  }
  std::vector<Vec3> points;
  for (int k = dice.whole(4, 8); k > 0; --k) points.push_back(dice.point(size));
  return scenes::hull(points);
}

double depth(const ConvexPiece& a, const ConvexPiece& b) {
  return -separation(a, b).distance;
}

/// A drawer front or door, 450 mm wide, 18 mm thick; it turns about its inner hinge-side edge.
ConvexPiece door() {
  return block({0, -18, 0}, {450, 0, 700});
}
const Turn kHinge{{0, 0, 0}, {0, 0, 1}};

}  // namespace

TEST_CASE("a straight travel ends where faces meet", "[sweep]") {
  const ConvexPiece front = block({0, 0, 0}, {20, 300, 100});
  const ConvexPiece wall = block({232.4, -100, -100}, {300, 400, 50});
  const auto stretch = contact_stretch(front, wall, {1, 0, 0}, 400);
  REQUIRE(stretch);
  CHECK(stretch->from == Approx(212.4 + kContact).margin(1e-9));
  CHECK(stretch->to == Approx(300 - kContact).margin(1e-9));
  CHECK_FALSE(contact_stretch(front, wall, {1, 0, 0}, 212.4));
  CHECK_FALSE(contact_stretch(front, wall, {0, 0, 1}, 400));
}

TEST_CASE("what rests or slides on something does not stop", "[sweep]") {
  const ConvexPiece drawer = block({0, 0, 0}, {400, 300, 100});
  struct Row {
    const char* name;
    ConvexPiece neighbour;
    bool stops;
  };
  const auto row = GENERATE(values<Row>({
      {"slides on a runner", block({0, 0, -20}, {900, 300, 0}), false},
      {"slides on a runner that is 0.009 high", block({0, 0, -20}, {900, 300, 0.009}), false},
      {"cuts into a runner that is 0.011 high", block({0, 0, -20}, {900, 300, 0.011}), true},
      {"rests against a back and moves away", block({-20, 0, 0}, {0, 300, 100}), false},
      {"rests against a stop", block({400, 0, 0}, {420, 300, 100}), true},
  }));
  CAPTURE(row.name);
  CHECK(contact_stretch(drawer, row.neighbour, {1, 0, 0}, 500).has_value() == row.stops);
}

TEST_CASE("straight sweeps agree with dense sampling", "[sweep]") {
  Dice dice(5);
  int hits = 0;
  for (int i = 0; i < 300; ++i) {
    CAPTURE(i);
    const ConvexPiece a = random_piece(dice, 15);
    const ConvexPiece b = moved(random_piece(dice, 15), dice.point(35));
    const Vec3 direction = dice.direction();
    const auto stretch = contact_stretch(a, b, direction, 50);
    const double free_until = stretch ? stretch->from : 50.0;
    for (double t = 0; t < free_until; t += 0.05) {
      if (depth(moved(a, direction * t), b) > kContact + 1e-9) FAIL("missed a contact at " << t);
    }
    if (!stretch) continue;
    ++hits;
    if (stretch->from > 0) {
      CHECK(depth(moved(a, direction * stretch->from), b) == Approx(kContact).margin(1e-9));
    }
    const double middle = (stretch->from + stretch->to) / 2;
    CHECK(depth(moved(a, direction * middle), b) > kContact);
    if (stretch->to < 50) {
      CHECK(depth(moved(a, direction * stretch->to), b) == Approx(kContact).margin(1e-9));
    }
  }
  CHECK(hits > 50);
}

TEST_CASE("a contact much shorter than any step is found", "[sweep]") {
  // A flange ta thick passes a sheet tb thick: they meet over ta + tb - 2 kContact of travel.
  Dice dice(6);
  for (int i = 0; i < 200; ++i) {
    const double ta = dice.real(0.02, 0.1), tb = dice.real(0.02, 0.1), y = dice.real(100, 400);
    CAPTURE(i, ta, tb, y);
    const ConvexPiece flange = block({0, 0, 0}, {40, ta, 20});
    const ConvexPiece sheet = block({30, y, -5}, {70, y + tb, 30});
    const auto stretch = contact_stretch(flange, sheet, {0, 1, 0}, 500);
    REQUIRE(stretch);
    CHECK(stretch->from == Approx(y - ta + kContact).margin(1e-9));
    CHECK(stretch->to == Approx(y + tb - kContact).margin(1e-9));
  }
}

TEST_CASE("a door opens until its far corner meets a wall", "[sweep]") {
  // The outer inner corner (450, 0) rises to y = 450 sin(angle).
  const auto y = GENERATE(100.0, 300.0, 449.0);
  const ConvexPiece wall = block({-1000, y, -100}, {1000, y + 50, 800});
  const auto angle = contact_angle(door(), wall, kHinge, kPi / 2);
  REQUIRE(angle);
  CHECK(*angle == Approx(std::asin((y + kContact) / 450.0)).margin(1e-8));
  CHECK_FALSE(contact_angle(door(), block({-1000, 450, -100}, {1000, 500, 800}), kHinge, kPi / 2));
}

TEST_CASE("a door's free face meets an edge that stands in its way", "[sweep]") {
  // The edge of a post at (300, 200): the door's inner face reaches it at atan2, less the contact
  // depth.
  const ConvexPiece post = block({260, 200, 100}, {300, 260, 600});
  const auto angle = contact_angle(door(), post, kHinge, kPi);
  REQUIRE(angle);
  const double radius = std::hypot(300.0, 200.0);
  CHECK(*angle == Approx(std::atan2(200.0, 300.0) + std::asin(kContact / radius)).margin(1e-6));
}

TEST_CASE("a door that rests against its stile opens", "[sweep]") {
  Dice dice(7);
  for (int i = 0; i < 50; ++i) {
    CAPTURE(i);
    const double wide = dice.real(20, 120);
    const ConvexPiece stile = block({-wide, -18 - dice.real(0, 30), 0}, {0, 0, 700});
    CHECK_FALSE(contact_angle(door(), stile, kHinge, 100 * kPi / 180));
    // Turned the other way, the same door bears on the stile at once when it cannot fold into it.
    const ConvexPiece behind = block({0, -38, 0}, {450, -18, 700});
    const auto angle = contact_angle(door(), behind, {{0, 0, 0}, {0, 0, -1}}, 1.0);
    REQUIRE(angle);
    CHECK(*angle < 0.001);
  }
}

TEST_CASE("turning sweeps agree with dense sampling", "[sweep]") {
  Dice dice(8);
  int hits = 0;
  for (int i = 0; i < 150; ++i) {
    CAPTURE(i);
    const ConvexPiece a = moved(random_piece(dice, 15), dice.point(30));
    const ConvexPiece b = moved(random_piece(dice, 15), dice.point(40));
    const Turn turn{dice.point(10), dice.direction()};
    const double most = dice.real(0.5, 2 * kPi);
    const auto angle = contact_angle(a, b, turn, most);
    const double free_until = angle.value_or(most);
    for (double t = 0; t < free_until; t += 0.001) {
      if (depth(turned(a, turn, t), b) > kContact + 1e-9) FAIL("missed a contact at " << t);
    }
    if (!angle) continue;
    ++hits;
    if (*angle > 0) CHECK(depth(turned(a, turn, *angle), b) == Approx(kContact).margin(1e-5));
    if (*angle > 0 && *angle < most - 1e-5) {
      // A hair further it is in contact (or the contact is shorter than that hair).
      CHECK(depth(turned(a, turn, *angle + 1e-6), b) > kContact - 1e-4);
    }
  }
  CHECK(hits > 30);
}

TEST_CASE("no grazing contact of a door's corner is missed", "[sweep]") {
  // The tip of a wedge reaches 2 kContact + delta into the circle of the door's outermost corner.
  Dice dice(9);
  const double reach = std::hypot(450.0, 18.0);
  for (int i = 0; i < 300; ++i) {
    CAPTURE(i);
    const double turn_to = dice.real(0.2, 1.5);
    const double delta = std::pow(10.0, dice.real(-4, -2));
    const double tip = reach - 2 * kContact - delta;
    const auto at = [](double radius, double angle, double z) {
      return Vec3{radius * std::cos(angle), radius * std::sin(angle), z};
    };
    std::vector<Vec3> corners;
    for (const double z : {200.0, 500.0}) {
      corners.push_back(at(tip, turn_to, z));
      corners.push_back(at(tip + 60, turn_to - 0.02, z));
      corners.push_back(at(tip + 60, turn_to + 0.02, z));
    }
    const ConvexPiece wedge = scenes::hull(corners);
    const auto angle = contact_angle(door(), wedge, kHinge, kPi);
    // Does it really get deeper than kContact? Look closely around the pass of the corner.
    const double corner_phase = std::atan2(-18.0, 450.0);
    double deepest = 0.0;
    for (double t = -4e-5; t < 4e-5; t += 1e-7) {
      deepest = std::max(deepest, depth(turned(door(), kHinge, turn_to - corner_phase + t), wedge));
      if (deepest > kContact) break;
    }
    REQUIRE(deepest > kContact);
    REQUIRE(angle);
    CHECK(*angle < turn_to - corner_phase + 0.01);
    CHECK(*angle > turn_to - corner_phase - 0.02);
  }
}

TEST_CASE("swept boxes hold everything a piece passes through", "[sweep]") {
  Dice dice(10);
  for (int i = 0; i < 100; ++i) {
    CAPTURE(i);
    const ConvexPiece piece = moved(random_piece(dice, 20), dice.point(50));
    const Turn turn{dice.point(20), i % 2 == 0 ? Vec3{0, 0, 1} : dice.direction()};
    const double most = dice.real(0.1, 2 * kPi);
    const Box swept = swept_box(piece, turn, most);
    Box sampled;
    for (int k = 0; k <= 4000; ++k) {
      for (const Vec3& p : piece.vertices) sampled.add(turned(p, turn, most * k / 4000));
    }
    CHECK(near(grown(swept, 1e-9), sampled, 0));
    for (int k = 0; k < 3; ++k) {
      CHECK(swept.lo[k] <= sampled.lo[k] + 1e-9);
      CHECK(swept.hi[k] >= sampled.hi[k] - 1e-9);
      CHECK(swept.lo[k] == Approx(sampled.lo[k]).margin(1e-3));
      CHECK(swept.hi[k] == Approx(sampled.hi[k]).margin(1e-3));
    }
    const Vec3 way = dice.direction();
    const Box straight = swept_box(piece, way, 30);
    CHECK(near(straight, moved(piece, way * 30).box, 0));
    CHECK(straight.lo.x == Approx(std::min(piece.box.lo.x, piece.box.lo.x + way.x * 30)));
  }
}
