#pragma once

#include "partition_wall.hpp"

#include <optional>
#include <vector>

/// The floor of the van as a module sees it from above.
namespace ribbay::detail {

/// A round opening right through a floor, in module axes.
struct FloorPass {
  Vec2 at;
  double diameter = 0.0;
};

/// What lies inside the walls, from above: x to the right, y to the back, module axes.
class FloorPlan {
 public:
  /// What walls, ribs, wheel arches and closed doors leave over the module's height, `gap` kept
  /// from them.
  FloorPlan(const ModuleRequest& request, double gap);

  bool empty() const { return rows_.empty(); }
  /// The parts of a rectangle that lie inside: outlines, counter-clockwise, from the front back.
  std::vector<Loop> inside(Vec2 lo, Vec2 hi) const { return inside_wall(rows_, {lo, hi}); }
  /// The straight strip across that lies inside all along y0..y1, as x from and to; nullopt when
  /// nothing does.
  std::optional<Vec2> strip(double y0, double y1) const;

 private:
  std::optional<Vec2> free(double van_x0, double van_x1) const;

  const ModuleRequest& r_;
  double gap_;
  std::vector<WallRow> rows_;  ///< z is the place along y
};

/// What remains of a strip along x, over y0..y1, as x from and to: it is cut at the round openings
/// that leave less than `beside` of its width on either side of them.
std::vector<Vec2> cut_at_passes(Vec2 strip, double y0, double y1,
                                const std::vector<FloorPass>& passes, double beside);

}  // namespace ribbay::detail
