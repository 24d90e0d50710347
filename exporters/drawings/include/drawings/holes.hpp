#pragma once

#include "layout/layout.hpp"

#include <string>
#include <vector>

/// Drilled holes in the words of a drawing.
namespace ribbay {

std::string word(CutRole role);

/// "Ø7 through", "M8 ↧ 25", "Ø5 ↧ 12".
std::string hole_text(const Bore& bore, LengthStyle show);
std::string depth_text(const Bore& bore, LengthStyle show);
/// "Ø7" or "M8".
std::string diameter_text(const Bore& bore, LengthStyle show);

/// The wider mouth of a hole: "countersunk Ø8" for a screw's head, "counterbored Ø18 ↧ 6" else.
std::string sunk_text(const Bore& bore, LengthStyle show);

/// Drilled alike: same size, depth, thread and purpose.
bool same_drill(const Bore& a, const Bore& b);

}  // namespace ribbay
