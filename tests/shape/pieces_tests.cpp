#include "samples.hpp"
#include "shape/pieces.hpp"

#include <catch2/catch.hpp>

#include <map>
#include <numbers>

using namespace ribbay;
using namespace samples;

namespace {

Vec3 face_normal(const ConvexPiece& piece, const std::vector<int>& face) {
  Vec3 sum;
  const auto at = [&](std::size_t i) { return piece.vertices[static_cast<std::size_t>(face[i])]; };
  for (std::size_t i = 1; i + 1 < face.size(); ++i)
    sum = sum + cross(at(i) - at(0), at(i + 1) - at(0));
  return normalized(sum);
}

bool listed(const std::vector<Vec3>& directions, Vec3 d) {
  return std::ranges::any_of(directions, [&](Vec3 e) { return std::abs(dot(d, e)) > 1.0 - 1e-9; });
}

/// Depth of `p` under the nearest face; negative outside.
double depth(const ConvexPiece& piece, Vec3 p) {
  double least = 1e300;
  for (const auto& face : piece.faces)
    least = std::min(least, dot(face_normal(piece, face),
                                piece.vertices[static_cast<std::size_t>(face[0])] - p));
  return least;
}

/// All vertices lie behind every face, faces close up, and normals, edges and box are those of the
/// faces.
void check_piece(const ConvexPiece& piece) {
  std::map<std::pair<int, int>, int> steps;
  Box box;
  for (const Vec3 v : piece.vertices) box.add(v);
  CHECK(piece.box == box);
  for (const auto& face : piece.faces) {
    const Vec3 n = face_normal(piece, face);
    CHECK(listed(piece.normals, n));
    const Vec3 a = piece.vertices[static_cast<std::size_t>(face[0])];
    for (const Vec3 v : piece.vertices) CHECK(dot(n, v - a) < 2e-6);
    for (std::size_t i = 0; i < face.size(); ++i) {
      const int from = face[i];
      const int to = face[(i + 1) % face.size()];
      ++steps[{from, to}];
      CHECK(listed(piece.edges, normalized(piece.vertices[static_cast<std::size_t>(to)] -
                                           piece.vertices[static_cast<std::size_t>(from)])));
    }
  }
  for (const auto& [step, count] : steps) {
    CHECK(count == 1);
    CHECK(steps.contains({step.second, step.first}));
  }
  for (const Vec3 n : piece.normals) CHECK(length(n) == Approx(1.0).margin(1e-12));
  for (std::size_t i = 0; i < piece.normals.size(); ++i)
    for (std::size_t j = 0; j < i; ++j)
      CHECK(std::abs(dot(piece.normals[i], piece.normals[j])) < 1.0 - 1e-13);
}

double total(const Pieces& all) {
  double sum = 0.0;
  for (const ConvexPiece& piece : all) sum += volume(piece);
  return sum;
}

/// What the arcs of a prism can add at most: their length times chord times height.
double arc_allowance(const Prism& p, double chord) {
  double sum = 0.0;
  const auto add = [&](const Loop& loop) {
    for (const Side& side : sides(loop))
      if (side.arc) sum += 1.6 * length(side.b - side.a) * chord * p.height;
  };
  add(p.section.outer);
  for (const Loop& hole : p.section.holes) add(hole);
  for (const Cut& cut : p.cuts) add(cut.outline);
  return sum;
}

/// Edges snapped to a micrometre move the volume by at most half of one times their length.
double snap_allowance(const Prism& p) {
  double sum = 0.0;
  const auto add = [&](const Loop& loop) {
    for (const Side& side : sides(loop)) sum += length(side.b - side.a) * 0.0008 * p.height;
  };
  add(p.section.outer);
  for (const Loop& hole : p.section.holes) add(hole);
  for (const Cut& cut : p.cuts) add(cut.outline);
  return sum;
}

void check_cover(const Shape& shape, unsigned seed) {
  const Prism& p = shape.prisms[0].prism;
  const Pieces all = pieces(shape);
  for (const ConvexPiece& piece : all) check_piece(piece);

  const double true_volume = volume(shape);
  const double covered = total(all);
  CHECK(covered >= true_volume - snap_allowance(p) - 1e-6);
  CHECK(covered <= true_volume + snap_allowance(p) + arc_allowance(p, 0.05));

  const Solid solid(p);
  const Box box = grown(bounds(shape), 2.0);
  Dice dice(seed);
  for (int i = 0; i < 300; ++i) {
    const Vec3 q{dice.between(box.lo.x, box.hi.x), dice.between(box.lo.y, box.hi.y),
                 dice.between(box.lo.z, box.hi.z)};
    int inside = 0;
    double worst = 0.0;
    for (const ConvexPiece& piece : all)
      if (depth(piece, q) > 1e-5) {
        ++inside;
        worst = std::max(worst, piece.excess);
      }
    CHECK(inside <= 1);  // pieces of one prism do not overlap
    const double clearance = solid.clearance(q);
    const bool in = solid.contains(q);
    if (in && clearance > 0.001) {
      // Never under-covered. On a seam the point is a hair outside of both pieces.
      const bool covered_here = std::ranges::any_of(
          all, [&](const ConvexPiece& piece) { return depth(piece, q) > -1e-5; });
      CHECK(covered_here);
    }
    if (!in && inside > 0) CHECK(clearance <= worst + 0.001);
  }
}

}  // namespace

