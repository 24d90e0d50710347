#pragma once

#include "assembly/assembly.hpp"
#include "stage.hpp"

#include <vector>

namespace ribbay::detail {

/// Room that a tool takes at a fastener when it is driven, in van axes; the way in of the fastener
/// itself is part of it.
using ToolRoom = Pieces;

/// The rooms that would do for a tool that gets there in this way, not Reach::none. `placed_part` is the bolt or screw as laid out: its
/// shape's z runs to its tip. Sizes: long and short arms of hexagon keys by JIS B 4648:2008 (the
/// series of ISO 2936); drivers for screws and open spanners by common practice, no source.
std::vector<ToolRoom> tool_rooms(const Part& placed_part, const Bolt& bolt, Reach reach);

}  // namespace ribbay::detail
