#include "sample_vehicles.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

/// Rooms whose shape a formula gives. Stations are sampled from it, and the answers of the loft are
/// held against the formula. All formulas are those of any textbook of geometry and numerical
/// analysis.
using namespace ribbay;
using namespace ribbay::tests;

namespace {

constexpr double kRadius = 900.0;
constexpr double kLength = 2400.0;

/// A tunnel: half a cylinder of radius R along the van, measured at equal angles.
Vehicle tunnel(int steps) {
  std::vector<WallPoint> wall;
  for (int i = 0; i <= steps; ++i) {
    const double angle = std::numbers::pi / 2.0 * i / steps;
    wall.push_back({kRadius * std::sin(angle), i == steps ? 0.0 : kRadius * std::cos(angle)});
  }
  Vehicle vehicle;
  for (const double x : {0.0, 700.0, 1900.0, kLength}) {
    vehicle.stations.push_back(station(x, wall, wall));
  }
  return vehicle;
}

/// How far a chord over the angle between two measured points lies inside the circle: R (1 - cos(a
/// / 2)).
double sagitta(int steps) {
  return kRadius * (1.0 - std::cos(std::numbers::pi / 4.0 / steps));
}

/// Integral over from..to of a polynomial of degree 5 or less, exact: Gauss and Legendre's rule of
/// three points.
template <class F>
double integral(double from, double to, F f) {
  const double middle = (from + to) / 2.0;
  const double half = (to - from) / 2.0;
  const double out = half * std::sqrt(0.6);
  return half * (5.0 * f(middle - out) + 8.0 * f(middle) + 5.0 * f(middle + out)) / 9.0;
}

}  // namespace

TEST_CASE("the wall of a tunnel lies within the sagitta of its circle", "[vehicle][analytic]") {
  const int steps = GENERATE(3, 6, 24);
  const Vehicle vehicle = tunnel(steps);
  const double most = sagitta(steps);
  double deepest = 0.0;
  Dice dice(41);
  for (int i = 0; i < 1500; ++i) {
    const double x = dice(0, kLength);
    const double z = dice(0, kRadius);
    const double y = *wall_y(vehicle, i % 2 == 0 ? VanSide::left : VanSide::right, x, z);
    const double inside = kRadius - std::hypot(y, z);
    CAPTURE(x, z, inside);
    CHECK(inside > -1e-9);
    CHECK(inside < most + 1e-9);
    deepest = std::max(deepest, inside);
    const double across = dice(-kRadius, kRadius) * 0.999;
    const double gap = kRadius - std::hypot(across, *clear_height(vehicle, x, x, across, across));
    CHECK(gap > -1e-9);
    CHECK(gap < most + 1e-9);
  }
  CHECK(deepest > 0.95 * most);  // the bound is met, not only kept
}

TEST_CASE("the clear width in a tunnel is the chord of its circle", "[vehicle][analytic]") {
  const int steps = GENERATE(3, 6, 24);
  const Vehicle vehicle = tunnel(steps);
  Dice dice(42);
  for (int i = 0; i < 300; ++i) {
    const double x0 = dice(0, kLength - 300);
    const double z1 = dice(10, 0.95 * kRadius);
    const auto clear = clear_width(vehicle, x0, x0 + 300, dice(0, z1), z1);
    // 2 sqrt(R^2 - z^2), and no less than that of the circle that all chords touch.
    const double inner = kRadius - sagitta(steps);
    const auto chord = [&](double r) { return 2.0 * std::sqrt(std::max(0.0, r * r - z1 * z1)); };
    REQUIRE(clear);
    CHECK(clear->width() <= chord(kRadius) + 1e-9);
    CHECK(clear->width() >= chord(inner) - 1e-9);
  }
}

TEST_CASE("a tunnel holds what half a regular polygon holds", "[vehicle][analytic]") {
  const int steps = GENERATE(3, 6, 24, 60);
  const Vehicle vehicle = tunnel(steps);
  const double x = GENERATE(0.0, 333.0, 1900.0, 2399.0);
  double area = 0.0;
  for (int i = 0; i < steps; ++i) {
    const auto height = [&](int k) { return vehicle.stations[0].left[std::size_t(k)].z; };
    area += integral(height(i), height(i + 1), [&](double z) {
      return *wall_y(vehicle, VanSide::left, x, z) - *wall_y(vehicle, VanSide::right, x, z);
    });
  }
  // 2 n triangles with two sides R and the angle pi / 2 n between them.
  const double angle = std::numbers::pi / 2.0 / steps;
  CHECK(area == Approx(steps * kRadius * kRadius * std::sin(angle)).epsilon(1e-9));
  // Half a disc less the 2 n segments that the chords cut off, R^2 (a - sin a) / 2 each.
  const double cut_off = steps * kRadius * kRadius * (angle - std::sin(angle));
  CHECK(area == Approx(std::numbers::pi * kRadius * kRadius / 2.0 - cut_off).epsilon(1e-9));
}

