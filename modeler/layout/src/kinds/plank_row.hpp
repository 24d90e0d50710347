#pragma once

#include <optional>
#include <vector>

/// How boards are shared out over a wall.
namespace ribbay::detail {

/// Boards side by side, counted from the datum edge.
struct PlankRow {
  std::vector<double> from;    ///< where each begins to cover
  std::vector<double> widths;  ///< that each covers
};

/// Shares out `span` from its datum edge: whole boards of `cover` with a gap between them. The
/// first board is `first` wide, or, when that is not said, whole; the last takes what is left. When
/// the last would be narrower than `least` and `first` is not said, the first gives it half of what
/// both have, so that the wall looks even.
PlankRow share_planks(double span, double cover, double gap, std::optional<double> first,
                      double least);

}  // namespace ribbay::detail
