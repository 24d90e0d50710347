#pragma once

#include "drawings/panel_study.hpp"

#include <vector>

/// What a template shows of a panel.
namespace ribbay::detail {

/// True when a tape cannot mark it out: see templates().
bool needs_template(const Part& part);

struct Ordinate {
  double at = 0.0;
  double low = 0.0;
  double high = 0.0;
};

struct TrueOutline {
  PanelStudy panel;
  Drawn drawn;  ///< edges of what is cut through, from the lower left corner, mm
  std::vector<Ordinate> ordinates;  ///< every 100 mm along the longer side
  bool upright = false;             ///< the longer side is Y
};

/// `turned`: the part's length runs upwards.
TrueOutline true_outline(const Part& part, bool turned);

/// Parts of the picture inside of `window`, arcs cut exactly.
Drawn clipped(const Drawn& drawn, const Rect& window);

}  // namespace ribbay::detail
