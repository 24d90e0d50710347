#include "projects.hpp"
#include "sample_shapes.hpp"
#include "solids/solid_set.hpp"
#include "solids/tri_mesh.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <map>
#include <numbers>

using namespace ribbay;

namespace {

TriMesh mesh_of(const Shape& shape, double deflection = 0.05, double angle = 0.2) {
  const Result<Solid> solid = make_solid(shape, "test/part");
  if (!solid) FAIL(solid.error().front().code);
  Result<TriMesh> mesh = tessellate(*solid, deflection, angle);
  if (!mesh) FAIL(mesh.error().front().code);
  return *std::move(mesh);
}

double surface(const TriMesh& mesh) {
  double area = 0.0;
  for (const auto& [a, b, c] : mesh.triangles) {
    const auto at = [&](int i) { return mesh.points[static_cast<std::size_t>(i)]; };
    area += length(cross(at(b) - at(a), at(c) - at(a))) / 2.0;
  }
  return area;
}

/// Edges whose two triangles face opposite ways.
int folds(const TriMesh& mesh) {
  std::map<std::pair<int, int>, Vec3> normals;
  for (const auto& [a, b, c] : mesh.triangles) {
    const auto at = [&](int i) { return mesh.points[static_cast<std::size_t>(i)]; };
    const Vec3 twice = cross(at(b) - at(a), at(c) - at(a));
    if (length(twice) < 1e-6) continue;  // a sliver has no side
    for (const auto& edge : {std::pair(a, b), std::pair(b, c), std::pair(c, a)})
      normals[edge] = normalized(twice);
  }
  return static_cast<int>(std::ranges::count_if(normals, [&](const auto& one) {
    const auto other = normals.find({one.first.second, one.first.first});
    return other != normals.end() && dot(one.second, other->second) < -0.999;
  }));
}

}  // namespace

TEST_CASE("meshes are closed, outward, and near the volume of their solid", "[solids][mesh]") {
  for (const samples::Named& sample : samples::all()) {
    for (const double deflection : {0.01, 0.05, 0.5}) {
      CAPTURE(sample.name, deflection);
      const Result<Solid> solid = make_solid(sample.shape, "test/part");
      REQUIRE(solid);
      const Result<TriMesh> mesh = tessellate(*solid, deflection, 0.3);
      REQUIRE(mesh);
      CHECK(is_closed(*mesh));
      const double volume = volume_mm3(*solid);
      CHECK(volume_mm3(*mesh) > 0.0);
      // No point of the mesh is further than the deflection from the surface.
      CHECK(std::abs(volume_mm3(*mesh) - volume) <= surface(*mesh) * deflection);
    }
  }
}

TEST_CASE("no triangles of a flat face lie over each other", "[solids][mesh][demo]") {
  for (const samples::Named& sample : samples::all()) {
    for (const double deflection : {0.01, 0.05, 0.5}) {
      CAPTURE(sample.name, deflection);
      CHECK(folds(mesh_of(sample.shape, deflection)) == 0);
    }
  }
  // Panels of 45 holes among them.
  for (const Solid& solid : make_solids(testing::demo(), 2).value.solids) {
    const Result<TriMesh> mesh = tessellate(solid, 0.05, 0.25);
    REQUIRE(mesh);
    CHECK(folds(*mesh) == 0);
  }
  TriMesh folded = mesh_of(box_shape({0, 0, 0}, {2, 1, 1}));
  const auto [a, b, c] = folded.triangles.back();
  const auto at = [&](int i) { return folded.points[static_cast<std::size_t>(i)]; };
  const Vec3 beyond = at(a) * 2.0 - (at(b) + at(c)) * 0.5;  // in its plane, and not in it
  const auto last = static_cast<int>(folded.points.size());
  folded.points.push_back(beyond);
  folded.triangles.pop_back();
  folded.triangles.insert(folded.triangles.end(), {{a, b, last}, {b, c, last}, {c, a, last}});
  CHECK(is_closed(folded));
  CHECK(folds(folded) > 0);
}

TEST_CASE("a box needs eight points and twelve triangles", "[solids][mesh]") {
  const TriMesh mesh = mesh_of(box_shape({1, 2, 3}, {101, 52, 13}));
  CHECK(mesh.points.size() == 8);
  CHECK(mesh.triangles.size() == 12);
  CHECK(mesh.points.front() == Vec3{1, 2, 3});
  CHECK(mesh.points.back() == Vec3{101, 52, 13});
  CHECK(volume_mm3(mesh) == Approx(100.0 * 50 * 10).epsilon(1e-12));
}

TEST_CASE("chords of a cylinder keep to the deflection", "[solids][mesh]") {
  // A chord of a circle of radius r that bows by d spans 2 acos(1 - d / r).
  const double radius = 50.0;
  const double deflection = 0.1;
  const TriMesh mesh = mesh_of({{cylinder(2 * radius, 20)}}, deflection, 1.0);
  const auto chords = mesh.points.size() / 2;
  const double least = std::numbers::pi / std::acos(1.0 - deflection / radius);
  CHECK(static_cast<double>(chords) >= least - 1e-9);
  CHECK(static_cast<double>(chords) < 3 * least);
}

TEST_CASE("points are sorted and used, triangles sorted and without repeats", "[solids][mesh]") {
  const TriMesh mesh = mesh_of(samples::drilled_side());
  std::vector<bool> used(mesh.points.size());
  for (const std::array<int, 3>& triangle : mesh.triangles) {
    CHECK(std::ranges::min_element(triangle) == triangle.begin());
    for (const int i : triangle) used[static_cast<std::size_t>(i)] = true;
  }
  CHECK(std::ranges::all_of(used, [](bool u) { return u; }));
  CHECK(std::ranges::adjacent_find(mesh.points) == mesh.points.end());
  CHECK(std::ranges::is_sorted(mesh.triangles));
}

TEST_CASE("the same solid meshes alike after others were meshed", "[solids][mesh]") {
  const Result<Solid> solid = make_solid(samples::drilled_post(), "x");
  REQUIRE(solid);
  const Result<TriMesh> first = tessellate(*solid, 0.05, 0.3);
  REQUIRE(tessellate(*solid, 1.0, 1.0));
  const Result<TriMesh> again = tessellate(*solid, 0.05, 0.3);
  REQUIRE(first);
  REQUIRE(again);
  CHECK(first->points == again->points);
  CHECK(first->triangles == again->triangles);
}

TEST_CASE("an open mesh, or one with a triangle turned over, is not closed", "[solids][mesh]") {
  TriMesh mesh = mesh_of(box_shape({0, 0, 0}, {1, 1, 1}));
  REQUIRE(is_closed(mesh));
  SECTION("open") {
    mesh.triangles.pop_back();
  }
  SECTION("turned over") {
    std::swap(mesh.triangles[3][1], mesh.triangles[3][2]);
  }
  SECTION("doubled") {
    mesh.triangles.push_back(mesh.triangles.front());
  }
  CHECK_FALSE(is_closed(mesh));
}
