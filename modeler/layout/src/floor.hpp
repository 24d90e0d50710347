#pragma once

#include "layout/layout.hpp"

namespace ribbay::detail {

/// Notes which floor bolts go into a hard point, and reports those that would be drilled where the
/// vehicle must not be drilled.
void check_floor_bolts(Layout& layout, Findings& findings);

}  // namespace ribbay::detail
