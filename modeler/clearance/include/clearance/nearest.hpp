#pragma once

#include "clearance/sweep.hpp"

#include <optional>

namespace ribbay {

/// Least distances on a way are told to within this, mm; they are never told too small by more than
/// rounding, since what is told is the distance at a place of the way.
inline constexpr double kOnWay = 0.005;

/// How near a piece on its way comes to one that stands.
struct NearestOnWay {
  double distance = 0.0;  ///< mm, at `travel`; kContact or less: they touch there
  double travel = 0.0;    ///< mm, or radians
  Vec3 on_a;              ///< the two nearest points then
  Vec3 on_b;
};

/// The least distance of a, moving over 0..`travel` (mm) along the unit vector `direction`, from b;
/// nullopt when it exceeds `within`. The distance of convex pieces is a convex function of travel,
/// so tangents at two places bound it from below; the search ends where that bound is within kOnWay
/// of a distance that is reached. It ends as soon as they touch.
std::optional<NearestOnWay> nearest_on_slide(const ConvexPiece& a, const ConvexPiece& b,
                                             Vec3 direction, double travel, double within);

/// The same for a turn over 0..`angle` (radians). Whether the pieces ever come nearer than some
/// distance is told as contact_angle() tells contact, by planes that part them that far, the one
/// across their nearest points among them; halving that distance brackets the least one.
std::optional<NearestOnWay> nearest_on_turn(const ConvexPiece& a, const ConvexPiece& b,
                                            const Turn& turn, double angle, double within);

}  // namespace ribbay
