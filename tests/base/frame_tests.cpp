#include "base/box.hpp"
#include "base/frame.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace ribbay;

namespace {

double determinant(const Frame& f) {
  return dot(f.x, cross(f.y, f.z));
}

/// A quarter turn about z, a shift, then a quarter turn about the new x.
Frame turned() {
  const Frame about_z{{10, 20, 30}, {0, 1, 0}, {-1, 0, 0}, {0, 0, 1}};
  const Frame about_x{{1, 2, 3}, {1, 0, 0}, {0, 0, 1}, {0, -1, 0}};
  return about_z * about_x;
}

}  // namespace

TEST_CASE("a fresh frame changes nothing", "[base][frame]") {
  CHECK(Frame{}.point({1, 2, 3}) == Vec3{1, 2, 3});
  CHECK(Frame{} * turned() == turned());
}

TEST_CASE("frames are chained from the outside in", "[base][frame]") {
  const Frame frame = turned();
  CHECK(frame.origin == Vec3{8, 21, 33});  // (1, 2, 3) turned is (-2, 1, 3)
  CHECK(frame.direction({1, 0, 0}) == Vec3{0, 1, 0});
  CHECK(frame.direction({0, 1, 0}) == Vec3{0, 0, 1});
  CHECK(frame.direction({0, 0, 1}) == Vec3{1, 0, 0});
  CHECK(determinant(frame) == 1.0);
}

TEST_CASE("local coordinates undo a frame", "[base][frame]") {
  const Frame frame = turned();
  for (const Vec3 p : {Vec3{0, 0, 0}, Vec3{1, -2, 3}, Vec3{1e3, 5, -7}}) {
    CHECK(frame.local_point(frame.point(p)) == p);
    CHECK(frame.local_direction(frame.direction(p)) == p);
  }
}

TEST_CASE("frame_zx makes a right-handed frame", "[base][frame]") {
  const Frame frame = frame_zx({1, 2, 3}, {1, 0, 0}, {0, 0, 1});
  CHECK(frame.z == Vec3{1, 0, 0});
  CHECK(frame.x == Vec3{0, 0, 1});
  CHECK(determinant(frame) == 1.0);
}

TEST_CASE("cross products are right-handed and a perpendicular turns to the left", "[base][vec]") {
  CHECK(cross(Vec3{1, 0, 0}, Vec3{0, 1, 0}) == Vec3{0, 0, 1});
  CHECK(cross(Vec2{1, 0}, Vec2{0, 1}) == 1.0);
  CHECK(perpendicular({1, 0}) == Vec2{0, 1});
  CHECK(length(normalized(Vec3{3, 4, 12})) == Approx(1.0));
}

TEST_CASE("a box grows with what is put in", "[base][box]") {
  Box box;
  CHECK(box.empty());
  box.add(Box{});
  CHECK(box.empty());
  box.add(Vec3{1, 2, 3});
  CHECK_FALSE(box.empty());
  CHECK(box.size() == Vec3{0, 0, 0});
  box.add(Vec3{-1, 5, 3});
  CHECK(box.lo == Vec3{-1, 2, 3});
  CHECK(box.hi == Vec3{1, 5, 3});
  CHECK(box.centre() == Vec3{0, 3.5, 3});
  CHECK(grown(box, 2).lo == Vec3{-3, 0, 1});
}

TEST_CASE("boxes are near when no axis parts them by more than the margin", "[base][box]") {
  const Box a{{0, 0, 0}, {1, 1, 1}};
  const auto moved = [&](Vec3 by) { return Box{a.lo + by, a.hi + by}; };
  CHECK(near(a, moved({1, 0, 0}), 0));  // touching
  CHECK_FALSE(near(a, moved({1.5, 0, 0}), 0.4));
  CHECK(near(a, moved({1.5, 0, 0}), 0.5));
  CHECK_FALSE(near(a, moved({0, 0, -1.5}), 0.4));
  CHECK_FALSE(near(a, moved({0, 3, 0}), 1));
  CHECK_FALSE(near(a, Box{}, 100));
}
