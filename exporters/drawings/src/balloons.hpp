#pragma once

#include "drawings/drawing.hpp"

#include <string>
#include <vector>

/// Item references of ISO 6433 (from memory): marks in circles, in columns beside the view, leaders
/// that cross neither each other nor a text, ending in a dot on the part.
namespace ribbay::detail {

struct Balloon {
  std::string mark;
  Vec2 anchor;  ///< on the part, on paper
};

inline constexpr double kBalloonRadius = 4.2;
inline constexpr double kBalloonPitch = 10.0;
inline constexpr double kBalloonRoom = 22.0;  ///< beside a view, for one column

/// Draws balloons in a column on either side of `view`; they stay within `low`..`high`. Returns
/// false when they do not fit.
bool add_balloons(Drawing& drawing, const Rect& view, const std::vector<Balloon>& balloons,
                  double low, double high, Pen pen);

/// One balloon wherever it is free near its anchor, outside of `avoid`.
bool add_balloon(Drawing& drawing, const Balloon& balloon, const Rect& avoid, Pen pen);

}  // namespace ribbay::detail
