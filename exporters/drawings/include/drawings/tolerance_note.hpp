#pragma once

#include "layout/layout.hpp"

#include <string>

namespace ribbay {

/// Permitted deviation of a linear size, mm, plus or minus: ISO 2768-1:1989 table 1, class m. 0
/// outside of the table, which goes from 0.5 to 4000 mm.
double general_tolerance(double size);

/// How far the sizes of a made part may be off in this workshop, where that is not what the general
/// tolerance of its title block says for its longest size; of a member always, for its length.
/// Empty else.
std::string tolerance_note(const Layout& layout, const Part& part);

}  // namespace ribbay
