#pragma once

#include "drawings/panel_study.hpp"

#include <vector>

/// The outline of a panel, or of the blank of one that is bent, with ordinates to mark it out by.
namespace ribbay {

/// True when a tape cannot mark it out by corners and circles: an outline or a cut-out that follows
/// a curve (two sides in a row that are not square to the part) or has an arc of more than 30 mm
/// radius.
bool needs_template(const Part& part);

/// Where the outline begins and ends across, at one place along.
struct Ordinate {
  double at = 0.0;
  double low = 0.0;
  double high = 0.0;
};

struct TrueOutline {
  PanelStudy panel;
  Drawn drawn;   ///< edges of what is cut through, from the lower left corner, mm
  Drawn worked;  ///< of what is worked into a face: rebates, dados, grooves; hidden on the far face
  std::vector<Ordinate> ordinates;  ///< every 100 mm along the longer side
  bool upright = false;             ///< the longer side is Y
};

/// In the part's pose.
TrueOutline true_outline(const Layout& layout, const Part& part);

/// True for a point in the part, not in one of its openings. Precondition: not on an edge.
bool is_within(const TrueOutline& outline, Vec2 p);

/// X or Y every 100 mm, and from where to where the outline reaches there.
Table ordinate_table(const TrueOutline& outline, LengthStyle show);

/// Parts of the picture inside of `window`, arcs cut exactly.
Drawn clipped(const Drawn& drawn, const Rect& window);

}  // namespace ribbay
