#pragma once

#include "layout/layout.hpp"

namespace ribbay::detail {

/// Keeps the floor free that the vehicle's doors ask for inside (`clear_way`): a zone for each door
/// that asks, in which no part may stand.
void add_door_ways(Layout& layout);

}  // namespace ribbay::detail
