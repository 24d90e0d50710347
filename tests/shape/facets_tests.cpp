#include "samples.hpp"
#include "shape/facets.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <map>
#include <numbers>
#include <set>
#include <tuple>

using namespace ribbay;
using namespace samples;

namespace {

using Key = std::tuple<long, long, long>;
Key key_of(Vec3 p) {
  return {std::lround(p.x * 1e5), std::lround(p.y * 1e5), std::lround(p.z * 1e5)};
}
using Step = std::pair<Key, Key>;

double volume_of(const Facets& f) {
  double six = 0.0;
  for (const FacetFace& face : f.faces)
    for (const auto& loop : face.loops)
      for (std::size_t i = 1; i + 1 < loop.size(); ++i)
        six += dot(loop[0], cross(loop[i], loop[i + 1]));
  return six / 6.0;
}

double loop_area(const std::vector<Vec3>& loop, Vec3 normal) {
  Vec3 sum;
  for (std::size_t i = 1; i + 1 < loop.size(); ++i)
    sum = sum + cross(loop[i] - loop[0], loop[i + 1] - loop[0]);
  return dot(sum, normal) / 2.0;
}

/// Every side of every loop has exactly one opposite, every such pair is one edge of the list with
/// the normals of its two faces, every point of a face lies in its plane, and no two faces across
/// an edge are one plane.
void check_closed(const Facets& f) {
  std::map<Step, std::vector<Vec3>> steps;
  for (const FacetFace& face : f.faces) {
    CHECK(length(face.normal) == Approx(1.0).margin(1e-12));
    for (std::size_t l = 0; l < face.loops.size(); ++l) {
      const auto& loop = face.loops[l];
      REQUIRE(loop.size() >= 3);
      CHECK((loop_area(loop, face.normal) > 0.0) == (l == 0));
      for (std::size_t i = 0; i < loop.size(); ++i) {
        CHECK(std::abs(dot(face.normal, loop[i] - face.loops[0][0])) < 1e-5);
        steps[{key_of(loop[i]), key_of(loop[(i + 1) % loop.size()])}].push_back(face.normal);
      }
    }
  }
  std::map<Step, int> listed;
  for (const FacetEdge& edge : f.edges) {
    const Key a = key_of(edge.a);
    const Key b = key_of(edge.b);
    ++listed[std::minmax(a, b)];
    CHECK(length(edge.n1 - edge.n2) > 1e-6);
    const auto forward = steps.find({a, b});
    const auto back = steps.find({b, a});
    REQUIRE(forward != steps.end());
    REQUIRE(back != steps.end());
    CHECK(std::ranges::any_of(forward->second, [&](Vec3 n) { return length(n - edge.n1) < 1e-9; }));
    CHECK(std::ranges::any_of(back->second, [&](Vec3 n) { return length(n - edge.n2) < 1e-9; }));
  }
  std::size_t sides = 0;
  for (const auto& [step, normals] : steps) {
    sides += normals.size();
    const auto opposite = steps.find({step.second, step.first});
    REQUIRE(opposite != steps.end());
    CHECK(opposite->second.size() == normals.size());
    CHECK(listed[std::minmax(step.first, step.second)] == static_cast<int>(normals.size()));
  }
  CHECK(sides == 2 * f.edges.size());
}

/// Vertices less edges plus faces less inner loops: 2 less twice the number of tunnels (Euler and
/// Poincare).
int euler(const Facets& f) {
  std::set<Key> points;
  int inner = 0;
  for (const FacetFace& face : f.faces) {
    inner += static_cast<int>(face.loops.size()) - 1;
    for (const auto& loop : face.loops)
      for (const Vec3 p : loop) points.insert(key_of(p));
  }
  return static_cast<int>(points.size()) - static_cast<int>(f.edges.size()) +
         static_cast<int>(f.faces.size()) - inner;
}

/// The solid that chords make of a disc, for hand arithmetic.
double polygon_area(int n, double radius) {
  return n * radius * radius * std::sin(2.0 * std::numbers::pi / n) / 2.0;
}

}  // namespace

