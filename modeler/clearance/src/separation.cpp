#include "clearance/separation.hpp"

#include "axes.hpp"
#include "base/tolerance.hpp"
#include "hull.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace ribbay {

namespace {

using detail::extent;
using detail::Extent;
using detail::Hull;
using detail::hull_faces;
using detail::HullFace;

/// Signed separation along one axis, and the way a must go to part.
Separation along(const ConvexPiece& a, const ConvexPiece& b, Vec3 axis) {
  const Extent seen_a = extent(a, axis);
  const Extent seen_b = extent(b, axis);
  const double above = seen_a.lo - seen_b.hi;
  const double below = seen_b.lo - seen_a.hi;
  return above >= below ? Separation{above, axis} : Separation{below, -axis};
}

/// The part of a piece that can hold the nearest point: corners, edges and faces that reach into
/// the half space dot(axis, p) <= reach.
struct Features {
  std::vector<Vec3> corners;
  std::vector<std::pair<Vec3, Vec3>> edges;
  std::vector<std::vector<Vec3>> faces;
  std::vector<Vec3> normals;  ///< of the faces, outward
};

Features features_within(const Hull& hull, Vec3 axis, double reach) {
  const ConvexPiece& piece = hull.piece;
  Features found;
  std::vector<char> inside;
  for (const Vec3& p : piece.vertices) {
    inside.push_back(dot(axis, p) <= reach);
    if (inside.back()) found.corners.push_back(p);
  }
  std::vector<std::pair<int, int>> edges;
  for (const HullFace& face : hull.faces) {
    bool any = false;
    std::vector<Vec3> loop;
    for (std::size_t i = 0; i < face.corners.size(); ++i) {
      const int from = face.corners[i];
      const int to = face.corners[(i + 1) % face.corners.size()];
      loop.push_back(piece.vertices[static_cast<std::size_t>(from)]);
      any |= inside[static_cast<std::size_t>(from)] != 0;
      if (inside[static_cast<std::size_t>(from)] || inside[static_cast<std::size_t>(to)]) {
        edges.emplace_back(std::min(from, to), std::max(from, to));
      }
    }
    if (!any) continue;
    found.faces.push_back(std::move(loop));
    found.normals.push_back(face.normal);
  }
  std::ranges::sort(edges);
  edges.erase(std::unique(edges.begin(), edges.end()), edges.end());
  for (const auto& [i, j] : edges) {
    found.edges.emplace_back(piece.vertices[static_cast<std::size_t>(i)],
                             piece.vertices[static_cast<std::size_t>(j)]);
  }
  return found;
}

/// Foot of `p`, outside the face's plane, on the face; nullopt when it falls beside it.
std::optional<Vec3> foot_on_face(Vec3 p, const std::vector<Vec3>& loop, Vec3 normal) {
  const double height = dot(p - loop[0], normal);
  if (height < -kSame) return std::nullopt;
  const Vec3 foot = p - normal * height;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const Vec3 side = loop[(i + 1) % loop.size()] - loop[i];
    if (dot(cross(side, foot - loop[i]), normal) < 0.0) return std::nullopt;
  }
  return foot;
}

Vec3 foot_on_segment(Vec3 p, Vec3 a, Vec3 b) {
  const Vec3 d = b - a;
  const double squared = dot(d, d);
  if (squared == 0.0) return a;
  return a + d * std::clamp(dot(p - a, d) / squared, 0.0, 1.0);
}

void improve(Closest& best, Vec3 on_a, Vec3 on_b) {
  const double d = length(on_a - on_b);
  if (d < best.distance) best = {d, on_a, on_b};
}

/// Ends against the other segment, and the two inner points where both are crossed at right angles.
/// Trying all five keeps nearly parallel segments exact.
void improve_by_edges(Closest& best, const std::pair<Vec3, Vec3>& a,
                      const std::pair<Vec3, Vec3>& b) {
  for (const Vec3& p : {a.first, a.second}) improve(best, p, foot_on_segment(p, b.first, b.second));
  for (const Vec3& p : {b.first, b.second}) improve(best, foot_on_segment(p, a.first, a.second), p);
  const Vec3 d = a.second - a.first;
  const Vec3 e = b.second - b.first;
  const Vec3 between = a.first - b.first;
  const double dd = dot(d, d);
  const double ee = dot(e, e);
  const double de = dot(d, e);
  const double denominator = dd * ee - de * de;
  if (denominator <= 0.0) return;
  const double s = (de * dot(e, between) - ee * dot(d, between)) / denominator;
  if (!(s > 0.0 && s < 1.0)) return;
  const Vec3 on_a = a.first + d * s;
  improve(best, on_a, foot_on_segment(on_a, b.first, b.second));
}

