#include "clearance/nearest.hpp"

#include "base/tolerance.hpp"
#include "clearance/separation.hpp"
#include "hull.hpp"
#include "movers.hpp"
#include "turning_pair.hpp"

#include <algorithm>
#include <limits>

namespace ribbay {

namespace {

using namespace detail;

constexpr double kEver = std::numeric_limits<double>::infinity();

/// Distances this far above a limit still count as within it, mm: what is printed is coarser.
constexpr double kSlack = 1e-4;

/// How two pieces stand; `faces_b`: hull_faces(b).
NearestOnWay nearest_now(const ConvexPiece& a, const ConvexPiece& b,
                         const std::vector<HullFace>& faces_b, double travel) {
  const Separation known = separation(a, b);
  if (known.distance > 0.0) {
    if (const auto closest = closest_points(Hull{a, hull_faces(a)}, Hull{b, faces_b}, known, kEver))
      return {closest->distance, travel, closest->on_a, closest->on_b};
  }
  const Box common{{std::max(a.box.lo.x, b.box.lo.x), std::max(a.box.lo.y, b.box.lo.y),
                    std::max(a.box.lo.z, b.box.lo.z)},
                   {std::min(a.box.hi.x, b.box.hi.x), std::min(a.box.hi.y, b.box.hi.y),
                    std::min(a.box.hi.z, b.box.hi.z)}};
  return {std::max(known.distance, 0.0), travel, common.centre(), common.centre()};
}

/// A distance on a straight way, and how fast it grows there: mm for each mm of travel.
struct Tangent {
  NearestOnWay at;
  double slope = 0.0;

  double bound(double travel) const { return at.distance + slope * (travel - at.travel); }
};

/// Where two tangents cross, a falling one and a rising one.
double crossing(const Tangent& falls, const Tangent& rises) {
  const double travel =
      (rises.bound(0.0) - falls.bound(0.0)) / (falls.slope - rises.slope);
  return std::clamp(travel, falls.at.travel, rises.at.travel);
}

/// The first place from where the pair stands, up to `angle`, at which it is no further apart than
/// `gap`; nullopt when it never is.
std::optional<NearestOnWay> first_within(TurningPair& pair, const std::vector<HullFace>& faces_b,
                                         double angle, double gap) {
  // Steps below this are found sooner by a plane across the nearest points, radians.
  constexpr double kShort = 0.02;
  for (int step = 0; step < kMostSteps; ++step) {
    const double to_go = angle - pair.at();
    double furthest = 0.0;
    const auto lasts = [&](Vec3 axis) {
      furthest = std::max(furthest, pair.parted_for(axis, -gap, to_go));
      return furthest > to_go;
    };
    if (any_axis(pair.now(), pair.standing(), lasts)) return std::nullopt;
    if (furthest < kShort) {
      const NearestOnWay now = nearest_now(pair.now(), pair.standing(), faces_b, pair.at());
      if (now.distance <= gap + kSlack) return now;
      if (lasts((now.on_a - now.on_b) * (1.0 / now.distance))) return std::nullopt;
      if (furthest < kSmallestStep) return now;
    }
    pair.go(pair.at() + furthest);
  }
  return nearest_now(pair.now(), pair.standing(), faces_b, pair.at());
}

}  // namespace

std::optional<NearestOnWay> nearest_on_slide(const ConvexPiece& a, const ConvexPiece& b,
                                             Vec3 direction, double travel, double within) {
  if (separation(swept_piece(a, direction, travel), b, within).distance > within)
    return std::nullopt;
  const std::vector<HullFace> faces_b = hull_faces(b);
  const auto tangent_at = [&](double at) {
    Tangent tangent{nearest_now(moved(a, direction * at), b, faces_b, at), 0.0};
    if (tangent.at.distance > kContact) {
      const Vec3 apart = (tangent.at.on_a - tangent.at.on_b) * (1.0 / tangent.at.distance);
      tangent.slope = dot(apart, direction);
    }
    return tangent;
  };
  const auto told = [&](const NearestOnWay& least) {
    return least.distance <= within ? std::optional(least) : std::nullopt;
  };
  Tangent falls = tangent_at(0.0);
  if (falls.at.distance <= kContact || falls.slope >= 0.0) return told(falls.at);
  Tangent rises = tangent_at(travel);
  if (rises.at.distance <= kContact || rises.slope <= 0.0) return told(rises.at);
  NearestOnWay least = falls.at.distance <= rises.at.distance ? falls.at : rises.at;
  for (int step = 0; step < kMostSteps; ++step) {
    double at = crossing(falls, rises);
    const double bound = falls.bound(at);
    if (bound > within) return std::nullopt;
    if (least.distance - bound <= kOnWay) break;
    // Now and then by halves, which never get stuck.
    if (step % 3 == 2) at = (falls.at.travel + rises.at.travel) / 2;
    const Tangent here = tangent_at(at);
    if (here.at.distance < least.distance) least = here.at;
    if (here.at.distance <= kContact || here.slope == 0.0) break;
    (here.slope < 0.0 ? falls : rises) = here;
  }
  return told(least);
}

std::optional<NearestOnWay> nearest_on_turn(const ConvexPiece& a, const ConvexPiece& b,
                                            const Turn& turn, double angle, double within) {
  TurningPair pair(a, b, turn);
  const std::vector<HullFace> faces_b = hull_faces(b);
  auto least = first_within(pair, faces_b, angle, within);
  double proven = 0.0;  // nowhere on the way nearer than this
  while (least && least->distance > kContact && least->distance - proven > kOnWay) {
    const double middle = (proven + least->distance) / 2;
    // Before the place that is known they are further apart than what was looked for there.
    pair.go(least->travel);
    if (const auto nearer = first_within(pair, faces_b, angle, middle))
      least = nearer;
    else
      proven = middle;
  }
  return least;
}

}  // namespace ribbay