TEST_CASE("a plain panel is one piece", "[shape][pieces]") {
  const Pieces all = pieces(box_shape({0, 0, 0}, {600, 400, 15}));
  REQUIRE(all.size() == 1);
  CHECK(all[0].vertices.size() == 8);
  CHECK(all[0].normals.size() == 3);
  CHECK(all[0].edges.size() == 3);
  CHECK(all[0].excess == 0.0);
  CHECK(volume(all[0]) == 600.0 * 400.0 * 15.0);
  check_piece(all[0]);
}

TEST_CASE("a dado divides a panel into three pieces", "[shape][pieces]") {
  const Pieces all = pieces(
      prism({rectangle({0, 0}, {600, 400}), {}}, 15, {{rectangle({100, -1}, {115, 401}), 9, 16}}));
  REQUIRE(all.size() == 3);
  CHECK(total(all) == Approx(600.0 * 400.0 * 15.0 - 15.0 * 400.0 * 6.0).epsilon(1e-12));
}

TEST_CASE("a groove in the middle of the thickness leaves two layers", "[shape][pieces]") {
  const Pieces all = pieces(
      prism({rectangle({0, 0}, {600, 400}), {}}, 15, {{rectangle({-1, -1}, {601, 401}), 5, 10}}));
  REQUIRE(all.size() == 2);
  CHECK(all[0].box.hi.z == 5.0);
  CHECK(all[1].box.lo.z == 10.0);
}

TEST_CASE("bores are filled", "[shape][pieces]") {
  Shape panel = box_shape({0, 0, 0}, {600, 400, 15});
  panel.prisms[0].prism.bores.push_back({{20, 30, 15}, {0, 0, -1}, 8, 15, true});
  CHECK(pieces(panel).size() == 1);
}

TEST_CASE("slotted profiles come to few pieces", "[shape][pieces]") {
  SlottedSizes sizes;
  CHECK(pieces(prism(slotted_section(sizes), 500)).size() <= 30);
  sizes.core_bore = 0.0;
  CHECK(pieces(prism(slotted_section(sizes), 500)).size() <= 17);
}

TEST_CASE("arcs are covered from outside within the chord asked for", "[shape][pieces]") {
  for (const double chord : {0.5, 0.05, 0.005, 0.0005}) {
    CAPTURE(chord);
    const Pieces all = pieces(Shape{{cylinder(30, 10)}}, {.chord = chord});
    REQUIRE(all.size() == 1);
    CHECK(all[0].excess <= chord);
    CHECK(all[0].excess > 0.2 * chord);
    double reach = 0.0;
    for (const Vec3 v : all[0].vertices) reach = std::max(reach, std::hypot(v.x, v.y));
    CHECK(reach - 15.0 == Approx(all[0].excess).margin(2e-6));
    for (const auto& face : all[0].faces) {
      const Vec3 n = face_normal(all[0], face);
      if (std::abs(n.z) > 0.5) continue;
      // tangent: no face cuts into the cylinder
      CHECK(dot(n, all[0].vertices[static_cast<std::size_t>(face[0])]) >= 15.0 - 2e-6);
    }
  }
}

