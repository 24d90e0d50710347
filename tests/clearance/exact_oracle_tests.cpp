// Exact arithmetic as the judge: the Minkowski difference of two convex pieces is the hull of all
// differences of their corners; the pieces overlap when the origin lies inside it, its distance
// from the hull's planes is then the depth, and its distance from the hull is else the gap.
// Coordinates are multiples of 1/1024 mm, so the differences are exact doubles, CGAL's predicates
// are exact, and distances are computed in rational numbers. Nothing of this is shared with the
// engine under test.
#include "base/tolerance.hpp"
#include "clearance/separation.hpp"
#include "clearance/sweep.hpp"
#include "projects.hpp"
#include "scenes.hpp"

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Exact_rational.h>
#include <CGAL/Simple_cartesian.h>
#include <CGAL/Surface_mesh.h>
#include <CGAL/convex_hull_3.h>
#include <CGAL/squared_distance_3.h>

using namespace ribbay;
using scenes::Dice;

namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Rational = CGAL::Exact_rational;
using Exact = CGAL::Simple_cartesian<Rational>;
using Mesh = CGAL::Surface_mesh<Kernel::Point_3>;

struct Truth {
  bool inside = false;      ///< the pieces overlap or touch
  double separation = 0.0;  ///< rounded from the exact square
  Rational squared = 0;     ///< of depth or gap, exact
  Vec3 way;  ///< roughly: moving a along it parts the pieces, or brings them together
};

Truth exact_separation(const ConvexPiece& a, const ConvexPiece& b) {
  std::vector<Kernel::Point_3> differences;
  for (const Vec3& p : a.vertices) {
    for (const Vec3& q : b.vertices) differences.emplace_back(p.x - q.x, p.y - q.y, p.z - q.z);
  }
  Mesh mesh;
  CGAL::convex_hull_3(differences.begin(), differences.end(), mesh);
  const Exact::Point_3 origin(0, 0, 0);
  Truth truth;
  truth.inside = true;
  bool first_plane = true;
  Rational least_gap = 0;
  bool first_gap = true;
  for (const auto face : mesh.faces()) {
    std::vector<Exact::Point_3> corners;
    for (const auto v : mesh.vertices_around_face(mesh.halfedge(face))) {
      const auto& p = mesh.point(v);
      corners.emplace_back(p.x(), p.y(), p.z());
    }
    const Exact::Vector_3 normal =
        CGAL::cross_product(corners[1] - corners[0], corners[2] - corners[0]);
    const Rational height =
        normal * (corners[0] - origin);  // positive: the origin lies behind the face
    const Rational squared = height * height / normal.squared_length();
    const Vec3 outward = normalized(
        {CGAL::to_double(normal.x()), CGAL::to_double(normal.y()), CGAL::to_double(normal.z())});
    if (height < 0) truth.inside = false;
    if (first_plane || squared < truth.squared) {
      if (truth.inside) {
        truth.squared = squared;
        truth.way = -outward;
      }
      first_plane = false;
    }
    const Rational gap =
        CGAL::squared_distance(origin, Exact::Triangle_3(corners[0], corners[1], corners[2]));
    if (first_gap || gap < least_gap) least_gap = gap;
    first_gap = false;
  }
  if (!truth.inside) truth.squared = least_gap;
  const double size = std::sqrt(CGAL::to_double(truth.squared));
  truth.separation = truth.inside ? -size : size;
  return truth;
}

ConvexPiece random_hull(Dice& dice, double size) {
  std::vector<Vec3> points;
  const int count = dice.whole(4, 9);
  for (int i = 0; i < count; ++i) points.push_back(dice.point(size));
  return scenes::hull(points);
}

ConvexPiece random_block(Dice& dice, double size) {
  const Vec3 half = scenes::on_grid({dice.real(1, size), dice.real(1, size), dice.real(1, size)});
  return scenes::block(-half, half);
}

/// A block with its edges sheared by a few steps of the grid: edges and faces nearly parallel to
/// those of true blocks.
ConvexPiece nearly_block(Dice& dice, double size) {
  std::vector<Vec3> corners = random_block(dice, size).vertices;
  const Vec3 shear =
      Vec3{static_cast<double>(dice.whole(-2, 2)), static_cast<double>(dice.whole(-2, 2)), 0} *
      (1.0 / 1024.0);
  const double base = corners[0].z;
  for (Vec3& p : corners) {
    if (p.z > base) p = p + shear;
  }
  return scenes::hull(corners);
}

ConvexPiece shifted(const ConvexPiece& piece, Vec3 by) {
  std::vector<Vec3> points = piece.vertices;
  for (Vec3& p : points) p = p + by;
  return scenes::hull(points);
}

void compare(const ConvexPiece& a, const ConvexPiece& b, const Truth& truth) {
  const Separation found = separation(a, b);
  CAPTURE(truth.separation, found.distance);
  if (truth.inside) {
    CHECK(found.distance == Approx(truth.separation).margin(1e-8));
  } else {
    CHECK(found.distance > -1e-9);
    CHECK(found.distance <= truth.separation + 1e-9);
    if (found.distance > 0.0) {
      const auto closest = closest_points(a, b, found, truth.separation + 1.0);
      REQUIRE(closest);
      CHECK(closest->distance == Approx(truth.separation).margin(1e-8));
      CHECK(length(closest->on_a - closest->on_b) == Approx(closest->distance).margin(1e-8));
    }
  }
  // The verdict, judged in rational numbers.
  const Rational contact = Rational(kContact);
  const bool clash = truth.inside && truth.squared > contact * contact;
  if (std::abs(truth.separation + kContact) > 1e-9) CHECK((found.distance < -kContact) == clash);
}

