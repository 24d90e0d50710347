#include "base/tolerance.hpp"
#include "shape/closed_mesh.hpp"
#include "shape/facets.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <functional>
#include <numbers>
#include <random>

using namespace ribbay;

namespace {

using Triangle = ClosedMesh::Triangle;

struct Surface {
  std::vector<Vec3> points;
  std::vector<Triangle> triangles;

  void add(const Surface& other) {
    const auto base = static_cast<std::uint32_t>(points.size());
    points.insert(points.end(), other.points.begin(), other.points.end());
    for (const Triangle& t : other.triangles) {
      triangles.push_back({t[0] + base, t[1] + base, t[2] + base});
    }
  }
  Surface turned() const {
    Surface other = *this;
    for (Triangle& t : other.triangles) std::swap(t[1], t[2]);
    return other;
  }
};

/// Quadrilaterals of a closed surface, counter-clockwise from outside, as two triangles each; every
/// corner is written again, as in an STL file.
Surface of_quads(const std::vector<std::array<Vec3, 4>>& quads) {
  Surface surface;
  for (const auto& quad : quads) {
    const auto base = static_cast<std::uint32_t>(surface.points.size());
    surface.points.insert(surface.points.end(), quad.begin(), quad.end());
    surface.triangles.push_back({base, base + 1, base + 2});
    surface.triangles.push_back({base, base + 2, base + 3});
  }
  return surface;
}

/// A polygon, counter-clockwise in xy, from z = 0 to `height`; `caps` are its convex parts.
Surface prism(const std::vector<Vec2>& outline, const std::vector<std::array<Vec2, 4>>& caps,
              double height) {
  std::vector<std::array<Vec3, 4>> quads;
  const auto at = [](Vec2 p, double z) { return Vec3{p.x, p.y, z}; };
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Vec2 p = outline[i];
    const Vec2 q = outline[(i + 1) % outline.size()];
    quads.push_back({at(p, 0), at(q, 0), at(q, height), at(p, height)});
  }
  for (const auto& [a, b, c, d] : caps) {
    quads.push_back({at(a, height), at(b, height), at(c, height), at(d, height)});
    quads.push_back({at(d, 0), at(c, 0), at(b, 0), at(a, 0)});
  }
  return of_quads(quads);
}

Surface block(Vec3 lo, Vec3 hi) {
  Surface surface =
      prism({{lo.x, lo.y}, {hi.x, lo.y}, {hi.x, hi.y}, {lo.x, hi.y}},
            {{{{lo.x, lo.y}, {hi.x, lo.y}, {hi.x, hi.y}, {lo.x, hi.y}}}}, hi.z - lo.z);
  for (Vec3& p : surface.points) p.z += lo.z;
  return surface;
}

/// An L: 60 x 40 with a notch of 40 x 25 at its far corner, 10 high. The long side of each cap is
/// divided so that no corner lies on an edge.
Surface angle_piece() {
  return prism({{0, 0}, {20, 0}, {60, 0}, {60, 15}, {20, 15}, {20, 40}, {0, 40}, {0, 15}},
               {{{{0, 0}, {20, 0}, {20, 15}, {0, 15}}},
                {{{20, 0}, {60, 0}, {60, 15}, {20, 15}}},
                {{{0, 15}, {20, 15}, {20, 40}, {0, 40}}}},
               10);
}

/// A surface over the unit square that closes in both directions.
Surface wrapped(int across, int along, const std::function<Vec3(double, double)>& at) {
  std::vector<std::array<Vec3, 4>> quads;
  const auto point = [&](int i, int j) {
    return at(2 * std::numbers::pi * (i % across) / across,
              2 * std::numbers::pi * (j % along) / along);
  };
  for (int i = 0; i < across; ++i) {
    for (int j = 0; j < along; ++j) {
      quads.push_back({point(i, j), point(i + 1, j), point(i + 1, j + 1), point(i, j + 1)});
    }
  }
  return of_quads(quads);
}

Surface ring() {
  return wrapped(16, 10, [](double u, double v) {
    const double out = 50 + 15 * std::cos(v);
    return Vec3{out * std::cos(u), out * std::sin(u), 15 * std::sin(v)};
  });
}

std::shared_ptr<const ClosedMesh> body(const Surface& surface) {
  auto mesh = close_mesh(surface.points, surface.triangles);
  if (!mesh) FAIL(mesh.error().front().code);
  return *mesh;
}

