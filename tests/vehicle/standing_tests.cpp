#include "sample_bodies.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>
#include <set>

using namespace ribbay;
using namespace ribbay::tests;

namespace {

bool has_body(const Vehicle& vehicle, const std::string& id) {
  const auto bodies = vehicle_bodies(vehicle);
  return std::ranges::find(bodies, id, &VehicleBody::id) != bodies.end();
}

double total_volume(const Pieces& pieces) {
  double sum = 0.0;
  for (const ConvexPiece& piece : pieces) sum += volume(piece);
  return sum;
}

Opening side_door(VanSide side) {
  Opening door;
  door.name = "door";
  door.kind = OpeningKind::sliding;
  door.side = side;
  door.from = 600;
  door.to = 1500;
  door.bottom = -40;
  door.top = 1500;
  door.leaf = {25, LeafSwing::slides, 500};
  return door;
}

/// A closed surface has each edge once each way, and for a convex body corners - edges + faces = 2
/// (Euler).
void check_closed(const ConvexPiece& piece) {
  std::set<std::pair<int, int>> halves;
  std::set<int> corners;
  for (const auto& face : piece.faces) {
    for (std::size_t i = 0; i < face.size(); ++i) {
      CHECK(halves.insert({face[i], face[(i + 1) % face.size()]}).second);
      corners.insert(face[i]);
    }
  }
  for (const auto& [a, b] : halves) CHECK(halves.contains({b, a}));
  CHECK(corners.size() + piece.faces.size() == halves.size() / 2 + 2);
  CHECK(corners.size() == piece.vertices.size());
}

}  // namespace

TEST_CASE("a bow under a flat roof is the bar that a ruler gives", "[vehicle][standing]") {
  Vehicle vehicle = plain_box();
  vehicle.bows.push_back({"one", 1000, 60, 40, -900, 900});
  const auto bodies = vehicle_bodies(vehicle);
  const Pieces& pieces = body(bodies, "vehicle/bow.one").pieces;
  CHECK(total_volume(pieces) == Approx(60.0 * 40 * 1800));
  CHECK(outside(pieces, {970.01, -899.9, 1860.01}) < 0);
  CHECK(outside(pieces, {1029.99, 899.9, 1899.9}) < 0);
  CHECK(outside(pieces, {1000, 0, 1859.99}) > 0);
  CHECK(outside(pieces, {1030.01, 0, 1880}) > 0);

  CHECK(*clear_height(vehicle, 900, 1100, -10, 10) == 1860);
  CHECK(*clear_height(vehicle, 0, 970, -900, 900) == 1900);
  CHECK(*clear_height(vehicle, 1000, 1000, 300, 300) == 1860);

  SECTION("a short bow counts over its own width only") {
    vehicle.bows[0].from = -200;
    vehicle.bows[0].to = 300;
    CHECK(*clear_height(vehicle, 900, 1100, 300, 600) == 1900);
    CHECK(*clear_height(vehicle, 900, 1100, 299, 600) == 1860);
    CHECK(total_volume(body(vehicle_bodies(vehicle), "vehicle/bow.one").pieces) ==
          Approx(60.0 * 40 * 500));
  }
  SECTION("surveyed to the face of the bows it does not count again") {
    for (Station& station : vehicle.stations) station.surveyed = Surveyed::rib_face;
    CHECK(*clear_height(vehicle, 900, 1100, -10, 10) == 1900);
    CHECK_FALSE(has_body(vehicle, "vehicle/bow.one"));
  }
}

