#include "clearance/sweep.hpp"

#include "axes.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ribbay {

namespace {

using detail::extent;
using detail::Extent;

constexpr double kPi = std::numbers::pi;

/// Along an axis that the travel meets at a slower rate than this the pieces do not move: over 10 m
/// of travel that is 1e-8 mm.
constexpr double kStill = 1e-12;

/// A step of the turning sweep smaller than this ends it: at 1 m from the axis that is 1e-6 mm.
constexpr double kSmallestStep = 1e-9;

/// Far above what real pairs take (about ten); the sweep then ends with a contact rather than
/// missing one.
constexpr int kMostSteps = 10000;

/// Two unit vectors that make a right-handed frame with `axis`.
struct Across {
  Vec3 e;
  Vec3 f;
};

Across across(Vec3 axis) {
  const Vec3 e =
      normalized(std::abs(axis.x) < 0.7 ? cross(axis, Vec3{1, 0, 0}) : cross(axis, Vec3{0, 1, 0}));
  return {e, cross(axis, e)};
}

/// A point in cylinder coordinates about the turning axis.
struct Orbit {
  double radius = 0.0;
  double phase = 0.0;
  double height = 0.0;
};

std::vector<Orbit> orbits(const ConvexPiece& piece, const Turn& turn, const Across& frame) {
  std::vector<Orbit> result;
  for (const Vec3& p : piece.vertices) {
    const Vec3 q = p - turn.origin;
    const double x = dot(q, frame.e);
    const double y = dot(q, frame.f);
    result.push_back({std::hypot(x, y), std::atan2(y, x), dot(q, turn.axis)});
  }
  return result;
}

/// A plane through the turn's origin's coordinates: points keep to dot(normal, p - origin) <=
/// offset.
struct Plane {
  double along = 0.0;   ///< share of the normal along the turning axis
  double radial = 0.0;  ///< length of the rest of it
  double phase = 0.0;   ///< direction of that rest
  double offset = 0.0;
};

Plane plane(Vec3 normal, double offset, const Turn& turn, const Across& frame) {
  const double x = dot(normal, frame.e);
  const double y = dot(normal, frame.f);
  return {dot(normal, turn.axis), std::hypot(x, y), std::atan2(y, x), offset};
}

/// How far all points can turn, from `ahead` on, before the first crosses the plane; infinite when
/// none does. `sense` is +1 when the points turn and -1 when the plane does.
double turn_to_plane(const std::vector<Orbit>& points, const Plane& plane, double ahead,
                     double sense) {
  double least = std::numeric_limits<double>::infinity();
  if (plane.radial < kStill) return least;
  for (const Orbit& p : points) {
    const double reach = (plane.offset - p.height * plane.along) / plane.radial;
    if (p.radius <= reach) continue;
    // The point is over the plane while its phase is within `half` of the normal's.
    const double half = reach <= -p.radius ? kPi : std::acos(reach / p.radius);
    const double phase = std::remainder(sense * (p.phase + ahead - plane.phase), 2 * kPi);
    if (std::abs(phase) < half) return 0.0;
    const double to_go = (phase > 0.0 ? 2 * kPi : 0.0) - half - phase;
    least = std::min(least, std::max(to_go, 0.0));
  }
  return least;
}

/// Writes `piece`, turned, over `result`, a copy of it.
void turn_into(ConvexPiece& result, const ConvexPiece& piece, const Turn& turn, double angle) {
  const Turn about_zero{{}, turn.axis};
  result.box = {};
  for (std::size_t i = 0; i < piece.vertices.size(); ++i) {
    result.vertices[i] = turned(piece.vertices[i], turn, angle);
    result.box.add(result.vertices[i]);
  }
  for (std::size_t i = 0; i < piece.normals.size(); ++i) {
    result.normals[i] = turned(piece.normals[i], about_zero, angle);
  }
  for (std::size_t i = 0; i < piece.edges.size(); ++i) {
    result.edges[i] = turned(piece.edges[i], about_zero, angle);
  }
}

/// Extremes of `middle + a cos t + b sin t` over 0..angle.
Extent arc_extent(double middle, double a, double b, double angle) {
  const auto value = [&](double t) { return middle + a * std::cos(t) + b * std::sin(t); };
  Extent seen{std::min(value(0), value(angle)), std::max(value(0), value(angle))};
  const double size = std::hypot(a, b);
  const auto passes = [&](double t) { return (t < 0 ? t + 2 * kPi : t) <= angle; };
  if (passes(std::atan2(b, a))) seen.hi = middle + size;
  if (passes(std::atan2(-b, -a))) seen.lo = middle - size;
  return seen;
}

}  // namespace

