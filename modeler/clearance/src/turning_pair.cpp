#include "turning_pair.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace ribbay::detail {

namespace {

constexpr double kPi = std::numbers::pi;

/// A plane whose normal leans less than this out of the turning axis stays in its place.
constexpr double kStill = 1e-12;

}  // namespace

TurningPair::TurningPair(const ConvexPiece& turns, const ConvexPiece& stands, const Turn& turn)
    : turns_{turns},
      stands_{stands},
      turn_{turn},
      frame_{across(turn.axis)},
      orbits_turning_{orbits(turns)},
      orbits_standing_{orbits(stands)},
      now_{turns} {}

void TurningPair::go(double angle) {
  at_ = angle;
  turn_into(now_, turns_, turn_, angle);
}

double TurningPair::parted_for(Vec3 axis, double depth, double enough) const {
  const Extent seen_a = extent(now_, axis);
  const Extent seen_b = extent(stands_, axis);
  const double below = seen_b.lo - seen_a.hi;
  const double above = seen_a.lo - seen_b.hi;
  if (std::max(below, above) <= -depth) return 0.0;
  // Turned so that a lies on the inner side: dot(normal, a) <= near_b + depth.
  const Vec3 normal = below >= above ? axis : -axis;
  const double near_a = below >= above ? seen_a.hi : -seen_a.lo;
  const double near_b = below >= above ? seen_b.lo : -seen_b.hi;
  const double origin = dot(normal, turn_.origin);
  const double still =
      turn_to_plane(orbits_turning_, plane(normal, near_b + depth - origin), at_, +1.0);
  if (still > enough) return still;
  // Carried by a: seen from it, b turns the other way and keeps to dot(normal, b) >= near_a - depth.
  const double carried =
      turn_to_plane(orbits_standing_, plane(-normal, -(near_a - depth - origin)), 0.0, -1.0);
  return std::max(still, carried);
}

TurningPair::Across TurningPair::across(Vec3 axis) {
  const Vec3 e =
      normalized(std::abs(axis.x) < 0.7 ? cross(axis, Vec3{1, 0, 0}) : cross(axis, Vec3{0, 1, 0}));
  return {e, cross(axis, e)};
}

std::vector<TurningPair::Orbit> TurningPair::orbits(const ConvexPiece& piece) const {
  std::vector<Orbit> result;
  result.reserve(piece.vertices.size());
  for (const Vec3& p : piece.vertices) {
    const Vec3 q = p - turn_.origin;
    const double x = dot(q, frame_.e);
    const double y = dot(q, frame_.f);
    result.push_back({std::hypot(x, y), std::atan2(y, x), dot(q, turn_.axis)});
  }
  return result;
}

TurningPair::Plane TurningPair::plane(Vec3 normal, double offset) const {
  const double x = dot(normal, frame_.e);
  const double y = dot(normal, frame_.f);
  return {dot(normal, turn_.axis), std::hypot(x, y), std::atan2(y, x), offset};
}

/// How far all points can turn, from `ahead` on, before the first crosses the plane; infinite when
/// none does. `sense` is +1 when the points turn and -1 when the plane does.
double TurningPair::turn_to_plane(const std::vector<Orbit>& points, const Plane& plane,
                                  double ahead, double sense) {
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

}  // namespace ribbay::detail
