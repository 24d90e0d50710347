#pragma once

#include "kind.hpp"
#include "lining_curve.hpp"

#include <optional>
#include <string>
#include <vector>

namespace ribbay::detail {

/// A rib or bow that a lining can be held by.
struct Holder {
  std::string id;      ///< of its body in the van
  double x = 0.0;      ///< of its middle, module axes
  double width = 0.0;  ///< along x
  double from = 0.0;   ///< where it begins and ends along the section
  double to = 0.0;
  bool steel = true;
};

/// The wall or roof behind a module, as sections: s runs along it from the module's underside up a
/// wall, or from its back to its front under the roof; h goes the way out of the room. Module axes.
class LinedSurface {
 public:
  LinedSurface(const ModuleRequest& request, bool roof);

  bool roof() const { return roof_; }
  VanSide side() const { return side_; }
  /// Extent along the section.
  double extent() const { return roof_ ? r_.size.y : r_.size.z; }
  /// A place of the section at x, in module axes.
  Vec3 in_module(double x, Vec2 section) const;
  /// As above for a direction.
  Vec3 direction(Vec2 section) const;
  /// Where z (of a wall) or y (of the roof) in the van lies along the section.
  double along(double van) const;

  /// What the van leaves over x0..x1 (module axes), rising in s, no two places more than 5 mm
  /// apart; empty when the survey does not reach that far.
  std::vector<RoomPoint> line(double x0, double x1) const;
  /// h that is free at one place; nullopt outside the survey.
  std::optional<double> free_at(double x, double s) const;
  /// Ribs or bows that stand behind x0..x1 at least in part, in the order of x.
  std::vector<Holder> holders(double x0, double x1) const;

 private:
  std::vector<double> breaks(double van_x0, double van_x1) const;
  std::optional<double> limit(const Vehicle& vehicle, double van_x0, double van_x1, double s) const;
  double van_x(double x) const { return r_.to_van({x, 0, 0}).x; }

  const ModuleRequest& r_;
  bool roof_;
  VanSide side_;
  Vehicle bare_;  ///< without ribs, bows, arches and doors
};

}  // namespace ribbay::detail