ConvexPiece random_piece(Dice& dice, int kind) {
  return kind == 0   ? random_hull(dice, 100)
         : kind == 1 ? random_block(dice, 100)
                     : nearly_block(dice, 100);
}

}  // namespace

TEST_CASE("separations of random pieces agree with exact arithmetic", "[separation][exact]") {
  Dice dice(20260101);
  int inside = 0;
  for (int i = 0; i < 5600; ++i) {
    CAPTURE(i);
    const ConvexPiece a = random_piece(dice, i % 3);
    const ConvexPiece b = shifted(random_piece(dice, i / 3 % 3), dice.point(130));
    const Truth truth = exact_separation(a, b);
    inside += truth.inside ? 1 : 0;
    compare(a, b, truth);
  }
  CHECK(inside > 1000);
  CHECK(inside < 5000);
}

TEST_CASE("pieces that nearly touch are judged as in exact arithmetic", "[separation][exact]") {
  // Overlapping pairs are pushed apart along their exact shortest way until a few thousandths of a
  // millimetre of overlap or gap are left: faces, edges and corners meet in every combination.
  Dice dice(20260102);
  int clashes = 0;
  int contacts = 0;
  for (int i = 0; i < 3300; ++i) {
    CAPTURE(i);
    const ConvexPiece b = random_piece(dice, i % 3);
    const ConvexPiece a = shifted(random_piece(dice, i / 3 % 3), dice.point(50));
    const Truth start = exact_separation(a, b);
    if (!start.inside) continue;
    const double wanted = dice.real(-0.02, 0.02);
    const Vec3 push = scenes::on_grid(start.way * (wanted - start.separation));
    const ConvexPiece pushed = shifted(a, push);
    const Truth truth = exact_separation(pushed, b);
    REQUIRE(std::abs(truth.separation) < 0.1);
    compare(pushed, b, truth);
    ++contacts;
    clashes += truth.separation < -kContact ? 1 : 0;
  }
  WARN("pairs that nearly touch, against exact arithmetic: " << contacts);
  CHECK(contacts >= 2600);  // 10 000 with the 5600 above and the 1800 below
  CHECK(clashes > 250);
}

namespace {

/// A block on the grid, its lower corner at the origin.
ConvexPiece corner_block(Vec3 size) {
  return scenes::block({0, 0, 0}, scenes::on_grid(size));
}

}  // namespace

TEST_CASE("touching, nested and sliver pieces are judged as in exact arithmetic",
          "[separation][exact]") {
  Dice dice(20260104);
  int clashes = 0;
  int judged = 0;
  const auto check = [&](const ConvexPiece& a, const ConvexPiece& b) {
    const Truth truth = exact_separation(a, b);
    compare(a, b, truth);
    clashes += truth.separation < -kContact ? 1 : 0;
    ++judged;
  };
  const auto size = [&] { return Vec3{dice.real(5, 80), dice.real(5, 80), dice.real(5, 80)}; };
  for (int i = 0; i < 300; ++i) {
    CAPTURE(i);
    const ConvexPiece a = corner_block(size());
    const ConvexPiece b = corner_block(size());
    const Vec3 far = a.box.hi;
    // Face on face, edge on edge and corner on corner, touching and lapped by 0.009 and 0.011 mm;
    // kContact lies between.
    for (const int axes : {1, 2, 3}) {
      const double lap = i % 3 == 0 ? 0.0 : i % 3 == 1 ? 0.009 : 0.011;
      const Vec3 by{far.x - lap, axes > 1 ? far.y - lap : 1.0, axes > 2 ? far.z - lap : 1.0};
      check(a, moved(b, by));
    }
    // An edge laid on a face: the block stands on its edge, turned by a random angle.
    const ConvexPiece edge = scenes::hull(
        {{0, 0, 0}, {0, 40, 0}, {dice.coordinate(20), 0, 30}, {dice.coordinate(20), 40, 30}, {5, 0, 31}});
    check(a, moved(edge, {far.x / 2, 1, far.z - (i % 2 == 0 ? 0.009 : 0.011)}));
    // A sliver of a few hundredths of a millimetre through the block, and a small one inside it.
    const double thin = dice.real(0.015, 0.05);
    check(a, moved(corner_block({200, thin, 200}), scenes::on_grid({-50, far.y / 2, -50})));
    check(a, scenes::block(scenes::on_grid(far * 0.25), scenes::on_grid(far * 0.75)));
  }
  CHECK(judged == 1800);
  CHECK(clashes > 800);
}

TEST_CASE("separations of the demo's pieces agree with exact arithmetic",
          "[separation][exact][demo]") {
  // Every seventh pair of pieces of different parts whose boxes meet, brought onto the exact grid.
  const Layout layout = ribbay::testing::demo();
  std::vector<std::pair<std::size_t, ConvexPiece>> all;
  for (std::size_t i = 0; i < layout.parts.size(); ++i) {
    if (layout.parts[i].kind == PartKind::hardware) continue;
    for (const ConvexPiece& piece : pieces(*layout.parts[i].shape)) {
      std::vector<Vec3> corners = placed(piece, layout.parts[i].frame).vertices;
      for (Vec3& p : corners) p = scenes::on_grid(p);
      all.emplace_back(i, scenes::hull(corners));
    }
  }
  int met = 0;
  int compared = 0;
  for (std::size_t i = 0; i < all.size(); ++i) {
    for (std::size_t j = i + 1; j < all.size(); ++j) {
      const auto& [part_a, a] = all[i];
      const auto& [part_b, b] = all[j];
      if (part_a == part_b || !near(a.box, b.box, 0.5) || met++ % 7 != 0) continue;
      CAPTURE(layout.parts[part_a].id, layout.parts[part_b].id);
      compare(a, b, exact_separation(a, b));
      ++compared;
    }
  }
  CHECK(compared > 100);
}
