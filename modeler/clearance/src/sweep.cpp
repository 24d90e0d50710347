#include "clearance/sweep.hpp"

#include "axes.hpp"
#include "turning_pair.hpp"

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
  detail::TurningPair pair(a, b, turn);
  for (int step = 0; step < detail::kMostSteps; ++step) {
    const double to_go = angle - pair.at();
    double furthest = 0.0;
    const bool free = detail::any_axis(pair.now(), b, [&](Vec3 axis) {
      furthest = std::max(furthest, pair.parted_for(axis, depth, to_go));
      return furthest > to_go;
    });
    if (free) return std::nullopt;
    if (furthest < detail::kSmallestStep) return pair.at();
    pair.go(pair.at() + furthest);
  }
  return pair.at();
}

Vec3 turned(Vec3 point, const Turn& turn, double angle) {
  const Vec3 q = point - turn.origin;
  const Vec3 axial = turn.axis * dot(q, turn.axis);
  return turn.origin + axial + (q - axial) * std::cos(angle) +
         cross(turn.axis, q) * std::sin(angle);
}

ConvexPiece turned(const ConvexPiece& piece, const Turn& turn, double angle) {
  ConvexPiece result = piece;
  detail::turn_into(result, piece, turn, angle);
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