TEST_CASE("a box has six faces and twelve edges", "[shape][facets]") {
  const Facets f = facets(box_shape({1, 2, 3}, {11, 22, 33}));
  CHECK(f.faces.size() == 6);
  CHECK(f.edges.size() == 12);
  CHECK(f.curves.empty());
  CHECK(volume_of(f) == Approx(10.0 * 20.0 * 30.0));
  check_closed(f);
  CHECK(euler(f) == 2);
}

TEST_CASE("a cylinder is drawn by two circles and smooth seams", "[shape][facets]") {
  const Facets f = facets(Shape{{cylinder(20, 30)}});
  check_closed(f);
  CHECK(euler(f) == 2);
  REQUIRE(f.curves.size() == 2);
  CHECK(f.curves[0].radius == Approx(10.0));
  const int n = static_cast<int>(f.faces.size()) - 2;
  CHECK(volume_of(f) == Approx(30.0 * polygon_area(n, 10.0)));
  for (const FacetEdge& edge : f.edges) {
    const bool upright = edge.a.z != edge.b.z;
    CHECK(edge.smooth == upright);
    CHECK((edge.curve >= 0) == !upright);
    CHECK(std::hypot(edge.a.x, edge.a.y) == Approx(10.0));  // chords end on the arc
    const Vec3 middle = (edge.a + edge.b) * 0.5;
    CHECK(10.0 - std::hypot(middle.x, middle.y) <= 0.05 + 1e-9);
  }
}

TEST_CASE("a dado leaves one face on each side of it and none in between", "[shape][facets]") {
  // A panel 100 x 60 x 10 with a dado 12 wide and 4 deep across it.
  const Facets f = facets(
      prism({rectangle({0, 0}, {100, 60}), {}}, 10, {{rectangle({40, -1}, {52, 61}), 6, 11}}));
  check_closed(f);
  // top left, top right, floor, two cheeks, bottom, two ends, two long sides with a notch in each
  CHECK(f.faces.size() == 10);
  CHECK(f.edges.size() == 24);
  CHECK(volume_of(f) == Approx(100.0 * 60.0 * 10.0 - 12.0 * 60.0 * 4.0));
  CHECK(euler(f) == 2);
}

TEST_CASE("a stopped dado on the edge of another cut makes one outline", "[shape][facets]") {
  // Two cuts of the same depth that share an edge are one recess.
  const Facets f = facets(
      prism({rectangle({0, 0}, {100, 60}), {}}, 10,
            {{rectangle({20, 20}, {40, 40}), 6, 10}, {rectangle({40, 20}, {60, 40}), 6, 10}}));
  check_closed(f);
  CHECK(f.faces.size() == 11);
  CHECK(f.edges.size() == 24);
  CHECK(volume_of(f) == Approx(60000.0 - 40.0 * 20.0 * 4.0));
}

TEST_CASE("bores along the panel's thickness are holes of its faces", "[shape][facets]") {
  Shape panel = box_shape({0, 0, 0}, {100, 60, 10});
  panel.prisms[0].prism.bores = {{{20, 30, 10}, {0, 0, -1}, 8, 10, true},
                                 {{70, 30, 10}, {0, 0, -1}, 10, 6, false}};
  const Facets f = facets(panel);
  check_closed(f);
  CHECK(euler(f) == 0);  // one tunnel
  CHECK(f.curves.size() == 4);
  const auto top = std::ranges::count_if(
      f.faces, [](const FacetFace& face) { return face.normal.z > 0.5 && face.loops.size() == 3; });
  const auto bottom = std::ranges::count_if(f.faces, [](const FacetFace& face) {
    return face.normal.z < -0.5 && face.loops.size() == 2;
  });
  CHECK(top == 1);
  CHECK(bottom == 1);

  SECTION("and are left out when they are not wanted or too small") {
    CHECK(facets(panel, {.bores = false}).faces.size() == 6);
    const Facets large = facets(panel, {.smallest = 9.0});
    CHECK(large.curves.size() == 2);
    CHECK(euler(large) == 2);
  }
}