TEST_CASE("plane walls and a plane roof come out exactly, whatever heights were measured",
          "[vehicle][analytic]") {
  // Left y = 850 + x/50 - z/20, right y = -(800 - x/100 - z/50), roof z = 1700 + x/40.
  const auto left = [](double x, double z) { return 850 + x / 50 - z / 20; };
  const auto right = [](double x, double z) { return 800 - x / 100 - z / 50; };
  const auto roof = [](double x) { return 1700 + x / 40; };
  Vehicle vehicle;
  Dice dice(43);
  for (const double x : {0.0, 450.0, 1600.0, kLength}) {
    std::vector<WallPoint> a;
    std::vector<WallPoint> b;
    for (double z = 0; z < roof(x) - 100; z += dice(60, 500)) a.push_back({z, left(x, z)});
    for (double z = 0; z < roof(x) - 100; z += dice(60, 500)) b.push_back({z, right(x, z)});
    a.push_back({roof(x), left(x, roof(x))});
    b.push_back({roof(x), right(x, roof(x))});
    vehicle.stations.push_back(station(x, a, b));
  }
  for (int i = 0; i < 1000; ++i) {
    const double x = dice(0, kLength);
    const double z = dice(0, 1690);
    CHECK(*wall_y(vehicle, VanSide::left, x, z) == Approx(left(x, z)).margin(1e-9));
    CHECK(*wall_y(vehicle, VanSide::right, x, z) == Approx(-right(x, z)).margin(1e-9));
    const double x1 = dice(x, kLength);
    const double z1 = dice(z, 1690);
    // The least of a linear function over a box lies on a corner.
    const auto clear = clear_width(vehicle, x, x1, z, z1);
    REQUIRE(clear);
    CHECK(clear->left == Approx(left(x, z1)).margin(1e-9));
    CHECK(clear->right == Approx(-right(x1, z1)).margin(1e-9));
    const double y0 = dice(-600, 300);
    CHECK(*clear_height(vehicle, x, x1, y0, y0 + 200) == Approx(roof(x)).margin(1e-9));
  }
  // Volume below the roof: the integral of (1650 + x/100) H - (7/100) H^2 / 2 over x with H the
  // roof's height.
  const double volume_by_hand = integral(0, kLength, [&](double x) {
    const double h = roof(x);
    return (1650 + x / 100) * h - 0.07 * h * h / 2.0;
  });
  // The loft's, in pieces between stations; across a section the width is linear in z.
  double volume_of_loft = 0.0;
  for (std::size_t i = 0; i + 1 < vehicle.stations.size(); ++i) {
    volume_of_loft += integral(vehicle.stations[i].x, vehicle.stations[i + 1].x, [&](double x) {
      const double top = *clear_height(vehicle, x, x, 0, 0);
      return integral(0, top - 1e-9, [&](double z) {
        return *wall_y(vehicle, VanSide::left, x, z) - *wall_y(vehicle, VanSide::right, x, z);
      });
    });
  }
  CHECK(volume_of_loft == Approx(volume_by_hand).epsilon(1e-9));
}

TEST_CASE("a wall that bulges both ways is met within the error of linear interpolation",
          "[vehicle][analytic]") {
  // y = 900 - (x - 1200)^2 / 2 Rx - (z - 500)^2 / 2 Rz: its second derivatives are 1/Rx and 1/Rz.
  constexpr double kRx = 20000.0;
  constexpr double kRz = 4000.0;
  const auto surface = [](double x, double z) {
    return 900 - (x - 1200) * (x - 1200) / (2 * kRx) - (z - 500) * (z - 500) / (2 * kRz);
  };
  const double dx = GENERATE(300.0, 600.0);
  const double dz = GENERATE(100.0, 250.0);
  Vehicle vehicle;
  for (double x = 0; x <= kLength; x += dx) {
    std::vector<WallPoint> wall;
    for (double z = 0; z <= 1500; z += dz) wall.push_back({z, surface(x, z)});
    vehicle.stations.push_back(station(x, wall, wall));
  }
  // On a right triangle with legs dx and dz the error is at most (dx^2 / Rx + dz^2 / Rz) / 8.
  const double most = (dx * dx / kRx + dz * dz / kRz) / 8.0;
  Dice dice(44);
  double worst = 0.0;
  for (int i = 0; i < 4000; ++i) {
    const double x = dice(0, kLength);
    const double z = dice(0, 1500);
    const double error = surface(x, z) - *wall_y(vehicle, VanSide::left, x, z);
    CHECK(error > -1e-9);  // chords of a bulge lie inside it
    CHECK(error < most + 1e-9);
    worst = std::max(worst, error);
  }
  CHECK(worst > 0.9 * most);
}
