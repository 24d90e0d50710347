#include "shape/folded.hpp"
#include "shape/pieces.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace ribbay;
using Catch::Detail::Approx;

namespace {

constexpr double kRight = std::numbers::pi / 2;

Region plate(double x, double y) {
  return {rectangle({0, 0}, {x, y}), {}};
}

/// A tray of 200 x 100 inside the bends with walls of 40 on all four sides, 2 mm sheet.
FoldedSheet tray(double angle, double radius) {
  FoldedSheet sheet{.thickness = 2.0, .k_factor = 0.4, .flats = {}};
  sheet.flats.push_back({.outline = plate(200, 100)});
  const auto wall = [&](Vec2 a, Vec2 b) {
    sheet.flats.push_back({.parent = 0,
                           .a = a,
                           .b = b,
                           .angle = angle,
                           .radius = radius,
                           .outline = plate(length(b - a), 40)});
  };
  wall({200, 0}, {0, 0});
  wall({0, 0}, {0, 100});
  wall({0, 100}, {200, 100});
  wall({200, 100}, {200, 0});
  return sheet;
}

}  // namespace

TEST_CASE("bend allowance is the length of the neutral fibre") {
  // Hand arithmetic: a right angle about 3 mm inside in 2 mm sheet, fibre at 0.4 x 2 = 0.8 mm:
  // pi / 2 x 3.8 = 5.969 mm.
  CHECK(bend_allowance(kRight, 3.0, 2.0, 0.4) == Approx(5.969026).epsilon(1e-6));
  CHECK(bend_allowance(-kRight, 3.0, 2.0, 0.4) == Approx(5.969026).epsilon(1e-6));
}

TEST_CASE("a folded tray has the size and the volume of its walls") {
  const double up = GENERATE(1.0, -1.0);
  const FoldedSheet sheet = tray(up * kRight, 3.0);
  const Shape shape = folded_shape(sheet);
  const Box box = bounds(shape);
  // Outside of the walls: 3 + 2 beyond the tangent lines on each side; height 2 + 3 + 40.
  CHECK(box.lo.x == Approx(-5.0));
  CHECK(box.hi.x == Approx(205.0));
  CHECK(box.lo.y == Approx(-5.0));
  CHECK(box.hi.y == Approx(105.0));
  CHECK(box.size().z == Approx(45.0));
  CHECK((up > 0 ? box.hi.z : -box.lo.z) == Approx(up > 0 ? 45.0 : 43.0));
  // Plates, and four quarter rings of 3 to 5 mm radius along 600 mm.
  const double ring = std::numbers::pi / 4 * (25.0 - 9.0);
  CHECK(volume(shape) == Approx(2.0 * (200 * 100 + 600 * 40) + ring * 600).epsilon(1e-9));
}

TEST_CASE("the flat pattern is one outline with a line for each bend") {
  const FlatPattern flat = flat_pattern(tray(kRight, 3.0));
  REQUIRE(fault(flat.blank.section).empty());
  CHECK(flat.blank.section.outer.size() == 12);
  const double allowance = bend_allowance(kRight, 3.0, 2.0, 0.4);
  const Box box = bounds(Shape{{{flat.blank, {}}}});
  CHECK(box.lo.x == Approx(-40.0 - allowance));
  CHECK(box.hi.y == Approx(140.0 + allowance));
  CHECK(area(flat.blank.section) == Approx(200 * 100 + 600 * (40 + allowance)).epsilon(1e-9));
  REQUIRE(flat.bends.size() == 4);
  CHECK(flat.bends[0].a.y == Approx(-allowance / 2));
  CHECK(length(flat.bends[1].b - flat.bends[1].a) == Approx(100.0));
}

TEST_CASE("bends of any angle close up with what they join") {
  // The end of the sector is the beginning of the flat: its four corners are where the flat says.
  for (const double degrees : {-150.0, -91.0, -90.0, -7.0, 3.0, 45.0, 90.0, 120.0, 170.0}) {
    for (const double radius : {0.0, 1.0, 3.0, 900.0}) {
      FoldedSheet sheet{.thickness = 2.0, .k_factor = 0.4, .flats = {}};
      sheet.flats.push_back({.outline = plate(50, 60)});
      const double angle = degrees * std::numbers::pi / 180;
      sheet.flats.push_back({.parent = 0,
                             .a = {0, 60},
                             .b = {50, 60},
                             .angle = angle,
                             .radius = radius,
                             .outline = plate(50, 20)});
      const Shape shape = folded_shape(sheet);
      const PlacedPrism& bend = shape.prisms[1];
      INFO(degrees << " degrees, radius " << radius);
      REQUIRE(fault(bend.prism.section).empty());
      const double middle = radius + 1.0;
      // Pappus: the sector's area is its thickness times the length of its middle fibre.
      CHECK(area(bend.prism.section) == Approx(2.0 * middle * std::abs(angle)).epsilon(1e-9));
      const Frame end = flat_frames(sheet)[1];
      bool back = false;
      bool face = false;
      for (const Corner& c : bend.prism.section.outer) {
        const Vec3 p = bend.frame.point({c.at.x, c.at.y, 0});
        back = back || length(p - end.point({0, 0, 0})) < 1e-9;
        face = face || length(p - end.point({0, 0, 2})) < 1e-9;
      }
      CHECK(back);
      CHECK(face);
    }
  }
}

TEST_CASE("holes and cuts of a flat lie on the blank as far from the bend as on the flat") {
  FoldedSheet sheet = tray(kRight, 3.0);
  sheet.flats[3].cuts.push_back({rectangle({20, 10}, {40, 30}), 0, 2, CutRole::cut_out});
  sheet.flats[3].bores.push_back({.at = {100, 20, 2}, .direction = {0, 0, -1}, .diameter = 5,
                                  .depth = 2, .through = true});
  const FlatPattern flat = flat_pattern(sheet);
  const double allowance = bend_allowance(kRight, 3.0, 2.0, 0.4);
  REQUIRE(flat.blank.bores.size() == 1);
  CHECK(flat.blank.bores[0].at.x == Approx(100.0));
  CHECK(flat.blank.bores[0].at.y == Approx(100.0 + allowance + 20.0));
  REQUIRE(flat.blank.cuts.size() == 1);
  CHECK(flat.blank.cuts[0].outline[0].at.y == Approx(100.0 + allowance + 10.0));
  // Bent, the hole is 20 above the end of the bend: 2 + 3 + 20.
  const PlacedPrism wall = folded_shape(sheet).prisms[6];
  CHECK(wall.frame.point(wall.prism.bores[0].at).z == Approx(25.0));
}

TEST_CASE("pieces of a folded sheet cover it and little more") {
  const Shape shape = folded_shape(tray(kRight, 3.0));
  double covered = 0.0;
  for (const ConvexPiece& piece : pieces(shape)) covered += volume(piece);
  CHECK(covered >= volume(shape) - 1e-6);
  CHECK(covered < volume(shape) * 1.002);
}
