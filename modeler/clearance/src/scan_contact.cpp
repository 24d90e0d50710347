#include "clearance/scan_contact.hpp"

#include "base/tolerance.hpp"
#include "clearance/separation.hpp"
#include "clearance/sweep.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <tuple>

namespace ribbay {

namespace {

/// A triangle as a flat convex piece.
ConvexPiece flat_piece(const std::array<Vec3, 3>& corners) {
  ConvexPiece piece;
  piece.vertices.assign(corners.begin(), corners.end());
  piece.faces = {{0, 1, 2}, {0, 2, 1}};
  piece.normals.push_back(normalized(area_vector(corners)));
  for (std::size_t i = 0; i < 3; ++i) {
    piece.edges.push_back(normalized(corners[(i + 1) % 3] - corners[i]));
  }
  for (const Vec3& p : corners) piece.box.add(p);
  return piece;
}

Vec3 middle_of(const std::array<Vec3, 3>& corners) {
  return (corners[0] + corners[1] + corners[2]) * (1.0 / 3.0);
}

/// The axis of the van that a triangle faces most.
int faced_axis(const std::array<Vec3, 3>& corners) {
  const Vec3 n = area_vector(corners);
  const double x = std::abs(n.x);
  const double y = std::abs(n.y);
  const double z = std::abs(n.z);
  return x >= y && x >= z ? 0 : y >= z ? 1 : 2;
}

/// Surfaces that face the same axis and lie further apart along it are two: a floor and the lower
/// end of a rib above it, mm.
constexpr double kApart = 25.0;

/// A surface that has entered: triangles that face one axis and lie at one level of it.
struct Entered {
  int axis = 0;
  double lo = 0.0;  ///< its level, from and to
  double hi = 0.0;
  double area = 0.0;
  Vec3 middle;
  Vec3 normal;  ///< sum of area vectors, turned to one side

  bool holds(const std::array<Vec3, 3>& corners) const {
    const double level = middle_of(corners)[axis];
    return faced_axis(corners) == axis && level > lo - kApart && level < hi + kApart;
  }
};

std::vector<std::uint32_t> triangles_inside(const Pieces& pieces, const ScanTree& tree) {
  std::vector<std::uint32_t> inside;
  for (const ConvexPiece& piece : pieces) {
    for (const std::uint32_t i : tree.near(piece.box)) {
      const ConvexPiece flat = flat_piece(tree.mesh().corners(tree.mesh().triangles[i]));
      if (separation(piece, flat, -kContact).distance < -kContact) inside.push_back(i);
    }
  }
  std::ranges::sort(inside);
  inside.erase(std::unique(inside.begin(), inside.end()), inside.end());
  return inside;
}

std::vector<Entered> entered(const Pieces& pieces, const ScanTree& tree) {
  struct Level {
    int axis;
    double at;
    std::uint32_t triangle;
  };
  std::vector<Level> levels;
  for (const std::uint32_t i : triangles_inside(pieces, tree)) {
    const auto corners = tree.mesh().corners(tree.mesh().triangles[i]);
    const int axis = faced_axis(corners);
    levels.push_back({axis, middle_of(corners)[axis], i});
  }
  std::ranges::sort(levels, {},
                    [](const Level& l) { return std::tuple(l.axis, l.at, l.triangle); });
  std::vector<Entered> surfaces;
  for (const Level& level : levels) {
    const bool same = !surfaces.empty() && surfaces.back().axis == level.axis &&
                      level.at - surfaces.back().hi < kApart;
    if (!same) surfaces.push_back({level.axis, level.at, level.at, 0.0, {}, {}});
    Entered& sum = surfaces.back();
    const auto corners = tree.mesh().corners(tree.mesh().triangles[level.triangle]);
    const Vec3 vector = area_vector(corners);
    const double area = length(vector);
    sum.hi = level.at;
    sum.area += area;
    sum.middle = sum.middle + middle_of(corners) * area;
    // Which way a scan's triangles look is not to be relied on.
    sum.normal = sum.normal + (dot(vector, sum.normal) < 0.0 ? -vector : vector);
  }
  for (Entered& sum : surfaces) sum.middle = sum.middle * (1.0 / sum.area);
  return surfaces;
}

/// How far the pieces must go along `way` until nothing of the surface is in them, at most `limit`.
double travel_to_free(const Pieces& pieces, const ScanTree& tree, const Entered& surface, Vec3 way,
                      double limit) {
  std::vector<Stretch> stretches;
  for (const ConvexPiece& piece : pieces) {
    for (const std::uint32_t i : tree.near(swept_box(piece, way, limit))) {
      const auto corners = tree.mesh().corners(tree.mesh().triangles[i]);
      if (!surface.holds(corners)) continue;
      if (const auto stretch = contact_stretch(piece, flat_piece(corners), way, limit)) {
        stretches.push_back(*stretch);
      }
    }
  }
  std::ranges::sort(stretches, {}, &Stretch::from);
  double free_from = 0.0;
  for (const Stretch& s : stretches) {
    if (s.from > free_from) break;
    free_from = std::max(free_from, s.to);
  }
  // A stretch ends while the surface still reaches kContact into the piece.
  return std::min(free_from + kContact, limit);
}

ScanContact contact_with(const Pieces& pieces, const ScanTree& tree, const Entered& sum,
                         double enough, double limit) {
  std::vector<Vec3> ways;
  if (length(sum.normal) > kSame) {
    const Vec3 normal = normalized(sum.normal);
    ways = {normal, -normal};
  }
  for (const Vec3 way : {Vec3{0, 0, 1}, Vec3{0, 1, 0}, Vec3{0, -1, 0}, Vec3{1, 0, 0},
                         Vec3{-1, 0, 0}, Vec3{0, 0, -1}}) {
    ways.push_back(way);
  }
  // A look that goes no further than `enough` is cheap, and most parts only touch.
  for (const Vec3& way : ways) {
    const double reach = std::min(enough, limit) + 2 * kContact;
    const double depth = travel_to_free(pieces, tree, sum, way, reach);
    if (depth <= enough) return {depth, false, way, sum.middle};
  }
  ScanContact best{limit, true, ways.front(), sum.middle};
  for (const Vec3& way : ways) {
    const double depth = travel_to_free(pieces, tree, sum, way, best.depth);
    if (depth < best.depth - kSame) best = {depth, false, way, sum.middle};
  }
  return best;
}

}  // namespace

std::optional<ScanContact> scan_contact(const Pieces& pieces, const ScanTree& tree, double enough,
                                        double limit) {
  std::optional<ScanContact> deepest;
  for (const Entered& surface : entered(pieces, tree)) {
    const ScanContact contact = contact_with(pieces, tree, surface, enough, limit);
    if (!deepest || contact.depth > deepest->depth) deepest = contact;
  }
  return deepest;
}

}  // namespace ribbay
