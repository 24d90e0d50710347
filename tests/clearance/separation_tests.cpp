#include "base/tolerance.hpp"
#include "clearance/separation.hpp"
#include "scenes.hpp"

using namespace ribbay;
using scenes::block;
using scenes::turned_frame;

namespace {

const ConvexPiece& unit_box() {
  static const ConvexPiece box = block({0, 0, 0}, {100, 60, 40});
  return box;
}

double distance(const ConvexPiece& a, const ConvexPiece& b) {
  const auto closest = closest_points(a, b, separation(a, b), 1e6);
  REQUIRE(closest);
  CHECK(length(closest->on_a - closest->on_b) == Approx(closest->distance).margin(1e-12));
  return closest->distance;
}

}  // namespace

TEST_CASE("overlapping boxes part along their shallowest axis", "[separation]") {
  const ConvexPiece b = block({90, 10, -5}, {200, 50, 45});  // 10 mm in x, 40 in y, 40 in z
  const Separation s = separation(unit_box(), b);
  CHECK(s.distance == Approx(-10.0).margin(1e-12));
  CHECK(s.axis.x == Approx(-1.0));  // the first box moves to the rear
  const Separation other_way = separation(b, unit_box());
  CHECK(other_way.axis.x == Approx(1.0));
}

TEST_CASE("the depth is what separates by touching from a clash", "[separation]") {
  struct Row {
    const char* name;
    Vec3 shift;
    double expected;
  };
  const auto row = GENERATE(values<Row>({
      {"apart", {0, 0, 40.5}, 0.5},
      {"faces touch", {0, 0, 40}, 0.0},
      {"edges touch", {0, 60, 40}, 0.0},
      {"corners touch", {100, 60, 40}, 0.0},
      {"0.009 deep", {0, 0, 39.991}, -0.009},
      {"0.011 deep", {0, 0, 39.989}, -0.011},
      {"edges 0.009 deep", {0, 59.991, 39.5}, -0.009},
      {"corners 0.011 deep", {99.5, 59.5, 39.989}, -0.011},
      {"one inside the other", {0, 0, 0}, -40.0},
  }));
  CAPTURE(row.name);
  const ConvexPiece b = block(row.shift, row.shift + Vec3{100, 60, 40});
  CHECK(separation(unit_box(), b).distance == Approx(row.expected).margin(1e-9));
}

TEST_CASE("crossed edges are parted by the cross product of their directions", "[separation]") {
  // Two bars with square sections stand on edge and cross at right angles; the upper one's lower
  // edge is h above the lower one's upper edge. Only the cross product of those edges points
  // straight up.
  const double half = 10.0 * std::sqrt(2.0);  // of the diagonal of a 20 mm square
  const Frame on_edge_x = turned_frame({1, 0, 0}, std::acos(-1.0) / 4);
  const auto h = GENERATE(2.0, 0.001, -0.005, -0.02, -3.0);
  const Frame on_edge_y = turned_frame({0, 1, 0}, std::acos(-1.0) / 4, {0, 0, 2 * half + h});
  const ConvexPiece lower = block({-100, -10, -10}, {100, 10, 10}, on_edge_x);
  const ConvexPiece upper = block({-10, -100, -10}, {10, 100, 10}, on_edge_y);
  CHECK(separation(lower, upper).distance == Approx(h).margin(1e-9));
  if (h > 0) CHECK(distance(lower, upper) == Approx(h).margin(1e-9));
}

TEST_CASE("distances between boxes are those of their nearest features", "[separation]") {
  struct Row {
    const char* name;
    Vec3 lo;
    double expected;
  };
  // Pythagoras: 3-4-5 for edges, 2-3-6-7 for corners.
  const auto row = GENERATE(values<Row>({
      {"face to face", {20, 10, 47}, 7.0},
      {"edge to edge", {20, 63, 44}, 5.0},
      {"corner to corner", {102, 63, 46}, 7.0},
  }));
  CAPTURE(row.name);
  const ConvexPiece b = block(row.lo, row.lo + Vec3{30, 20, 10});
  CHECK(distance(unit_box(), b) == Approx(row.expected).margin(1e-12));
  CHECK(distance(b, unit_box()) == Approx(row.expected).margin(1e-12));
  // The limit is exact: at it the points are found, just below it they are not.
  const Separation known = separation(unit_box(), b);
  CHECK(closest_points(unit_box(), b, known, row.expected + 1e-9));
  CHECK_FALSE(closest_points(unit_box(), b, known, row.expected - 1e-9));
}

