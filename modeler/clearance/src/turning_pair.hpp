#pragma once

#include "axes.hpp"
#include "clearance/sweep.hpp"

#include <vector>

namespace ribbay::detail {

/// A step of a turning sweep smaller than this ends it: at 1 m from the axis that is 1e-6 mm.
inline constexpr double kSmallestStep = 1e-9;

/// Far above what real pairs take (about ten); the sweep then ends with what it looks for rather than
/// missing it.
inline constexpr int kMostSteps = 10000;

/// A piece that turns, a piece that stands, and for how long planes part them. A plane either stands
/// still or turns along, and when a corner next crosses it is known in closed form. Both pieces must
/// outlive it.
class TurningPair {
 public:
  TurningPair(const ConvexPiece& turns, const ConvexPiece& stands, const Turn& turn);

  const ConvexPiece& now() const { return now_; }  ///< the piece that turns, as it is at at()
  const ConvexPiece& standing() const { return stands_; }
  double at() const { return at_; }  ///< radians
  void go(double angle);

  /// How far the piece can turn on before every plane across `axis` has the pieces overlap deeper
  /// than `depth` along it (negative: come closer than that); 0 where they do already. Not looked for
  /// any further than what exceeds `enough`.
  double parted_for(Vec3 axis, double depth, double enough) const;

 private:
  /// Two unit vectors that make a right-handed frame with the turning axis.
  struct Across {
    Vec3 e;
    Vec3 f;
  };
  /// A point in cylinder coordinates about the turning axis.
  struct Orbit {
    double radius = 0.0;
    double phase = 0.0;
    double height = 0.0;
  };
  /// Points keep to dot(normal, p - origin of the turn) <= offset.
  struct Plane {
    double along = 0.0;   ///< share of the normal along the turning axis
    double radial = 0.0;  ///< length of the rest of it
    double phase = 0.0;   ///< direction of that rest
    double offset = 0.0;
  };

  static Across across(Vec3 axis);
  std::vector<Orbit> orbits(const ConvexPiece& piece) const;
  Plane plane(Vec3 normal, double offset) const;
  static double turn_to_plane(const std::vector<Orbit>& points, const Plane& plane, double ahead,
                              double sense);

  const ConvexPiece& turns_;
  const ConvexPiece& stands_;
  Turn turn_;
  Across frame_;
  std::vector<Orbit> orbits_turning_;
  std::vector<Orbit> orbits_standing_;
  ConvexPiece now_;
  double at_ = 0.0;
};

/// Writes `piece`, turned, over `result`, a copy of it.
void turn_into(ConvexPiece& result, const ConvexPiece& piece, const Turn& turn, double angle);

}  // namespace ribbay::detail