TEST_CASE("a bow follows the roof that it hangs under", "[vehicle][standing]") {
  // The roof reaches at least this far to both sides: from there up the walls lean by 45 degrees.
  const auto [name, roof] =
      GENERATE(values<std::pair<std::string, double>>({{"long_high", 735}, {"short_low", 610}}));
  Vehicle vehicle = committed_vehicle(name);
  vehicle.bows.clear();
  const Vehicle bare = vehicle;
  // One within a span and one across a station.
  const double station = vehicle.stations[1].x;
  vehicle.bows.push_back({"a", station + 200, 80, 30, -350, 300});
  vehicle.bows.push_back({"b", station - 10, 80, 30, -350, 300});
  vehicle.bows.push_back({"c", station + 500, 80, 30, -roof, roof});
  const auto bodies = vehicle_bodies(vehicle);
  Dice dice(21);
  int filled = 0;
  for (const Bow& bow : vehicle.bows) {
    const Pieces& pieces = body(bodies, "vehicle/bow." + bow.name).pieces;
    for (int i = 0; i < 1500; ++i) {
      const double x = bow.x + dice(-0.6, 0.6) * bow.width;
      const double y = dice(bow.from - 40, bow.to + 40);
      const double down = dice(-15, bow.depth + 15);
      const double z = *clear_height(bare, x, x, y, y) - down;
      const bool here = std::abs(x - bow.x) < bow.width / 2 && y > bow.from && y < bow.to &&
                        down > 0 && down < bow.depth;
      const double gap = outside(pieces, {x, y, z});
      CAPTURE(bow.name, x, y, down, gap);
      CHECK((here ? gap < 1e-6 : gap > -1e-6));
      filled += here ? 1 : 0;
      if (std::abs(std::abs(x - bow.x) - bow.width / 2) < 1e-3) continue;
      const bool below = std::abs(x - bow.x) < bow.width / 2 && y > bow.from && y < bow.to;
      CHECK(*clear_height(vehicle, x, x, y, y) ==
            Approx(*clear_height(bare, x, x, y, y) - (below ? bow.depth : 0.0)).margin(1e-9));
    }
  }
  CHECK(filled > 500);
}

TEST_CASE("a closed door that stands in front of its wall narrows the room",
          "[vehicle][standing]") {
  const auto side = GENERATE(VanSide::left, VanSide::right);
  const double sign = side == VanSide::left ? 1.0 : -1.0;
  Vehicle vehicle = plain_box();
  vehicle.openings.push_back(side_door(side));
  const Pieces pieces = body(vehicle_bodies(vehicle), "vehicle/leaf.door").pieces;
  CHECK(total_volume(pieces) == Approx(900.0 * 1500 * 25));  // from the floor up
  CHECK(outside(pieces, {601, sign * 875.01, 1}) < 0);
  CHECK(outside(pieces, {1499, sign * 899.9, 1499}) < 0);
  CHECK(outside(pieces, {1000, sign * 874.99, 700}) > 0);

  const auto narrow = clear_width(vehicle, 1400, 1800, 0, 900);
  CHECK(narrow->width() == 1775);
  CHECK((side == VanSide::left ? narrow->left : -narrow->right) == 875);
  CHECK(clear_width(vehicle, 1500, 1800, 0, 900)->width() == 1800);
  CHECK(clear_width(vehicle, 1400, 1800, 1500, 1800)->width() == 1800);

  SECTION("and a flush one does not") {
    vehicle.openings[0].leaf.intrudes = 0;
    CHECK(clear_width(vehicle, 1400, 1800, 0, 900)->width() == 1800);
    CHECK_FALSE(has_body(vehicle, "vehicle/leaf.door"));
  }
}

TEST_CASE("a door follows its curved wall, whatever the survey lies on", "[vehicle][standing]") {
  Vehicle vehicle = committed_vehicle("long_high");
  auto surface = GENERATE(Surveyed::skin, Surveyed::lining);
  for (Station& station : vehicle.stations) station.surveyed = surface;
  vehicle.openings = {side_door(VanSide::right)};
  const Pieces pieces = body(vehicle_bodies(vehicle), "vehicle/leaf.door").pieces;
  Dice dice(8);
  for (int i = 0; i < 1000; ++i) {
    const double x = dice(550, 1550);
    const double z = dice(0, 1600);
    const double in = dice(-15, 40);
    const double gap = outside(pieces, {x, *wall_y(vehicle, VanSide::right, x, z) + in, z});
    const bool here = x > 600 && x < 1500 && z < 1500 && in > 0 && in < 25;
    CAPTURE(x, z, in);
    CHECK((here ? gap < 1e-6 : gap > -1e-6));
  }
}

