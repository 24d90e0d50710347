#pragma once

#include "layout/layout.hpp"

namespace ribbay::detail {

/// Adds the drains that reach through the floor, notes which bolts go into a hard point, and reports what would be drilled where the vehicle must not be drilled,
/// bolts that meet a joist nearer to its edge than their diameter, and drains that meet one.
void check_floor_bolts(Layout& layout, Findings& findings);

}  // namespace ribbay::detail