TEST_CASE("the common volume of boxes is the product of their common sides", "[separation]") {
  const ConvexPiece b = block({90, -10, 30}, {130, 20, 90});  // 10 x 20 x 10
  const Overlap common = overlap(unit_box(), b);
  CHECK(common.volume == Approx(2000.0).epsilon(1e-9));
  CHECK(common.centre.x == Approx(95.0).margin(1e-6));
  CHECK(common.centre.y == Approx(10.0).margin(1e-6));
  CHECK(common.centre.z == Approx(35.0).margin(1e-6));
}

TEST_CASE("faces in one plane count once in a common volume", "[separation]") {
  struct Row {
    const char* name;
    Vec3 lo, hi;
    double expected;
  };
  const auto row = GENERATE(values<Row>({
      {"the same box", {0, 0, 0}, {100, 60, 40}, 240000.0},
      {"three faces shared", {0, 0, 0}, {50, 30, 20}, 30000.0},
      {"inside", {10, 10, 10}, {20, 20, 20}, 1000.0},
      {"around", {-10, -10, -10}, {200, 200, 200}, 240000.0},
      {"a sheet of contact depth", {0, 0, 39.99}, {100, 60, 80}, 60.0},
      {"touching", {0, 0, 40}, {100, 60, 80}, 0.0},
      {"apart", {0, 0, 41}, {100, 60, 80}, 0.0},
  }));
  CAPTURE(row.name);
  const ConvexPiece b = block(row.lo, row.hi);
  CHECK(overlap(unit_box(), b).volume == Approx(row.expected).epsilon(1e-6).margin(1e-6));
  CHECK(overlap(b, unit_box()).volume == Approx(row.expected).epsilon(1e-6).margin(1e-6));
}

TEST_CASE("a warped wedge given with both diagonals is measured as its hull", "[separation]") {
  // The hull of a twisted prism, with the inner diagonals' triangles left among its faces.
  const std::vector<Vec3> corners{{0, 0, 0},   {100, 0, 0},  {0, 100, 0},
                                  {0, 10, 60}, {100, 0, 60}, {10, 100, 60}};
  ConvexPiece clean = scenes::hull(corners);
  ConvexPiece both = clean;
  both.faces.clear();
  both.faces.push_back({0, 2, 1});
  both.faces.push_back({3, 4, 5});
  for (int i = 0; i < 3; ++i) {
    const int k = (i + 1) % 3;
    both.faces.push_back({i, k, k + 3});
    both.faces.push_back({i, k + 3, i + 3});
    both.faces.push_back({i, k, i + 3});
    both.faces.push_back({k, k + 3, i + 3});
  }
  const ConvexPiece probe = block({20, 20, 10}, {90, 90, 50});
  CHECK(overlap(both, probe).volume == Approx(overlap(clean, probe).volume).epsilon(1e-9));
  CHECK(overlap(both, both).volume == Approx(volume(clean)).epsilon(1e-9));
}

TEST_CASE("flat sides given as triangles on both diagonals count once", "[separation]") {
  ConvexPiece both = unit_box();
  both.faces.clear();
  for (const std::vector<int>& face : unit_box().faces) {
    REQUIRE(face.size() == 4);
    both.faces.push_back({face[0], face[1], face[2]});
    both.faces.push_back({face[0], face[2], face[3]});
    both.faces.push_back({face[1], face[2], face[3]});
    both.faces.push_back({face[1], face[3], face[0]});
  }
  CHECK(overlap(both, both).volume == Approx(100.0 * 60 * 40).epsilon(1e-9));
  CHECK(overlap(both, block({90, -10, 30}, {130, 20, 90})).volume == Approx(2000.0).epsilon(1e-9));
}

TEST_CASE("a shift of everything by 10 m changes nothing", "[separation]") {
  scenes::Dice dice(11);
  for (int i = 0; i < 200; ++i) {
    CAPTURE(i);
    std::vector<Vec3> a, b, far_a, far_b;
    const Vec3 shift{10000, -10000, 10000};
    for (int k = 0; k < 8; ++k) {
      a.push_back(dice.point(50));
      b.push_back(dice.point(50) + Vec3{40, 0, 0});
      far_a.push_back(a.back() + shift);
      far_b.push_back(b.back() + shift);
    }
    const ConvexPiece pa = scenes::hull(a), pb = scenes::hull(b);
    const ConvexPiece qa = scenes::hull(far_a), qb = scenes::hull(far_b);
    CHECK(separation(qa, qb).distance == Approx(separation(pa, pb).distance).margin(1e-9));
    CHECK(overlap(qa, qb).volume == Approx(overlap(pa, pb).volume).epsilon(1e-6).margin(1e-6));
  }
}