TEST_CASE("a bore across a hollow member shows on every wall it passes", "[shape][facets]") {
  Shape member = prism(hollow_section(40, 40, 2, 4, 2), 500);
  member.prisms[0].prism.bores = {{{20, 0, 100}, {-1, 0, 0}, 9, 40, true}};
  const Facets f = facets(member);
  std::set<int> circles;
  for (const FacetEdge& edge : f.edges)
    if (edge.n1 == edge.n2) {
      REQUIRE(edge.curve >= 0);
      circles.insert(edge.curve);
      const FacetCurve& curve = f.curves[static_cast<std::size_t>(edge.curve)];
      CHECK(curve.radius == 4.5);
      CHECK(length(edge.a - curve.centre) == Approx(4.5));
      CHECK(std::abs(dot(edge.a - curve.centre, edge.n1)) < 1e-9);
      CHECK(std::abs(edge.n1.x) == Approx(1.0));
      CHECK(curve.centre.z == Approx(100.0));
    }
  CHECK(circles.size() == 4);  // in and out of both walls

  SECTION("a blind one only where it enters") {
    member.prisms[0].prism.bores[0].through = false;
    member.prisms[0].prism.bores[0].depth = 1.0;
    const Facets blind = facets(member);
    std::set<int> found;
    for (const FacetEdge& edge : blind.edges)
      if (edge.n1 == edge.n2) {
        found.insert(edge.curve);
        CHECK(edge.a.x == Approx(20.0));
      }
    CHECK(found.size() == 1);
  }
}

TEST_CASE("a coarse section stands in where it is asked for", "[shape][facets]") {
  Shape member = prism(slotted_section({}), 500);
  member.prisms[0].prism.coarse = slotted_outline({});
  CHECK(facets(member).faces.size() > 40);
  const Facets f = facets(member, {.coarse = true});
  check_closed(f);
  CHECK(f.faces.size() < 40);
}

TEST_CASE("cuts narrower than the smallest feature are left out of a drawing", "[shape][facets]") {
  const Shape panel =
      prism({rectangle({0, 0}, {100, 60}), {}}, 10, {{rectangle({40, -100}, {52, 200}), 6, 11}});
  CHECK(facets(panel, {.smallest = 12.0}).faces.size() == 10);
  CHECK(facets(panel, {.smallest = 12.1}).faces.size() == 6);
}

TEST_CASE("the facets of every section are closed and hold its volume", "[shape][facets]") {
  for (const Named& family : section_families()) {
    CAPTURE(family.name);
    const Shape shape = prism(family.section, 300);
    const Facets f = facets(shape, {.chord = 0.001});
    check_closed(f);
    CHECK(euler(f) == 2 - 2 * static_cast<int>(family.section.holes.size()));
    CHECK(volume_of(f) == Approx(volume(shape)).epsilon(1e-3));
  }
}

TEST_CASE("the facets of panels with all kinds of cuts are closed", "[shape][facets]") {
  for (unsigned seed = 1; seed <= 150; ++seed) {
    CAPTURE(seed);
    const Shape shape = random_panel(seed);
    const Facets f = facets(shape, {.chord = 0.002});
    check_closed(f);
    CHECK(volume_of(f) == Approx(volume(shape)).epsilon(1e-5));
  }
}

TEST_CASE("facets move with their frame, circles included", "[shape][facets]") {
  Shape shape{{cylinder(20, 30)}};
  shape.prisms[0].frame = frame_zx({100, 0, 0}, {0, 1, 0}, {1, 0, 0});
  const Facets f = facets(shape);
  check_closed(f);
  REQUIRE(f.curves.size() == 2);
  CHECK(f.curves[0].axis == Vec3{0, 1, 0});
  CHECK(length(f.curves[1].centre - Vec3{100, 30, 0}) < 1e-12);
}
