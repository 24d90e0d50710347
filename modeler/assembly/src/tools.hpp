#pragma once

#include "assembly/assembly.hpp"
#include "stage.hpp"

#include <vector>

namespace ribbay::detail {

/// Room that a tool takes at a fastener when it is driven, in van axes; the way in of the fastener
/// itself is part of it.
using ToolRoom = Pieces;

/// The rooms that would do for a tool that gets there in this way, not Reach::none. `placed_part`
/// is the bolt or screw as laid out: its shape's z runs to its tip. Sizes: long and short arms of
/// hexagon keys by JIS B 4648:2008 (the series of ISO 2936); drivers for screws and open spanners
/// by common practice, no source.
std::vector<ToolRoom> tool_rooms(const Part& placed_part, const Bolt& bolt, Reach reach);

/// A straight way by which a hand with the tool gets from the head of a bolt or screw to the open.
struct HandWay {
  Frame along;        ///< z leads out
  double far = 0.0;   ///< mm
  bool axis = false;  ///< along the axis of the fastener
};

/// Out of `around`, no farther than an arm reaches: along the axis, then along and between the axes
/// of the van. Common practice, no source.
std::vector<HandWay> hand_ways(const Part& placed_part, const Box& around);
/// What it takes: the tool's stretch, then the hand's.
ToolRoom hand_room(const HandWay& way);

}  // namespace ribbay::detail