TEST_CASE("the same shape gives the same pieces", "[shape][pieces]") {
  for (unsigned seed = 1; seed <= 10; ++seed) {
    const Pieces a = pieces(random_panel(seed));
    const Pieces b = pieces(random_panel(seed));
    REQUIRE(a.size() == b.size());
    for (std::size_t i = 0; i < a.size(); ++i) CHECK(a[i].vertices == b[i].vertices);
  }
}

TEST_CASE("pieces of every section cover it and do not overlap", "[shape][pieces]") {
  unsigned seed = 1;
  for (const Named& family : section_families()) {
    CAPTURE(family.name);
    check_cover(prism(family.section, 30), seed++);
  }
}

TEST_CASE("pieces of notched members cover them", "[shape][pieces]") {
  // Coped ends, a slot across, a hole through one wall's plan.
  unsigned seed = 50;
  for (const Named& family : section_families()) {
    CAPTURE(family.name);
    check_cover(prism(family.section, 200,
                      {{rectangle({-100, 3}, {100, 100}), -1, 25},
                       {rectangle({-100, -4}, {100, 4}, 2), 60, 75},
                       {circle({0, 0}, 30), 190, 210}}),
                seed++);
  }
}

TEST_CASE("pieces of panels with all kinds of cuts cover them", "[shape][pieces]") {
  for (unsigned seed = 1; seed <= 120; ++seed) {
    CAPTURE(seed);
    check_cover(random_panel(seed), seed);
  }
}

TEST_CASE("sizes off the grid are snapped, not lost", "[shape][pieces]") {
  // 23 5/8 in by 15 11/64 in, a dado 1/64 in off the edge
  const double w = 23.625 * 25.4;
  const double h = (15.0 + 11.0 / 64.0) * 25.4;
  const double e = 25.4 / 64.0;
  check_cover(prism({rectangle({0, 0}, {w, h}, e), {}}, 18,
                    {{rectangle({e, -1}, {e + 12.7, h + 1}), 9, 19}}),
              7);
}

TEST_CASE("a placed piece moves everything it carries", "[shape][pieces]") {
  const Frame frame = frame_zx({100, 200, 300}, {0, 1, 0}, {0.6, 0, 0.8});
  const ConvexPiece piece = convex_prism({{0, 0}, {30, 0}, {10, 20}}, 2, 9);
  const ConvexPiece moved = placed(piece, frame);
  check_piece(moved);
  CHECK(volume(moved) == Approx(volume(piece)).epsilon(1e-12));
  CHECK(volume(piece) == Approx(30.0 * 20.0 / 2.0 * 7.0));
  const ConvexPiece made_there = convex_prism({{0, 0}, {30, 0}, {10, 20}}, 2, 9, frame);
  CHECK(made_there.vertices == moved.vertices);
}

TEST_CASE("a wedge between parallel triangles is a prism", "[shape][pieces]") {
  // a seen from outside, that is from below, runs counter-clockwise
  const ConvexPiece piece =
      wedge({{0, 0, 0}, {0, 40, 0}, {30, 0, 0}}, {{0, 0, 60}, {0, 40, 60}, {30, 0, 60}});
  check_piece(piece);
  CHECK(piece.faces.size() == 5);
  CHECK(piece.normals.size() == 4);
  CHECK(piece.edges.size() == 4);
  CHECK(volume(piece) == Approx(30.0 * 40.0 / 2.0 * 60.0));
}

TEST_CASE("a warped wedge is the hull of its six points", "[shape][pieces]") {
  Dice dice(3);
  for (int i = 0; i < 200; ++i) {
    CAPTURE(i);
    const std::vector<Vec3> a{
        {0, 0, 0}, {0, 300, dice.between(-20, 20)}, {200, 0, dice.between(-20, 20)}};
    std::vector<Vec3> b;
    for (const Vec3 p : a) b.push_back(p + Vec3{dice.between(-10, 10), dice.between(-10, 10), 60});
    const ConvexPiece piece = wedge(a, b);
    check_piece(piece);
    // Euler: an extra face and edge for every warped side
    CHECK(piece.faces.size() == 8);
    // Each point of the two triangles and of the straight lines between them is inside.
    for (const auto& face : piece.faces)
      for (std::size_t k = 0; k < 3; ++k)
        CHECK(dot(face_normal(piece, face),
                  (a[k] + b[k]) * 0.5 - piece.vertices[static_cast<std::size_t>(face[0])]) < 1e-6);
  }
}
