#include "shape/closed_mesh.hpp"
#include "solids/solid.hpp"
#include "solids_kernel/shape.hpp"

#include <TopExp_Explorer.hxx>
#include <catch2/catch.hpp>

using namespace ribbay;

namespace {

int count(const Solid& solid, TopAbs_ShapeEnum kind) {
  int found = 0;
  for (TopExp_Explorer at(solid.kernel().shape, kind); at.More(); at.Next()) ++found;
  return found;
}

/// Outlines as in tests/shape: a block, given its corners in order from below.
Shape block_mesh(Vec3 lo, Vec3 hi, bool hollow = false) {
  std::vector<Vec3> points;
  std::vector<ClosedMesh::Triangle> triangles;
  const auto add = [&](Vec3 a, Vec3 b, bool inside_out) {
    const auto base = static_cast<std::uint32_t>(points.size());
    for (const double z : {a.z, b.z}) {
      for (const Vec3 p :
           {Vec3{a.x, a.y, z}, Vec3{b.x, a.y, z}, Vec3{b.x, b.y, z}, Vec3{a.x, b.y, z}}) {
        points.push_back(p);
      }
    }
    constexpr std::uint32_t kQuads[6][4] = {{3, 2, 1, 0}, {4, 5, 6, 7}, {0, 1, 5, 4},
                                            {1, 2, 6, 5}, {2, 3, 7, 6}, {3, 0, 4, 7}};
    for (const auto& q : kQuads) {
      for (const auto& [i, j, k] : {std::array{q[0], q[1], q[2]}, std::array{q[0], q[2], q[3]}}) {
        triangles.push_back({base + i, base + (inside_out ? k : j), base + (inside_out ? j : k)});
      }
    }
  };
  add(lo, hi, false);
  if (hollow) add(lo + Vec3{10, 10, 10}, hi - Vec3{10, 10, 10}, true);
  auto mesh = close_mesh(points, triangles);
  REQUIRE(mesh);
  return {{}, *mesh};
}

}  // namespace

TEST_CASE("a body that was read from a file becomes a sound solid with flat faces",
          "[solids][mesh]") {
  const Shape shape = block_mesh({5, 0, 0}, {105, 60, 40});
  const auto solid = make_solid(shape, "rack/heater");
  REQUIRE(solid);
  CHECK(volume_mm3(*solid) == Approx(100.0 * 60 * 40));
  CHECK(length(centroid(*solid) - Vec3{55, 30, 20}) == Approx(0).margin(1e-6));
  CHECK(count(*solid, TopAbs_FACE) == 6);  // two triangles make one face
}

TEST_CASE("the hollow of a body that was read from a file stays hollow", "[solids][mesh]") {
  const auto solid = make_solid(block_mesh({0, 0, 0}, {100, 60, 40}, true), "rack/tank");
  REQUIRE(solid);
  CHECK(volume_mm3(*solid) == Approx(100.0 * 60 * 40 - 80 * 40 * 20));
  CHECK(count(*solid, TopAbs_SHELL) == 2);
}
