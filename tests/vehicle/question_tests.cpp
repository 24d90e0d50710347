#include "sample_vehicles.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace ribbay;
using namespace ribbay::tests;

namespace {

struct Query {
  double x0, x1, z0, z1;
};

/// Height of an arch at x, from its description: level, with a quarter circle at each upper end.
double arch_top(const WheelArch& arch, double x) {
  const double r = arch.radius;
  const double into = std::max({0.0, arch.from + r - x, x - (arch.to - r)});
  return arch.height - r + std::sqrt(std::max(0.0, r * r - into * into));
}

/// How far inboard an arch reaches at a height, from its description: a quarter circle at its edge.
double arch_face(const WheelArch& arch, double z) {
  const double r = arch.edge_radius;
  const double up = std::max(0.0, z - (arch.height - r));
  return arch.half_width + r - std::sqrt(std::max(0.0, r * r - up * up));
}

/// y of the first obstacle outward from the centre line at one point.
double limit_at(const Vehicle& vehicle, VanSide side, double x, double z) {
  double limit = std::abs(*wall_y(vehicle, side, x, z));
  const double wall = limit;
  for (const Rib& rib : vehicle.ribs) {
    const bool here =
        rib.side == side && std::abs(x - rib.x) < rib.width / 2.0 && z > rib.from && z < rib.to;
    if (here) limit = std::min(limit, wall - rib.depth);
  }
  for (const Opening& door : vehicle.openings) {
    const bool here = door.kind != OpeningKind::rear && door.side == side && x > door.from &&
                      x < door.to && z > door.bottom && z < door.top;
    if (here) limit = std::min(limit, wall - door.leaf.intrudes);
  }
  for (const WheelArch& arch : vehicle.arches) {
    const bool here = arch.side == side && x > arch.from && x < arch.to && z < arch_top(arch, x);
    if (here) limit = std::min(limit, arch_face(arch, z));
  }
  return limit;
}

double sampled_limit(const Vehicle& vehicle, VanSide side, const Query& q, int steps) {
  double least = 1e9;
  for (int i = 0; i <= steps; ++i) {
    for (int k = 0; k <= steps; ++k) {
      least = std::min(least, limit_at(vehicle, side, q.x0 + (q.x1 - q.x0) * i / steps,
                                       q.z0 + (q.z1 - q.z0) * k / steps));
    }
  }
  return least;
}

}  // namespace

TEST_CASE("the clear width is never more than any sample, and hardly less than the worst",
          "[vehicle][questions]") {
  const auto name = GENERATE(as<std::string>{}, "long_high", "long_mid", "short_low");
  const Vehicle vehicle = committed_vehicle(name);
  CAPTURE(name);
  Dice dice(7);
  for (int i = 0; i < 25; ++i) {
    Query q{};
    q.x0 = dice(0, vehicle.x_max() - 400);
    q.x1 = q.x0 + dice(20, 380);
    q.z0 = dice(0, 900);
    q.z1 = q.z0 + dice(20, 400);
    CAPTURE(q.x0, q.x1, q.z0, q.z1);
    const auto clear = clear_width(vehicle, q.x0, q.x1, q.z0, q.z1);
    REQUIRE(clear);
    const double left = sampled_limit(vehicle, VanSide::left, q, 40);
    const double right = sampled_limit(vehicle, VanSide::right, q, 40);
    CHECK(clear->left <= left + 1e-9);
    CHECK(-clear->right <= right + 1e-9);
    // Walls lean by less than 1 in 3 and samples lie at most 10 mm apart; but a rib or an arch may
    // reach into the box by less than a sample's step.
    const bool grazed = clear->left < left - 3.0 || -clear->right < right - 3.0;
    if (grazed) {
      const double edge_left = sampled_limit(vehicle, VanSide::left, q, 400);
      const double edge_right = sampled_limit(vehicle, VanSide::right, q, 400);
      CHECK(clear->left > edge_left - 3.0);
      CHECK(-clear->right > edge_right - 3.0);
    }
  }
}

