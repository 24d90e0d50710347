#include "shape/folded.hpp"
#include "shape/halved.hpp"
#include "shape/pieces.hpp"
#include "shape/sections.hpp"

#include <catch2/catch.hpp>

#include <map>
#include <random>

using namespace ribbay;

namespace {

Vec3 sideways(Vec3 normal) {
  return normalized(cross(std::abs(normal.z) < 0.5 ? Vec3{0, 0, 1} : Vec3{1, 0, 0}, normal));
}

double area_of(const std::vector<std::vector<Vec3>>& loops, Vec3 normal) {
  double twice = 0.0;
  for (const auto& loop : loops) {
    for (std::size_t i = 0; i < loop.size(); ++i)
      twice += dot(normal, cross(loop[i] - loop[0], loop[(i + 1) % loop.size()] - loop[0]));
  }
  return twice / 2.0;
}

/// Volume of the region that faces enclose: a third of the sum of area times distance.
double volume_of(const Facets& facets) {
  double six = 0.0;
  for (const FacetFace& face : facets.faces) {
    for (const auto& loop : face.loops) {
      for (std::size_t i = 0; i < loop.size(); ++i)
        six += dot(loop[0], cross(loop[i], loop[(i + 1) % loop.size()]));
    }
  }
  return six / 6.0;
}

/// Area in which a plane cuts convex pieces, each sliced by itself: shares no code with halved().
double area_by_pieces(const Pieces& all, Vec3 normal, double offset) {
  const Vec3 u = sideways(normal);
  const Vec3 v = cross(normal, u);
  double sum = 0.0;
  for (const ConvexPiece& piece : all) {
    std::vector<Vec2> points;
    for (const auto& face : piece.faces) {
      for (std::size_t i = 0; i < face.size(); ++i) {
        const Vec3 a = piece.vertices[static_cast<std::size_t>(face[i])];
        const Vec3 b = piece.vertices[static_cast<std::size_t>(face[(i + 1) % face.size()])];
        const double ha = dot(normal, a) - offset;
        const double hb = dot(normal, b) - offset;
        if ((ha < 0.0) == (hb < 0.0)) continue;
        const Vec3 p = a + (b - a) * (ha / (ha - hb));
        points.push_back({dot(u, p), dot(v, p)});
      }
    }
    if (points.size() < 3) continue;
    Vec2 middle;
    for (const Vec2 p : points) middle = middle + p;
    middle = middle * (1.0 / static_cast<double>(points.size()));
    std::ranges::sort(points, {},
                      [&](Vec2 p) { return std::atan2(p.y - middle.y, p.x - middle.x); });
    for (std::size_t i = 0; i < points.size(); ++i)
      sum += cross(points[i] - middle, points[(i + 1) % points.size()] - middle) / 2.0;
  }
  return sum;
}

double outline_length(const Facets& rest, Vec3 normal, double offset) {
  double sum = 0.0;
  for (const FacetEdge& e : rest.edges) {
    if (std::abs(dot(normal, e.a) - offset) < 1e-6 && std::abs(dot(normal, e.b) - offset) < 1e-6)
      sum += length(e.b - e.a);
  }
  return sum;
}

}  // namespace

TEST_CASE("a box is halved by hand arithmetic", "[shape][halved]") {
  const Facets box = facets(box_shape({0, 0, 0}, {100, 40, 20}));
  const Halved cut = halved(box, {1, 0, 0}, 30.0);
  REQUIRE(cut.cut.size() == 1);
  CHECK(area_of(cut.cut, {1, 0, 0}) == Approx(40.0 * 20.0));
  CHECK(volume_of(cut.rest) == Approx(30.0 * 40.0 * 20.0));
  CHECK(outline_length(cut.rest, {1, 0, 0}, 30.0) == Approx(2 * (40.0 + 20.0)));
  // All of it, none of it, and a plane in a face.
  CHECK(halved(box, {1, 0, 0}, 200.0).rest.faces.size() == box.faces.size());
  CHECK(halved(box, {1, 0, 0}, -1.0).rest.faces.empty());
  CHECK(volume_of(halved(box, {1, 0, 0}, 100.0).rest) == Approx(100.0 * 40.0 * 20.0));
}

