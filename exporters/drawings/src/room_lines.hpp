#pragma once

#include "drawings/visible_lines.hpp"
#include "van_lines.hpp"

/// Outlines of the van's body in any of its views.
namespace ribbay::detail {

/// The inside of the room cut across at x, seen from behind (y to the left): floor, walls, roof.
VanLine room_section(const Vehicle& van, double x);

/// The outline of a convex piece seen from somewhere, closed.
VanLine outline_of(const ConvexPiece& piece, const ViewFrame& view);

}  // namespace ribbay::detail