TEST_CASE("in an awkward room the clear width is never more than any sample",
          "[vehicle][questions]") {
  const unsigned seed = GENERATE(range(1U, 9U));
  CAPTURE(seed);
  const Vehicle vehicle = awkward_room(seed);
  Dice dice(seed);
  int answered = 0;
  for (int i = 0; i < 40; ++i) {
    Query q{};
    q.x0 = dice(vehicle.x_min(), vehicle.x_max() - 300);
    q.x1 = q.x0 + dice(0, 300);
    q.z0 = dice(0, 700);
    q.z1 = q.z0 + dice(0, 300);
    const auto clear = clear_width(vehicle, q.x0, q.x1, q.z0, q.z1);
    if (!clear) continue;
    ++answered;
    CAPTURE(q.x0, q.x1, q.z0, q.z1);
    const double left = sampled_limit(vehicle, VanSide::left, q, 40);
    CHECK(clear->left <= left + 1e-9);
    CHECK(clear->left > left - 25.0);  // the walls lean by up to 2 in 1, samples lie 8 mm apart
  }
  CHECK(answered > 5);
}

TEST_CASE("the wall's bend inside the box counts, not only its corners", "[vehicle][questions]") {
  Vehicle vehicle = plain_box();
  vehicle.stations.insert(
      vehicle.stations.begin() + 1,
      station(1000, {{0, 900}, {700, 840}, {1900, 900}}, {{0, 900}, {1900, 900}}));
  const auto clear = clear_width(vehicle, 500, 1500, 300, 1200);
  REQUIRE(clear);
  CHECK(clear->left == Approx(840));
  CHECK(clear->right == Approx(-900));
  CHECK(clear->width() == Approx(1740));
}

TEST_CASE("ribs and arches narrow the band where they stand and nowhere else",
          "[vehicle][questions]") {
  Vehicle vehicle = plain_box();
  vehicle.ribs.push_back({"one", VanSide::left, 600, 80, 35, 100, 1500});
  vehicle.arches.push_back({"arch", VanSide::right, 900, 1700, 270, 690, 100});

  SECTION("beside the rib") {
    CHECK(clear_width(vehicle, 640, 800, 0, 900)->left == 900);
  }
  SECTION("over the rib by a hair") {
    CHECK(clear_width(vehicle, 639.9, 800, 0, 900)->left == 865);
  }
  SECTION("a box without length inside the rib") {
    CHECK(clear_width(vehicle, 600, 600, 500, 500)->left == 865);
  }
  SECTION("below and above the rib") {
    CHECK(clear_width(vehicle, 500, 700, 0, 100)->left == 900);
    CHECK(clear_width(vehicle, 500, 700, 1500, 1800)->left == 900);
  }
  SECTION("on the arch") {
    CHECK(clear_width(vehicle, 1000, 1600, 270, 900)->right == -900);
  }
  SECTION("through the arch") {
    CHECK(clear_width(vehicle, 1000, 1600, 269.9, 900)->right == -690);
  }
  SECTION("beside the rounded end of the arch") {
    // 40 mm into the arch its rounded end has reached 170 + sqrt(100^2 - 60^2) = 250 mm.
    CHECK(clear_width(vehicle, 850, 940, 250, 900)->right == -900);
    CHECK(clear_width(vehicle, 850, 940, 249.9, 900)->right == -690);
  }
  SECTION("surveyed to the rib face the rib does not count again") {
    for (Station& station : vehicle.stations) station.surveyed = Surveyed::rib_face;
    CHECK(clear_width(vehicle, 500, 700, 0, 900)->left == 900);
  }
}

TEST_CASE("a box that leaves the room has no clear width", "[vehicle][questions]") {
  const Vehicle vehicle = plain_box();
  CHECK(clear_width(vehicle, 0, 2000, 0, 1900));
  CHECK_FALSE(clear_width(vehicle, -1, 500, 0, 900));
  CHECK_FALSE(clear_width(vehicle, 500, 2001, 0, 900));
  CHECK_FALSE(clear_width(vehicle, 0, 500, -1, 900));
  CHECK_FALSE(clear_width(vehicle, 0, 500, 0, 1901));
  SECTION("the ends of a box may be named in any order") {
    CHECK(clear_width(vehicle, 500, 100, 900, 0)->width() == 1800);
  }
}