Findings faults(const Surface& surface, const ClosedMeshLimits& limits = {}) {
  const auto mesh = close_mesh(surface.points, surface.triangles, limits);
  REQUIRE_FALSE(mesh);
  REQUIRE(mesh.error().size() == 1);
  return mesh.error();
}

double total(const Pieces& pieces) {
  double sum = 0.0;
  for (const ConvexPiece& piece : pieces) sum += volume(piece);
  return sum;
}

bool inside(const ConvexPiece& piece, Vec3 p) {
  for (const std::vector<int>& face : piece.faces) {
    const auto corner = [&](std::size_t i) {
      return piece.vertices[static_cast<std::size_t>(face[i])];
    };
    if (dot(cross(corner(1) - corner(0), corner(2) - corner(0)), p - corner(0)) > 0) return false;
  }
  return true;
}

bool inside(const Pieces& pieces, Vec3 p) {
  return std::ranges::any_of(pieces, [&](const ConvexPiece& one) { return inside(one, p); });
}

/// How often the surface goes round a point: sum of the solid angles of its triangles (van Oosterom
/// and Strackee 1983, formula from memory) over the whole sphere. Shares nothing with the pieces.
double winding(const Surface& surface, Vec3 p) {
  double sum = 0.0;
  for (const Triangle& t : surface.triangles) {
    const Vec3 a = surface.points[t[0]] - p;
    const Vec3 b = surface.points[t[1]] - p;
    const Vec3 c = surface.points[t[2]] - p;
    sum += 2 * std::atan2(dot(a, cross(b, c)), length(a) * length(b) * length(c) +
                                                   dot(a, b) * length(c) + dot(b, c) * length(a) +
                                                   dot(c, a) * length(b));
  }
  return sum / (4 * std::numbers::pi);
}

}  // namespace

TEST_CASE("a block read as triangles is one convex piece with twelve edges", "[shape][mesh]") {
  const auto mesh = body(block({10, 20, 30}, {110, 70, 60}));
  CHECK(mesh->points.size() == 8);
  CHECK(mesh->volume == Approx(100.0 * 50 * 30));
  CHECK(length(mesh->centroid - Vec3{60, 45, 45}) == Approx(0).margin(1e-9));
  REQUIRE(mesh->pieces.size() == 1);
  CHECK(mesh->pieces[0].vertices.size() == 8);
  CHECK(mesh->pieces[0].normals.size() == 3);
  CHECK(total(mesh->pieces) == Approx(mesh->volume));

  const Shape shape{{}, mesh};
  CHECK(bounds(shape) == Box{{10, 20, 30}, {110, 70, 60}});
  CHECK(volume(shape) == mesh->volume);
  CHECK(pieces(shape).size() == 1);
  const Facets drawn = facets(shape);
  CHECK(drawn.faces.size() == 12);
  CHECK(drawn.edges.size() == 12);  // no diagonals
  for (const FacetEdge& edge : drawn.edges) CHECK_FALSE(edge.smooth);
}

TEST_CASE("a surface that is inside out is turned", "[shape][mesh]") {
  const auto mesh = body(block({0, 0, 0}, {10, 10, 10}).turned());
  CHECK(mesh->volume == Approx(1000));
  CHECK(mesh->pieces.size() == 1);
  CHECK(facets({{}, mesh}).faces[0].normal == Vec3{0, -1, 0});
}

TEST_CASE("a body with a notch is divided into pieces that leave the notch free", "[shape][mesh]") {
  const auto mesh = body(angle_piece());
  CHECK(mesh->volume == Approx((60 * 40 - 40 * 25) * 10.0));
  CHECK(mesh->pieces.size() == 2);
  CHECK(total(mesh->pieces) == Approx(mesh->volume));
  CHECK(inside(mesh->pieces, {5, 35, 5}));
  CHECK(inside(mesh->pieces, {55, 5, 5}));
  CHECK_FALSE(inside(mesh->pieces, {21, 16, 5}));
}

TEST_CASE("a hollow stays hollow", "[shape][mesh]") {
  Surface shell = block({0, 0, 0}, {100, 100, 100});
  shell.add(block({20, 20, 20}, {80, 80, 80}).turned());
  const auto mesh = body(shell);
  CHECK(mesh->volume == Approx(1e6 - 60.0 * 60 * 60));
  CHECK(total(mesh->pieces) == Approx(mesh->volume));
  CHECK(inside(mesh->pieces, {10, 50, 50}));
  CHECK_FALSE(inside(mesh->pieces, {50, 50, 50}));
}

