#pragma once

#include "stage.hpp"
#include "tools.hpp"

/// Solids in the way of others.
namespace ribbay::detail {

/// How deep two pieces may overlap and count as touching: what their arcs are covered too much by
/// is no wood.
double slack(const ConvexPiece& a, const ConvexPiece& b);

/// True when `a`, moving, runs into `b`. What overlaps from the beginning is another check's
/// matter.
bool runs_into(const Solid& a, const Solid& b, Vec3 way, double travel);

/// True when something of `b` lies in the room.
bool overlap_in(const ToolRoom& room, const Solid& b);

}  // namespace ribbay::detail