TEST_CASE("a roof that dips between its corners ends the room there", "[vehicle][questions]") {
  // The roof of a twisted box folds down along the lower diagonal: 1800 mm all along it.
  Vehicle vehicle;
  const std::vector<WallPoint> low{{0, 900}, {1800, 900}};
  const std::vector<WallPoint> high{{0, 900}, {1900, 900}};
  vehicle.stations = {station(0, low, high), station(1000, high, low)};
  CHECK(clear_width(vehicle, 490, 510, 1000, 1800));
  CHECK_FALSE(clear_width(vehicle, 490, 510, 1000, 1801));
  CHECK(*clear_height(vehicle, 490, 510, -20, 20) == Approx(1800));
  CHECK(inside_room(vehicle, {500, 0, 1799.9}));
  CHECK_FALSE(inside_room(vehicle, {500, 0, 1800.1}));
  CHECK(inside_room(vehicle, {500, 890, 1848}));
}

TEST_CASE("the clear height is where the room ends above the rectangle", "[vehicle][questions]") {
  const auto name = GENERATE(as<std::string>{}, "long_high", "long_mid", "short_low");
  Vehicle vehicle = committed_vehicle(name);
  vehicle.bows.clear();  // inside_room() does not know them
  // By bisection with inside_room, from a point that lies in the room.
  const auto ceiling = [&](double x, double y) {
    double in = 450.0;
    double out = 2500.0;
    while (out - in > 1e-7) {
      const double middle = (in + out) / 2.0;
      (inside_room(vehicle, {x, y, middle}) ? in : out) = middle;
    }
    return in;
  };
  Dice dice(3);
  for (int i = 0; i < 30; ++i) {
    const double x0 = dice(0, vehicle.x_max() - 300);
    const double x1 = x0 + dice(0, 290);
    // Out to where the walls lean in by little, far below the roof.
    const double reach = *wall_y(vehicle, VanSide::left, 0, 450) - 5.0;
    const double y0 = i % 3 == 0 ? -reach : dice(-reach, reach - 250);
    const double y1 = y0 + dice(0, 250);
    const auto height = clear_height(vehicle, x0, x1, y0, y1);
    REQUIRE(height);
    double least = 1e9;
    for (int a = 0; a <= 15; ++a) {
      for (int b = 0; b <= 15; ++b) {
        least = std::min(least, ceiling(x0 + (x1 - x0) * a / 15.0, y0 + (y1 - y0) * b / 15.0));
      }
    }
    CAPTURE(x0, x1, y0, y1);
    CHECK(*height <= least + 1e-6);
    CHECK(*height > least - 8.0);  // along x it changes by less than 1 in 2
  }
}

TEST_CASE("a rectangle wider than the van has no clear height", "[vehicle][questions]") {
  const Vehicle vehicle = plain_box();
  CHECK(*clear_height(vehicle, 0, 2000, -900, 900) == 1900);
  CHECK_FALSE(clear_height(vehicle, 0, 2000, -900, 901));
  CHECK_FALSE(clear_height(vehicle, 0, 2000, -901, 900));
  CHECK_FALSE(clear_height(vehicle, 0, 2001, 0, 10));
}

TEST_CASE("in plan the room is as wide as its widest height, all along the rectangle",
          "[vehicle][questions]") {
  // Widest at the floor behind and at 1000 mm in front: halfway the edges cross at 850 mm.
  Vehicle vehicle;
  const std::vector<WallPoint> rear{{0, 900}, {1000, 800}, {1800, 700}};
  const std::vector<WallPoint> front{{0, 800}, {1000, 900}, {1800, 700}};
  vehicle.stations = {station(0, rear, rear), station(1000, front, front)};
  CHECK(clear_height(vehicle, 0, 1000, 0, 849.9));
  CHECK_FALSE(clear_height(vehicle, 0, 1000, 0, 850.1));
  CHECK(clear_height(vehicle, 0, 100, 0, 880));
}

