#pragma once

#include "base/text.hpp"
#include "shape/shape.hpp"

#include <optional>
#include <string>
#include <vector>

namespace ribbay {

/// A hole of a panel as its drawing sees it.
struct PanelHole {
  Bore bore;
  Vec2 at;  ///< from the lower left corner of the view
  std::string
      face;        ///< "A" (the face shown), "B" (behind), or "left", "right", "top", "bottom" edge
  double z = 0.0;  ///< of holes in edges: below face A
  std::optional<Bore> sunk{};  ///< the wider bore around its mouth, for the head of what goes in
};

/// The same tools, and what is said of both but their place is the same.
bool drilled_alike(const PanelHole& a, const PanelHole& b);

/// "4 through", "4.5 through, countersunk Ø8", "9 through, counterbored Ø18 ↧ 6".
std::string hole_text(const PanelHole& hole, LengthStyle show);

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