std::optional<Stretch> contact_stretch(const ConvexPiece& a, const ConvexPiece& b, Vec3 direction,
                                       double travel, double depth) {
  Stretch common{0.0, travel};
  const bool parted = detail::any_axis(a, b, [&](Vec3 axis) {
    const Extent seen_a = extent(a, axis);
    const Extent seen_b = extent(b, axis);
    // Deeper than `depth` along this axis: to_enter < rate * t < to_leave.
    const double to_enter = seen_b.lo + depth - seen_a.hi;
    const double to_leave = seen_b.hi - depth - seen_a.lo;
    const double rate = dot(direction, axis);
    if (std::abs(rate) < kStill) return to_enter >= 0.0 || to_leave <= 0.0;
    const auto [from, to] = std::minmax({to_enter / rate, to_leave / rate});
    common.from = std::max(common.from, from);
    common.to = std::min(common.to, to);
    return to_enter >= to_leave || common.from >= common.to;
  });
  if (parted) return std::nullopt;
  return common;
}

std::optional<double> contact_angle(const ConvexPiece& a, const ConvexPiece& b, const Turn& turn,
                                    double angle, double depth) {
  const Across frame = across(turn.axis);
  const std::vector<Orbit> orbits_a = orbits(a, turn, frame);
  const std::vector<Orbit> orbits_b = orbits(b, turn, frame);
  ConvexPiece now = a;
  double at = 0.0;
  for (int step = 0; step < kMostSteps; ++step) {
    if (step > 0) turn_into(now, a, turn, at);
    double furthest = 0.0;
    const bool free = detail::any_axis(now, b, [&](Vec3 axis) {
      const Extent seen_a = extent(now, axis);
      const Extent seen_b = extent(b, axis);
      const double below = seen_b.lo - seen_a.hi;
      const double above = seen_a.lo - seen_b.hi;
      if (std::max(below, above) <= -depth) return false;
      // Turned so that a lies on the inner side: dot(normal, a) <= near_b + depth.
      const Vec3 normal = below >= above ? axis : -axis;
      const double near_a = below >= above ? seen_a.hi : -seen_a.lo;
      const double near_b = below >= above ? seen_b.lo : -seen_b.hi;
      const double origin = dot(normal, turn.origin);
      const double standing =
          turn_to_plane(orbits_a, plane(normal, near_b + depth - origin, turn, frame), at, +1.0);
      furthest = std::max(furthest, standing);
      if (furthest > angle - at) return true;
      // Carried by a: seen from it, b turns the other way and keeps to dot(normal, b) >= near_a -
      // depth.
      const double carried = turn_to_plane(
          orbits_b, plane(-normal, -(near_a - depth - origin), turn, frame), 0.0, -1.0);
      furthest = std::max(furthest, carried);
      return furthest > angle - at;
    });
    if (free) return std::nullopt;
    if (furthest < kSmallestStep) return at;
    at += furthest;
  }
  return at;
}

Vec3 turned(Vec3 point, const Turn& turn, double angle) {
  const Vec3 q = point - turn.origin;
  const Vec3 axial = turn.axis * dot(q, turn.axis);
  return turn.origin + axial + (q - axial) * std::cos(angle) +
         cross(turn.axis, q) * std::sin(angle);
}

ConvexPiece turned(const ConvexPiece& piece, const Turn& turn, double angle) {
  ConvexPiece result = piece;
  turn_into(result, piece, turn, angle);
  return result;
}

ConvexPiece moved(ConvexPiece piece, Vec3 by) {
  for (Vec3& p : piece.vertices) p = p + by;
  piece.box = {piece.box.lo + by, piece.box.hi + by};
  return piece;
}

Box swept_box(const ConvexPiece& piece, Vec3 direction, double travel) {
  Box box = piece.box;
  box.add(Box{piece.box.lo + direction * travel, piece.box.hi + direction * travel});
  return box;
}

Box swept_box(const ConvexPiece& piece, const Turn& turn, double angle) {
  Box box;
  for (const Vec3& p : piece.vertices) {
    const Vec3 q = p - turn.origin;
    const Vec3 axial = turn.axis * dot(q, turn.axis);
    const Vec3 middle = turn.origin + axial;
    const Vec3 a = q - axial;
    const Vec3 b = cross(turn.axis, q);
    for (int k = 0; k < 3; ++k) {
      const Extent seen = arc_extent(middle[k], a[k], b[k], angle);
      box.lo[k] = std::min(box.lo[k], seen.lo);
      box.hi[k] = std::max(box.hi[k], seen.hi);
    }
  }
  return box;
}

}  // namespace ribbay
