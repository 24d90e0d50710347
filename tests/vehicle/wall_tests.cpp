#include "sample_vehicles.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace ribbay::tests;

namespace {

double half_width(const Vehicle& vehicle, VanSide side, double x, double z) {
  const auto y = wall_y(vehicle, side, x, z);
  REQUIRE(y);
  return side == VanSide::left ? *y : -*y;
}

/// The rule of the header by hand, for stations with equal heights: the square of wall between two
/// heights is cut from the rear station's upper point to the front station's lower one.
double by_hand(const Vehicle& vehicle, std::size_t span, double x, double z) {
  const Station& rear = vehicle.stations[span];
  const Station& front = vehicle.stations[span + 1];
  std::size_t k = 0;
  while (rear.left[k + 1].z < z) ++k;
  const double u = (x - rear.x) / (front.x - rear.x);
  const double v = (z - rear.left[k].z) / (rear.left[k + 1].z - rear.left[k].z);
  const double a = rear.left[k].half_width;
  const double b = front.left[k].half_width;
  const double c = rear.left[k + 1].half_width;
  const double d = front.left[k + 1].half_width;
  return v <= 1.0 - u ? a + u * (b - a) + v * (c - a)
                      : d + (1.0 - u) * (c - d) + (1.0 - v) * (b - d);
}

}  // namespace

TEST_CASE("at a station the wall is what the tape said", "[vehicle][wall]") {
  const auto name = GENERATE(as<std::string>{}, "long_high", "long_mid", "short_low");
  const Vehicle vehicle = committed_vehicle(name);
  REQUIRE(vehicle.stations.size() >= 4);
  for (const Station& station : vehicle.stations) {
    for (const WallPoint& point : station.left) {
      CHECK(half_width(vehicle, VanSide::left, station.x, point.z) == point.half_width);
    }
    for (const WallPoint& point : station.right) {
      CHECK(half_width(vehicle, VanSide::right, station.x, point.z) == point.half_width);
    }
    const WallPoint low = station.left[1];
    const WallPoint high = station.left[2];
    CHECK(half_width(vehicle, VanSide::left, station.x, (low.z + high.z) / 2.0) ==
          Approx((low.half_width + high.half_width) / 2.0).margin(1e-9));
  }
}

TEST_CASE("between stations the wall is plane on each triangle", "[vehicle][wall]") {
  const Vehicle vehicle = committed_vehicle("long_high");
  Dice dice(1);
  for (int i = 0; i < 2000; ++i) {
    const double x = dice(0, 3700);
    const double z = dice(0, 1900);
    std::size_t span = 0;
    while (vehicle.stations[span + 1].x < x) ++span;
    CAPTURE(x, z);
    CHECK(half_width(vehicle, VanSide::left, x, z) ==
          Approx(by_hand(vehicle, span, x, z)).margin(1e-9));
  }
}

TEST_CASE("with other heights at the next station the lower point goes first", "[vehicle][wall]") {
  // Rear points at 0, 1000, 2000; front points at 0, 400, 2000. From the floor up the edges across
  // the wall end at (rear, front) = (0, 0), (0, 400), (1000, 400), (2000, 400), (2000, 2000).
  Vehicle vehicle;
  const std::vector<WallPoint> rear{{0, 800}, {1000, 900}, {2000, 700}};
  const std::vector<WallPoint> front{{0, 800}, {400, 1000}, {2000, 700}};
  vehicle.stations = {station(0, rear, rear), station(1000, front, front)};

  // Halfway these edges cross at heights 0, 200, 700, 1200, 2000 and the widths are the means of
  // their ends.
  CHECK(half_width(vehicle, VanSide::left, 500, 200) == Approx(900));
  CHECK(half_width(vehicle, VanSide::left, 500, 700) == Approx(950));
  CHECK(half_width(vehicle, VanSide::left, 500, 1200) == Approx(850));
  CHECK(half_width(vehicle, VanSide::left, 500, 450) == Approx(925));
  CHECK(half_width(vehicle, VanSide::right, 500, 1600) == Approx(775));
}

TEST_CASE("there is no wall outside the survey", "[vehicle][wall]") {
  const Vehicle vehicle = committed_vehicle("short_low");
  CHECK_FALSE(wall_y(vehicle, VanSide::left, -0.001, 500));
  CHECK_FALSE(wall_y(vehicle, VanSide::left, 2500.001, 500));
  CHECK_FALSE(wall_y(vehicle, VanSide::left, 1000, -0.001));
  CHECK_FALSE(wall_y(vehicle, VanSide::left, 0, 1362.001));
  CHECK(wall_y(vehicle, VanSide::left, 0, 1362));
  CHECK(wall_y(vehicle, VanSide::left, 2500, 1400));
}

TEST_CASE("inside the room is between the walls, above the floor and below the roof",
          "[vehicle][wall]") {
  const unsigned seed = GENERATE(range(1U, 9U));
  const Vehicle vehicle = awkward_room(seed);
  CAPTURE(seed);
  Dice dice(seed);
  int inside = 0;
  for (int i = 0; i < 3000; ++i) {
    const Vec3 p{dice(-150, 2700), dice(-1000, 1000), dice(-50, 1500)};
    const auto left = wall_y(vehicle, VanSide::left, p.x, p.z);
    const auto right = wall_y(vehicle, VanSide::right, p.x, p.z);
    CAPTURE(p.x, p.y, p.z);
    if (left && right) {
      // Below both tops the walls alone decide, but for a roof that dips between them.
      const bool between = p.y <= *left && p.y >= *right;
      const auto roof = clear_height(vehicle, p.x, p.x, p.y, p.y);
      if (!between) CHECK_FALSE(inside_room(vehicle, p));
      if (between && roof && p.z < *roof) CHECK(inside_room(vehicle, p));
      inside += between ? 1 : 0;
    } else if (!left && !right) {
      CHECK_FALSE(inside_room(vehicle, p));
    }
  }
  CHECK(inside > 300);
}

TEST_CASE("the box room holds its corners and nothing beyond", "[vehicle][wall]") {
  const Vehicle vehicle = plain_box();
  CHECK(inside_room(vehicle, {0, 900, 0}));
  CHECK(inside_room(vehicle, {2000, -900, 1900}));
  CHECK_FALSE(inside_room(vehicle, {1000, 900.001, 500}));
  CHECK_FALSE(inside_room(vehicle, {1000, 0, 1900.001}));
  CHECK_FALSE(inside_room(vehicle, {1000, 0, -0.001}));
  CHECK_FALSE(inside_room(vehicle, {2000.001, 0, 500}));
}