TEST_CASE("a joist takes a bolt that keeps its edge distance", "[vehicle][questions]") {
  Vehicle vehicle = plain_box();
  vehicle.joists.push_back({"rear", true, 200, 60, -800, 800});
  vehicle.joists.push_back({"front", true, 600, 60, -800, 800});
  vehicle.joists.push_back({"spine", false, 0, 40, 0, 2000});

  CHECK(nearest_joist(vehicle, {350, 300})->name == "rear");
  CHECK(nearest_joist(vehicle, {450, 300})->name == "front");
  CHECK(nearest_joist(vehicle, {450, 50})->name == "spine");
  CHECK(nearest_joist(plain_box(), {450, 50}) == nullptr);

  CHECK(over_joist(vehicle, {218, 300}, 12));
  CHECK_FALSE(over_joist(vehicle, {218.1, 300}, 12));
  CHECK(over_joist(vehicle, {200, 788}, 12));
  CHECK_FALSE(over_joist(vehicle, {200, 788.1}, 12));
  CHECK(over_joist(vehicle, {1000, -8}, 12));
  CHECK_FALSE(over_joist(vehicle, {1000, -8.1}, 12));
}

TEST_CASE("the next rib is the one in front on the same side", "[vehicle][questions]") {
  Vehicle vehicle = plain_box();
  vehicle.ribs = {{"b", VanSide::left, 900, 60, 30, 0, 1500},
                  {"a", VanSide::left, 400, 60, 30, 0, 1500},
                  {"r", VanSide::right, 500, 60, 30, 0, 1500}};
  CHECK(next_rib(vehicle, VanSide::left, 0)->name == "a");
  CHECK(next_rib(vehicle, VanSide::left, 400)->name == "b");
  CHECK(next_rib(vehicle, VanSide::left, 900) == nullptr);
  CHECK(next_rib(vehicle, VanSide::right, 0)->name == "r");
}

TEST_CASE("the survey is as uncertain as the worst station that shapes the wall",
          "[vehicle][questions]") {
  const Vehicle vehicle = committed_vehicle("long_high");
  CHECK(survey_uncertainty(vehicle, 100, 700) == 3);
  CHECK(survey_uncertainty(vehicle, 100, 2000) == 5);
  CHECK(survey_uncertainty(vehicle, 3000, 3100) == 5);
}

TEST_CASE("facts of the vehicle are sorted and say what expressions may name",
          "[vehicle][questions]") {
  const auto facts = vehicle_facts(committed_vehicle("long_high"));
  const auto value = [&](const std::string& name) {
    const auto found = std::ranges::find(facts, name, &std::pair<std::string, Quantity>::first);
    REQUIRE(found != facts.end());
    return found->second;
  };
  CHECK(std::ranges::is_sorted(facts, {}, &std::pair<std::string, Quantity>::first));
  CHECK(value("floor_width").value == 878 + 876);  // the rear station is the narrowest
  CHECK(value("roof_height").value == 1900);
  CHECK(value("rear_sill").value == 15);
  CHECK(value("rib.left_8.x").value == 300 + 7 * 410);
  CHECK(value("arch.left.half_width").value == 692);
  CHECK(value("axle.rear.limit") == Quantity{2100, dimension::mass});
  CHECK(value("axle.front.empty") == Quantity{1270, dimension::mass});
  CHECK(value("weighbridge.fuel") == Quantity{0.9, dimension::none});
  CHECK(value("wheelbase").value == 4480 - 944);
  CHECK(value("floor.deck.thickness").value == 9);
  CHECK(value("floor_thickness").value == 12);
  CHECK(value("bow.roof_4.x").value == 420 + 3 * 820);
  // The roof is lowest at the right end of the rearmost bow, near the rear station, where it falls
  // from 1900 at y = -30 to 1885 at y = -392 and less steeply further in front.
  CHECK(value("bow.roof_1.bottom").value > 1885 - 24);
  CHECK(value("bow.roof_1.bottom").value < 1887 - 24);
  CHECK(value("opening.sliding_door.clear_way").value == 600);
}

