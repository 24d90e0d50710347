#pragma once

#include "drawings/drawing.hpp"

#include <string>

namespace ribbay {

/// A drawing without the date of issue in its title block: what tells whether two issues show the
/// same. `date` as the title block has it.
Drawing undated(Drawing drawing, const std::string& date);

}  // namespace ribbay
