#include "cell.hpp"

#include "base/tolerance.hpp"
#include "convex.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace ribbay::detail {

namespace {

/// Corners this near to a plane lie in it, mm: rounding.
constexpr double kOn = 1e-9;

/// The corners in their order around the axis.
std::vector<Vec3> sorted_around(std::vector<Vec3> corners, Vec3 axis) {
  Vec3 centre;
  for (const Vec3 p : corners) centre = centre + p * (1.0 / static_cast<double>(corners.size()));
  const Vec3 aside = std::abs(axis.z) < 0.5 ? Vec3{0, 0, 1} : Vec3{1, 0, 0};
  const Vec3 u = normalized(cross(aside, axis));
  const Vec3 v = cross(axis, u);
  std::ranges::sort(corners, {}, [&](Vec3 p) {
    const Vec3 d = p - centre;
    return std::atan2(dot(d, v), dot(d, u));
  });
  return corners;
}

/// Leaves out corners that repeat the one before them.
std::vector<Vec3> without_repeats(const std::vector<Vec3>& loop) {
  std::vector<Vec3> kept;
  for (const Vec3 p : loop) {
    if (kept.empty() || length(p - kept.back()) > kSame) kept.push_back(p);
  }
  while (kept.size() > 1 && length(kept.front() - kept.back()) <= kSame) kept.pop_back();
  return kept;
}

/// Twice the area, along the normal.
Vec3 area_of(const std::vector<Vec3>& loop) {
  Vec3 sum;
  for (std::size_t i = 2; i < loop.size(); ++i) {
    sum = sum + cross(loop[i - 1] - loop[0], loop[i] - loop[0]);
  }
  return sum;
}

}  // namespace

Cell::Cell(const Box& box) {
  const ConvexPiece block = convex_prism(
      {{box.lo.x, box.lo.y}, {box.hi.x, box.lo.y}, {box.hi.x, box.hi.y}, {box.lo.x, box.hi.y}},
      box.lo.z, box.hi.z);
  for (const std::vector<int>& face : block.faces) {
    std::vector<Vec3>& loop = faces_.emplace_back();
    for (const int i : face) loop.push_back(block.vertices[static_cast<std::size_t>(i)]);
  }
}

void Cell::clip(const Plane& plane) {
  std::vector<std::vector<Vec3>> kept;
  std::vector<Vec3> rim;
  for (const std::vector<Vec3>& loop : faces_) {
    std::vector<Vec3> rest;
    bool behind = false;
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const Vec3 p = loop[i];
      const Vec3 q = loop[(i + 1) % loop.size()];
      const double over_p = plane.height(p);
      const double over_q = plane.height(q);
      if (over_p <= kOn) rest.push_back(p);
      if (std::abs(over_p) <= kOn) rim.push_back(p);
      behind = behind || over_p < -kOn;
      if ((over_p < -kOn && over_q > kOn) || (over_p > kOn && over_q < -kOn)) {
        const Vec3 between = p + (q - p) * (over_p / (over_p - over_q));
        rest.push_back(between);
        rim.push_back(between);
      }
    }
    if (behind && rest.size() >= 3) kept.push_back(std::move(rest));
  }
  faces_ = std::move(kept);
  if (faces_.empty() || rim.size() < 3) return;
  std::vector<Vec3> lid = without_repeats(sorted_around(std::move(rim), plane.normal));
  if (lid.size() >= 3) faces_.push_back(std::move(lid));
}

ConvexPiece Cell::piece() const {
  ConvexPiece piece;
  const auto index_of = [&](Vec3 p) {
    for (std::size_t i = 0; i < piece.vertices.size(); ++i) {
      if (length(piece.vertices[i] - p) <= kSame) return static_cast<int>(i);
    }
    piece.vertices.push_back(p);
    return static_cast<int>(piece.vertices.size()) - 1;
  };
  for (const std::vector<Vec3>& with_repeats : faces_) {
    const std::vector<Vec3> loop = without_repeats(with_repeats);
    const Vec3 area = area_of(loop);
    if (loop.size() < 3 || length(area) <= kSame * kSame) continue;
    std::vector<int> face;
    for (std::size_t i = 0; i < loop.size(); ++i) {
      face.push_back(index_of(loop[i]));
      add_unparallel(piece.edges, normalized(loop[(i + 1) % loop.size()] - loop[i]));
    }
    add_unparallel(piece.normals, normalized(area));
    piece.faces.push_back(std::move(face));
  }
  for (const Vec3 p : piece.vertices) piece.box.add(p);
  return piece;
}

}  // namespace ribbay::detail