TEST_CASE("bodies of one file may stand apart or touch", "[shape][mesh]") {
  Surface two = block({0, 0, 0}, {10, 10, 10});
  double second = 0.0;
  SECTION("apart") {
    two.add(block({20, 0, 0}, {30, 10, 10}));
    second = 1000;
  }
  SECTION("face to face") {
    two.add(block({10, 2, 2}, {20, 8, 8}));
    second = 360;
  }
  const auto mesh = body(two);
  CHECK(mesh->volume == Approx(1000 + second));
  CHECK(total(mesh->pieces) == Approx(mesh->volume));
}

TEST_CASE("the pieces of a curved body hold exactly the points that its surface goes round",
          "[shape][mesh]") {
  const Surface surface = ring();
  const auto mesh = body(surface);
  CHECK(total(mesh->pieces) == Approx(mesh->volume).epsilon(1e-9));
  std::mt19937 random(7);
  std::uniform_real_distribution<double> across(-70, 70);
  std::uniform_real_distribution<double> up(-17, 17);
  int held = 0;
  for (int i = 0; i < 4000; ++i) {
    const Vec3 p{across(random), across(random), up(random)};
    const bool in = winding(surface, p) > 0.5;
    CAPTURE(p.x, p.y, p.z);
    REQUIRE(inside(mesh->pieces, p) == in);
    held += in ? 1 : 0;
  }
  CHECK(held > 500);
}

TEST_CASE("gentle edges of a curve are smooth, sharp ones are not", "[shape][mesh]") {
  std::size_t sharp = 0;
  for (const FacetEdge& edge : facets({{}, body(ring())}).edges) sharp += edge.smooth ? 0 : 1;
  // Sixteen steps round are 22.5 degrees each at the rim, ten round the section 36 degrees.
  CHECK(sharp >= 160);
  std::vector<Vec2> circle;
  std::vector<std::array<Vec2, 4>> none;
  for (int i = 0; i < 48; ++i) {
    const double a = 2 * std::numbers::pi * i / 48;
    circle.push_back({20 * std::cos(a), 20 * std::sin(a)});
  }
  Surface round = prism(circle, none, 30);
  for (std::uint32_t i = 1; i + 1 < 48; ++i) {
    const auto base = static_cast<std::uint32_t>(round.points.size());
    for (const double z : {0.0, 30.0}) {
      for (const std::uint32_t k : {0U, i, i + 1}) {
        round.points.push_back({circle[k].x, circle[k].y, z});
      }
    }
    round.triangles.push_back({base, base + 2, base + 1});
    round.triangles.push_back({base + 3, base + 4, base + 5});
  }
  const auto mesh = body(round);
  CHECK(mesh->pieces.size() == 1);
  std::size_t smooth = 0;
  for (const FacetEdge& edge : facets({{}, mesh}).edges) smooth += edge.smooth ? 1 : 0;
  CHECK(smooth == 48);
}

TEST_CASE("the same surface has the same key and another one has another", "[shape][mesh]") {
  const Shape one{{}, body(block({0, 0, 0}, {10, 10, 10}))};
  const Shape same{{}, body(block({0, 0, 0}, {10, 10, 10}))};
  const Shape other{{}, body(block({0, 0, 0}, {10, 10, 10.001}))};
  CHECK(key(one) == key(same));
  CHECK(key(one) != key(other));
}

TEST_CASE("what is no closed body is told", "[shape][mesh]") {
  Surface open = block({0, 0, 0}, {10, 10, 10});
  open.triangles.pop_back();
  CHECK(faults(open).front().code == "import.not_closed");
  CHECK(std::get<double>(faults(open).front().argument("count")->value) == 3);

  Surface flat = block({0, 0, 0}, {10, 10, 0});
  CHECK(faults(flat).front().code == "import.no_volume");
  CHECK(faults({}).front().code == "import.no_volume");

  Surface crossing = block({0, 0, 0}, {10, 10, 10});
  crossing.add(block({5, 5, 5}, {15, 15, 15}));
  CHECK(faults(crossing).front().code == "import.overlaps");

  const Surface sound = block({0, 0, 0}, {10, 10, 10});
  CHECK(faults(sound, {.triangles = 11}).front().code == "import.too_many");
  CHECK(close_mesh(sound.points, sound.triangles, {.triangles = 12}));
  CHECK(faults(angle_piece(), {.pieces = 1}).front().code == "import.too_intricate");
}