TEST_CASE("everything in the vehicle with a number is among the facts, once",
          "[vehicle][questions]") {
  const auto vehicle = committed_vehicle(GENERATE("long_high", "long_mid", "short_low"));
  const auto facts = vehicle_facts(vehicle);
  std::vector<std::string> names;
  for (const auto& [name, value] : facts) names.push_back(name);
  CHECK(std::ranges::adjacent_find(names) == names.end());
  const auto has = [&](const std::string& name) {
    CAPTURE(name);
    CHECK(std::ranges::binary_search(names, name));
  };
  for (const auto& s : vehicle.stations) has("station." + s.name + ".x");
  for (const auto& d : vehicle.diagonals) has("diagonal." + d.name + ".length");
  for (const auto& r : vehicle.ribs) has("rib." + r.name + ".x");
  for (const auto& b : vehicle.bows) has("bow." + b.name + ".bottom");
  for (const auto& a : vehicle.arches) has("arch." + a.name + ".edge_radius");
  for (const auto& o : vehicle.openings) has("opening." + o.name + ".clear_way");
  for (const auto& c : vehicle.channels) has("channel." + c.name + ".depth");
  for (const auto& l : vehicle.floor_layers) has("floor." + l.name + ".thickness");
  for (const auto& j : vehicle.joists) has("joist." + j.name + ".at");
  for (const auto& p : vehicle.hard_points) has("hard_point." + p.name + ".y");
  for (const auto& n : vehicle.no_drill) has("no_drill." + n.name + ".left");
  for (const char* name :
       {"wheelbase", "gross_limit", "axle.front.wheel_limit", "weighbridge.front", "floor_width",
        "floor_thickness", "rear", "front", "length", "rear_sill", "roof_height"}) {
    has(name);
  }
  // The committed vans show everything that a vehicle file can say.
  CHECK_FALSE(vehicle.diagonals.empty());
  CHECK_FALSE(vehicle.bows.empty());
  CHECK_FALSE(vehicle.channels.empty());
  CHECK_FALSE(vehicle.floor_layers.empty());
  CHECK_FALSE(vehicle.hard_points.empty());
  CHECK_FALSE(vehicle.no_drill.empty());
}

TEST_CASE("a mirrored vehicle gives mirrored answers", "[vehicle][questions]") {
  const auto name = GENERATE(as<std::string>{}, "long_high", "short_low");
  const Vehicle vehicle = committed_vehicle(name);
  const Vehicle mirror = mirrored(vehicle);
  Dice dice(11);
  for (int i = 0; i < 200; ++i) {
    const double x0 = dice(0, 2000);
    const double x1 = x0 + dice(0, 500);
    const double z0 = dice(0, 800);
    const double z1 = z0 + dice(0, 400);
    const auto here = clear_width(vehicle, x0, x1, z0, z1);
    const auto there = clear_width(mirror, x0, x1, z0, z1);
    REQUIRE((here && there));
    // The triangles are walked the other way round: equal but for rounding.
    CHECK(here->left == Approx(-there->right).margin(1e-9));
    CHECK(here->right == Approx(-there->left).margin(1e-9));
    const double y0 = dice(-700, 500);
    const auto above = clear_height(vehicle, x0, x1, y0, y0 + 150);
    const auto mirrored_above = clear_height(mirror, x0, x1, -y0 - 150, -y0);
    REQUIRE((above && mirrored_above));
    CHECK(*above == Approx(*mirrored_above).margin(1e-9));
    const Vec3 p{x0, dice(-950, 950), dice(0, 1500)};
    CHECK(inside_room(vehicle, p) == inside_room(mirror, {p.x, -p.y, p.z}));
  }
}
