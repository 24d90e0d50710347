#pragma once

#include "drawings/holes.hpp"

#include <string>
#include <vector>

namespace ribbay {

/// A hole of a panel as its drawing sees it.
struct PanelHole : Drilling {
  Vec2 at;  ///< from the lower left corner of the view
  std::string
      face;        ///< "A" (the face shown), "B" (behind), or "left", "right", "top", "bottom" edge
  double z = 0.0;  ///< where it starts: in edges below face A, else below its own face, in a cut
};

/// A blind hole whose depth counts from the floor of a cut.
bool starts_in_cut(const PanelHole& hole);

/// The same tools, and what is said of both but their place is the same.
bool drilled_alike(const PanelHole& a, const PanelHole& b);

/// Holes drilled alike in one row at one pitch; a single hole has count 1.
struct HoleSeries {
  PanelHole first;
  std::size_t count = 1;
  Vec2 pitch;
  std::string id;
};

/// Rows of three and more holes at one pitch, upwards first, then to the right; the rest are
/// single. Sorted by face, x and y, and named A1, A2, B1, L1 and so on by face.
std::vector<HoleSeries> hole_series(const std::vector<PanelHole>& holes);

}  // namespace ribbay
