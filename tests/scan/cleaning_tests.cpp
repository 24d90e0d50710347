#include "sample_scans.hpp"
#include "scan/clean.hpp"

#include <catch2/catch.hpp>

#include <numbers>

using namespace ribbay;
using namespace ribbay::tests;

namespace {

/// A level square of `size` mm in n x n cells, each of two triangles.
ScanMesh sheet(double size, std::size_t n) {
  ScanMesh mesh;
  made::add_grid(mesh, n + 1, n + 1, false, [&](std::size_t r, std::size_t c) {
    const double cell = size / static_cast<double>(n);
    return Vec3{cell * static_cast<double>(c), cell * static_cast<double>(r), 0.0};
  });
  return mesh;
}

}  // namespace

TEST_CASE("a soup of triangles is welded back to what it was", "[scan][cleaning]") {
  const ScanMesh mesh = sheet(1000, 10);
  ScanMesh soup;
  for (const auto& t : mesh.triangles) {
    const auto first = static_cast<std::uint32_t>(soup.points.size());
    for (const Vec3& p : mesh.corners(t)) soup.points.push_back(p);
    soup.triangles.push_back({first, first + 1, first + 2});
  }
  const CleanedScan cleaned = clean(soup);
  CHECK(cleaned.welded == soup.points.size() - mesh.points.size());
  CHECK(cleaned.mesh.points.size() == mesh.points.size());
  REQUIRE(cleaned.mesh.triangles.size() == mesh.triangles.size());
  for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
    CHECK(cleaned.mesh.corners(cleaned.mesh.triangles[i]) == mesh.corners(mesh.triangles[i]));
  }
}

TEST_CASE("triangles without area and repeated ones go", "[scan][cleaning]") {
  ScanMesh mesh = sheet(1000, 4);
  const std::size_t sound = mesh.triangles.size();
  mesh.triangles.push_back({0, 0, 1});
  mesh.triangles.push_back({0, 1, 2});  // three points of one edge
  const auto t = mesh.triangles[3];
  mesh.triangles.push_back({t[1], t[2], t[0]});
  mesh.triangles.push_back({t[0], t[2], t[1]});  // the same, looking the other way
  const CleanedScan cleaned = clean(mesh);
  CHECK(cleaned.degenerate == 2);
  CHECK(cleaned.duplicate == 2);
  CHECK(cleaned.mesh.triangles.size() == sound);
}

TEST_CASE("a stray is small in share and in size", "[scan][cleaning]") {
  ScanMesh mesh = sheet(3000, 30);
  const auto add = [&](double size, Vec3 at) {
    ScanMesh piece = sheet(size, 2);
    const auto first = static_cast<std::uint32_t>(mesh.points.size());
    for (const Vec3& p : piece.points) mesh.points.push_back(p + at);
    for (const auto& t : piece.triangles) {
      mesh.triangles.push_back({first + t[0], first + t[1], first + t[2]});
    }
  };
  add(50, {0, 0, 500});    // a speck
  add(170, {0, 0, 900});   // 240 mm across, 0.3 % of the whole
  add(400, {0, 0, 1300});  // 566 mm across: a patch of wall
  const CleanedScan cleaned = clean(mesh);
  CHECK(cleaned.strays == 2);
  CHECK(cleaned.stray_triangles == 16);
  CHECK(bounds(cleaned.mesh).hi.z == 1300);
  CHECK(clean(mesh, {.share = 0.005, .size = 100}).strays == 1);
  CHECK(clean(mesh, {.share = 0.0001, .size = 1000}).strays == 0);
}

TEST_CASE("rims are measured", "[scan][cleaning]") {
  ScanMesh mesh = sheet(1000, 20);
  // Two holes: 4 x 4 cells of 50 mm, and one triangle.
  std::erase_if(mesh.triangles, [&](const auto& t) {
    const auto c = mesh.corners(t);
    const Vec3 middle = (c[0] + c[1] + c[2]) * (1.0 / 3.0);
    return middle.x > 200 && middle.x < 400 && middle.y > 300 && middle.y < 500;
  });
  mesh.triangles.pop_back();
  mesh.triangles.erase(mesh.triangles.begin() + 2 * (20 * 15 + 15));
  const std::vector<Hole> holes = rims(clean(mesh).mesh);
  REQUIRE(holes.size() == 3);
  // The last triangle took an outer edge of 50 mm with it and left another one and a diagonal.
  const double diagonal = 50 * std::numbers::sqrt2;
  CHECK(holes[0].rim == Approx(4000 + diagonal));
  CHECK(holes[1].rim == Approx(800));
  CHECK(holes[1].box == Box{{200, 300, 0}, {400, 500, 0}});
  CHECK(holes[2].rim == Approx(100 + diagonal));
}

TEST_CASE("a closed surface has no rim", "[scan][cleaning]") {
  const ScanMesh tetrahedron{{{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
                             {{0, 2, 1}, {0, 1, 3}, {0, 3, 2}, {1, 2, 3}}};
  CHECK(rims(tetrahedron).empty());
}