/// The part of the polygon with dot(normal, p) <= offset.
std::vector<Vec3> clipped(const std::vector<Vec3>& polygon, Vec3 normal, double offset) {
  std::vector<Vec3> kept;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Vec3 p = polygon[i];
    const Vec3 q = polygon[(i + 1) % polygon.size()];
    const double over_p = dot(normal, p) - offset;
    const double over_q = dot(normal, q) - offset;
    if (over_p <= 0.0) kept.push_back(p);
    if ((over_p < 0.0 && over_q > 0.0) || (over_p > 0.0 && over_q < 0.0)) {
      kept.push_back(p + (q - p) * (over_p / (over_p - over_q)));
    }
  }
  return kept;
}

/// Sums of signed tetrahedra from a fixed point.
struct Moments {
  double six_volumes = 0.0;
  Vec3 weighted;  ///< four times centroid times six_volumes, from the fixed point
};

/// Adds the faces of `piece` as far as they lie in the half spaces `within`, each shifted out by
/// `by`.
void add_faces(Moments& sum, const ConvexPiece& piece, const std::vector<HullFace>& faces,
               const std::vector<HullFace>& within, double by, Vec3 base) {
  for (const HullFace& face : faces) {
    std::vector<Vec3> polygon;
    for (const int i : face.corners) {
      polygon.push_back(piece.vertices[static_cast<std::size_t>(i)] - base);
    }
    for (const HullFace& half : within) {
      polygon = clipped(polygon, half.normal, half.offset - dot(half.normal, base) + by);
      if (polygon.size() < 3) break;
    }
    for (std::size_t i = 1; i + 1 < polygon.size(); ++i) {
      const double six = dot(polygon[0], cross(polygon[i], polygon[i + 1]));
      sum.six_volumes += six;
      sum.weighted = sum.weighted + (polygon[0] + polygon[i] + polygon[i + 1]) * six;
    }
  }
}

}  // namespace

Separation separation(const ConvexPiece& a, const ConvexPiece& b, double stop) {
  Separation best;
  detail::any_axis(a, b, [&](Vec3 axis) {
    const Separation here = along(a, b, axis);
    if (here.distance > best.distance) best = here;
    return best.distance > stop;
  });
  return best;
}

std::optional<Closest> closest_points(const ConvexPiece& a, const ConvexPiece& b,
                                      const Separation& known, double limit) {
  return detail::closest_points(Hull{a, hull_faces(a)}, Hull{b, hull_faces(b)}, known, limit);
}

std::optional<Closest> detail::closest_points(const Hull& a, const Hull& b,
                                              const Separation& known, double limit) {
  const double a_lo = extent(a.piece, known.axis).lo;
  const double b_hi = extent(b.piece, known.axis).hi;
  // A pair of points no further apart than `limit` lies within `limit` of the other piece's near
  // side.
  const Features fa = features_within(a, known.axis, b_hi + limit + kSame);
  const Features fb = features_within(b, -known.axis, limit + kSame - a_lo);

  Closest best{std::numeric_limits<double>::infinity(), {}, {}};
  for (std::size_t i = 0; i < fb.faces.size(); ++i) {
    for (const Vec3& p : fa.corners) {
      if (const auto foot = foot_on_face(p, fb.faces[i], fb.normals[i])) improve(best, p, *foot);
    }
  }
  for (std::size_t i = 0; i < fa.faces.size(); ++i) {
    for (const Vec3& p : fb.corners) {
      if (const auto foot = foot_on_face(p, fa.faces[i], fa.normals[i])) improve(best, *foot, p);
    }
  }
  for (const auto& edge_a : fa.edges) {
    for (const auto& edge_b : fb.edges) improve_by_edges(best, edge_a, edge_b);
  }
  if (best.distance > limit) return std::nullopt;
  if (best.distance > kSame) {
    const Vec3 across = (best.on_a - best.on_b) * (1.0 / best.distance);
    const double proven = std::max(known.distance, along(a.piece, b.piece, across).distance);
    if (proven < best.distance - kSame) best.distance = proven;
  }
  return best;
}

Overlap overlap(const ConvexPiece& a, const ConvexPiece& b) {
  if (separation(a, b, -kSame).distance > -kSame) return {};
  // Faces of a in b a shade larger, faces of b in a a shade smaller: a face that both share counts
  // once.
  constexpr double kShade = 1e-8;
  const Vec3 base = Vec3{std::max(a.box.lo.x, b.box.lo.x), std::max(a.box.lo.y, b.box.lo.y),
                         std::max(a.box.lo.z, b.box.lo.z)};
  const std::vector<HullFace> faces_a = hull_faces(a);
  const std::vector<HullFace> faces_b = hull_faces(b);
  Moments sum;
  add_faces(sum, a, faces_a, faces_b, kShade, base);
  add_faces(sum, b, faces_b, faces_a, -kShade, base);
  if (sum.six_volumes <= 0.0) return {};
  return {sum.six_volumes / 6.0, base + sum.weighted * (1.0 / (4.0 * sum.six_volumes))};
}

}  // namespace ribbay
