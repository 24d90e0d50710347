/// Rounding to single precision, tested by itself: no sound part gives meshes as bad as these.
#include "../../exporters/mesh/src/rounded_mesh.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace ribbay;

namespace {

/// A box with one more point on, or very near, the middle of one of its upper edges.
TriMesh box_with_extra_point(Vec3 extra) {
  TriMesh mesh;
  mesh.points = {{0, 0, 0},    {100, 0, 0},   {100, 50, 0}, {0, 50, 0}, {0, 0, 10},
                 {100, 0, 10}, {100, 50, 10}, {0, 50, 10},  extra};
  // The edge from 4 to 5 passes through point 8 on one side only: triangle 4 8 5 fills the gap.
  mesh.triangles = {{0, 2, 1}, {0, 3, 2}, {4, 5, 6}, {4, 6, 7}, {0, 1, 8}, {1, 5, 8}, {0, 8, 4},
                    {4, 8, 5}, {1, 2, 6}, {1, 6, 5}, {2, 3, 7}, {2, 7, 6}, {3, 0, 4}, {3, 4, 7}};
  return mesh;
}

bool has_flat_triangle(const TriMesh& mesh) {
  return std::ranges::any_of(mesh.triangles, [&](const std::array<int, 3>& t) {
    const auto at = [&](std::size_t i) { return mesh.points[static_cast<std::size_t>(t[i])]; };
    return length(cross(at(1) - at(0), at(2) - at(0))) == 0.0;
  });
}

}  // namespace

TEST_CASE("a flat triangle is turned away and the surface stays closed", "[mesh][stl]") {
  const TriMesh mesh = box_with_extra_point({40, 0, 10});
  REQUIRE(is_closed(mesh));
  REQUIRE(has_flat_triangle(mesh));

  const TriMesh rounded = detail::rounded_mesh(mesh);

  CHECK(is_closed(rounded));
  CHECK_FALSE(has_flat_triangle(rounded));
  CHECK(rounded.triangles.size() == mesh.triangles.size());
  CHECK(volume_mm3(rounded) == Approx(100.0 * 50 * 10));
}

TEST_CASE("points that round together are joined and the surface stays closed", "[mesh][stl]") {
  const TriMesh mesh = box_with_extra_point({100 - 1e-9, 0, 10 - 1e-9});
  REQUIRE(is_closed(mesh));

  const TriMesh rounded = detail::rounded_mesh(mesh);

  CHECK(rounded.points.size() == 8);
  CHECK(rounded.triangles.size() == 12);
  CHECK(is_closed(rounded));
  CHECK(volume_mm3(rounded) == Approx(100.0 * 50 * 10));
}