TEST_CASE("a rear door that stands in is a block behind the load", "[vehicle][standing]") {
  Vehicle vehicle = plain_box();
  Opening rear;
  rear.name = "rear";
  rear.from = -700;
  rear.to = 650;
  rear.bottom = 0;
  rear.top = 1600;
  rear.leaf = {35, LeafSwing::out, 800};
  vehicle.openings.push_back(rear);
  const Pieces pieces = body(vehicle_bodies(vehicle), "vehicle/leaf.rear").pieces;
  CHECK(total_volume(pieces) == Approx(35.0 * 1350 * 1600));
  CHECK(outside(pieces, {34.9, -699.9, 1599}) < 0);
  CHECK(clear_way(vehicle, rear) == Box{{0, -700, 0}, {800, 650, 1600}});
}

TEST_CASE("the way through a side door reaches in from the wall at its sill",
          "[vehicle][standing]") {
  Vehicle vehicle = plain_box();
  // The wall leans out by 40 mm up to 800 and in again to 850 mm at 1900.
  const std::vector<WallPoint> wall{{0, 900}, {800, 940}, {1900, 850}};
  vehicle.stations = {station(0, wall, wall), station(2000, wall, wall)};
  CHECK(clear_way(vehicle, side_door(VanSide::left)) == Box{{600, 400, 0}, {1500, 940, 1500}});
  CHECK(clear_way(vehicle, side_door(VanSide::right)) == Box{{600, -940, 0}, {1500, -400, 1500}});
  Opening none = side_door(VanSide::left);
  none.leaf.clear_way = 0;
  CHECK_FALSE(clear_way(vehicle, none));
}

TEST_CASE("the rounded inboard edge of an arch is covered, and hardly more",
          "[vehicle][standing]") {
  Vehicle vehicle = plain_box();
  const auto side = GENERATE(VanSide::left, VanSide::right);
  const double sign = side == VanSide::left ? 1.0 : -1.0;
  const double edge = GENERATE(0.5, 40.0, 140.0);
  const double radius = GENERATE(0.0, 150.0);
  vehicle.arches.push_back({"arch", side, 700, 1500, 270, 690, radius, edge});
  const Pieces pieces = body(vehicle_bodies(vehicle), "vehicle/arch.arch").pieces;
  double excess = 0.0;
  for (const ConvexPiece& piece : pieces) {
    check_closed(piece);
    excess = std::max(excess, piece.excess);
  }
  CHECK(excess <= 0.1);  // two roundings of at most 0.05 each

  // Its top seen from the side, and its inboard side seen from behind: the arch is what lies
  // below both.
  const auto below_ends = [&](double x, double z, double more) {
    const double into = std::max({0.0, 700 + radius - x, x - (1500 - radius)});
    if (radius == 0.0) return x > 700 - more && x < 1500 + more && z < 270 + more;
    if (z <= 270 - radius) return into < radius + more;
    return std::hypot(into, std::max(0.0, z - (270 - radius))) < radius + more;
  };
  const auto behind_edge = [&](double y, double z, double more) {
    const double into = std::max(0.0, 690 + edge - y);
    if (z <= 270 - edge) return y > 690 - more && z < 270 + more;
    return std::hypot(into, std::max(0.0, z - (270 - edge))) < edge + more;
  };
  Dice dice(31);
  int covered = 0;
  int free = 0;
  for (int i = 0; i < 4000; ++i) {
    const Vec3 p{dice(680, 1520), dice(680, 690 + edge + 60), dice(200 - edge, 275)};
    if (p.z < 0) continue;
    const double gap = outside(pieces, {p.x, sign * p.y, p.z});
    CAPTURE(p.x, p.y, p.z, gap);
    if (below_ends(p.x, p.z, 0.0) && behind_edge(p.y, p.z, 0.0)) {
      CHECK(gap < 1e-6);
      ++covered;
    } else if (!below_ends(p.x, p.z, excess) || !behind_edge(p.y, p.z, excess)) {
      CHECK(gap > -1e-6);
      ++free;
    }
  }
  CHECK(covered > 300);
  CHECK(free > 300);
  for (int i = 0; i <= 20; ++i) {
    const double angle = std::numbers::pi / 2.0 * i / 20.0;
    const double y = 690 + edge - edge * std::sin(angle);
    const double z = 270 - edge + edge * std::cos(angle);
    CHECK(outside(pieces, {1100, sign * y, z}) < 1e-6);
  }
}

