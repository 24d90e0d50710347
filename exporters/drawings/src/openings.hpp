#pragma once

#include "drawings/visible_lines.hpp"
#include "module_contents.hpp"

#include <vector>

/// Windows, passes and cut-outs of a module, as one of its views sees them.
namespace ribbay::detail {

/// Something cut right through what stands square on in a view.
struct SeenOpening {
  Rect area;           ///< in the picture's coordinates
  bool round = false;  ///< placed by its centre
};

/// Openings of fixed boards that face who looks and are not hidden: `seen` is what the view draws.
/// From below, then from the left. Small holes for a single cable, lamp or latch count as well,
/// bores do not.
std::vector<SeenOpening> openings_of(const Layout& layout, const ModuleContents& contents,
                                     const ViewFrame& view, const Drawn& seen);

/// What places openings along both axes of a view, both edges or the middle of circles and slots,
/// each position once, without those that are `known`.
struct OpeningPositions {
  std::vector<double> across;
  std::vector<double> up;
};
OpeningPositions positions_of(const std::vector<SeenOpening>& openings,
                              const std::vector<double>& known_across,
                              const std::vector<double>& known_up);

}  // namespace ribbay::detail