TEST_CASE("a dado and a bore show in the cut", "[shape][halved]") {
  Prism board{{rectangle({0, 0}, {300, 200}), {}}, 12.0};
  board.cuts.push_back({rectangle({100, -1}, {112, 201}), 8.0, 13.0, CutRole::dado});
  board.bores.push_back({{200, 50, 12}, {0, 0, -1}, 8.0, 12.0, true});
  const Facets facets_of_board = facets({{{board, {}}}}, {.chord = 0.001});
  // Along the board through the middle of the bore: 300 x 12 less the dado's 12 x 4 and 8 x 12.
  const Halved cut = halved(facets_of_board, {0, -1, 0}, -50.0);
  CHECK(area_of(cut.cut, {0, -1, 0}) == Approx(300.0 * 12 - 12 * 4 - 8 * 12).margin(0.1));
  CHECK(cut.cut.size() == 2);  // the bore parts it
  // In the plane of the board: the section less the bore, an outline and a hole.
  const Halved flat = halved(facets_of_board, {0, 0, 1}, 4.0);
  CHECK(flat.cut.size() == 2);
  CHECK(area_of(flat.cut, {0, 0, 1}) == Approx(300.0 * 200 - 16 * 3.14159265).margin(0.2));
}

TEST_CASE("cuts of any direction have the area that the convex pieces have", "[shape][halved]") {
  Prism board{{rectangle({0, 0}, {300, 200}, 20.0), {}}, 12.0};
  board.cuts.push_back({rectangle({100, -1}, {112, 201}), 8.0, 13.0, CutRole::dado});
  board.cuts.push_back({rectangle({150, 60}, {260, 140}, 5.0), -1.0, 13.0, CutRole::cut_out});
  const Shape shapes[] = {
      {{{board, {}}}},
      {{{{slotted_section({}), 500.0}, {}}}},
      {{{{hollow_section(40, 60, 3, 6, 3), 400.0}, frame_zx({5, 6, 7}, {0, 1, 0}, {1, 0, 0})}}}};
  std::mt19937 random(7);
  const auto number = [&] { return static_cast<double>(random() % 2001) / 1000.0 - 1.0; };
  int cut_at_all = 0;
  for (const Shape& shape : shapes) {
    const Facets whole = facets(shape, {.chord = 0.002, .bores = false});
    const Pieces all = pieces(shape, {.chord = 0.002});
    const Box box = bounds(shape);
    const double volume = volume_of(whole);
    for (int i = 0; i < 60; ++i) {
      const Vec3 normal = i == 0   ? Vec3{1, 0, 0}
                          : i == 1 ? Vec3{0, 0, -1}
                                   : normalized(Vec3{number(), number(), number() + 0.01});
      const double offset = dot(normal, box.centre()) + 40.0 * number();
      CAPTURE(i, normal.x, normal.y, normal.z, offset);
      const Halved cut = halved(whole, normal, offset);
      const double wanted = area_by_pieces(all, normal, offset);
      if (wanted > 1.0) ++cut_at_all;
      CHECK(area_of(cut.cut, normal) == Approx(wanted).epsilon(0.01).margin(1.5));
      // Both halves together are the whole: the cut is the last face of each.
      const Halved other = halved(whole, -normal, -offset);
      CHECK(volume_of(cut.rest) + volume_of(other.rest) == Approx(volume).epsilon(1e-6));
    }
  }
  CHECK(cut_at_all > 100);
}

TEST_CASE("prisms of one body have one outline where the plane cuts them", "[shape][halved]") {
  // An angle bent from sheet: flat, bend, flat. Its section is an L with a round corner.
  FoldedSheet sheet{.thickness = 2.0, .flats = {}};
  sheet.flats.push_back({.outline = {rectangle({0, 0}, {100, 50})}});
  sheet.flats.push_back({.parent = 0,
                         .a = {100, 50},
                         .b = {100, 0},
                         .angle = 1.5707963267948966,
                         .radius = 3.0,
                         .outline = {rectangle({0, 0}, {50, 30})}});
  const Shape angle = folded_shape(sheet);
  REQUIRE(angle.prisms.size() == 3);
  const Halved cut = halved(facets(angle, {.chord = 0.001}), {0, 1, 0}, 25.0);
  const double bend = 1.5707963267948966;
  CHECK(area_of(cut.cut, {0, 1, 0}) ==
        Approx(100 * 2 + 30 * 2 + bend / 2 * (5.0 * 5.0 - 3.0 * 3.0)).margin(0.05));
  // Both faces of both flats and of the bend, and two ends; no seams between them.
  CHECK(outline_length(cut.rest, {0, 1, 0}, 25.0) ==
        Approx(2 * 100 + 2 * 30 + bend * (3.0 + 5.0) + 2 * 2).margin(0.05));
}