TEST_CASE("over the rounded edge of an arch the room is wider", "[vehicle][standing]") {
  Vehicle vehicle = plain_box();
  vehicle.arches.push_back({"arch", VanSide::right, 900, 1700, 270, 690, 100, 60});
  CHECK(clear_width(vehicle, 1000, 1600, 210, 900)->right == -690);
  // 40 mm up the rounding: 690 + 60 - sqrt(60^2 - 40^2).
  CHECK(-clear_width(vehicle, 1000, 1600, 250, 900)->right == Approx(750 - std::sqrt(2000.0)));
  CHECK(-clear_width(vehicle, 1000, 1600, 269.999, 900)->right > 749);
  CHECK(clear_width(vehicle, 1000, 1600, 270, 900)->right == -900);
  Dice dice(2);
  for (int i = 0; i < 200; ++i) {
    const double z = dice(0, 300);
    const double x = dice(880, 1720);
    const auto clear = clear_width(vehicle, x, x + 10, z, 900);
    const Pieces pieces = body(vehicle_bodies(vehicle), "vehicle/arch.arch").pieces;
    // What the question calls free, the body does not fill, but for the excess of its pieces.
    CHECK(outside(pieces, {x + 5, clear->right + 0.12, z + 0.12}) > -0.02);
  }
}

TEST_CASE("ribs come one behind the other", "[vehicle][standing]") {
  Vehicle vehicle = plain_box();
  vehicle.ribs = {{"b", VanSide::left, 900, 60, 30, 0, 1500},
                  {"a", VanSide::left, 400, 60, 30, 0, 1500},
                  {"r", VanSide::right, 500, 60, 30, 0, 1500}};
  CHECK(previous_rib(vehicle, VanSide::left, 2000)->name == "b");
  CHECK(previous_rib(vehicle, VanSide::left, 900)->name == "a");
  CHECK(previous_rib(vehicle, VanSide::left, 400) == nullptr);
  CHECK(previous_rib(vehicle, VanSide::right, 501)->name == "r");
}

TEST_CASE("the distance from a box to an opening is what a tape gives", "[vehicle][standing]") {
  Vehicle vehicle = plain_box();
  vehicle.openings.push_back(side_door(VanSide::right));  // x 600..1500, z -40..1500
  Opening rear;
  rear.name = "rear";
  vehicle.openings.push_back(rear);
  const Opening* door = find_opening(vehicle, "door");
  REQUIRE(door != nullptr);
  CHECK(find_opening(vehicle, "dor") == nullptr);
  CHECK(distance_to_opening(vehicle, *door, 1400, 1900, 0, 900) == 0);
  CHECK(distance_to_opening(vehicle, *door, 1500, 1900, 0, 900) == 0);
  CHECK(distance_to_opening(vehicle, *door, 1750, 1900, 0, 900) == 250);
  CHECK(distance_to_opening(vehicle, *door, 570, 100, 900, 0) == 30);
  // 30 mm behind and 40 mm above: 3, 4, 5.
  CHECK(distance_to_opening(vehicle, *door, 100, 570, 1540, 1600) == Approx(50));
  CHECK(distance_to_opening(vehicle, *find_opening(vehicle, "rear"), 230, 900, 0, 900) == 230);
  CHECK(distance_to_opening(vehicle, *find_opening(vehicle, "rear"), 0, 900, 0, 900) == 0);
}
