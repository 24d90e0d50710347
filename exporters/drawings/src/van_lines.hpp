#pragma once

#include "drawings/dimension.hpp"
#include "shape/facets.hpp"
#include "vehicle/vehicle.hpp"

#include <vector>

/// The van itself on its drawings.
namespace ribbay::detail {

/// A polyline of the vehicle, in van coordinates of one view.
using VanLine = std::vector<Vec2>;

/// The inside of the room at the floor, seen from above: up the left wall, back along the right
/// one.
VanLine floor_outline(const Vehicle& van);

/// Floor, bulkhead, roof and rear end, seen from the side.
VanLine side_outline(const Vehicle& van);

VanLine rectangle_line(Vec2 lo, Vec2 hi);

void draw_line(Drawing& d, const ViewPlace& place, const VanLine& line, Pen pen);

/// The wheel arches, seen from above.
void draw_arches(Drawing& d, const ViewPlace& place, const Vehicle& van);

/// Floor, roof, ribs, bows, wheel arches and openings of one side as edges without faces, so far
/// out that whatever stands in the room hides them from `eye` (unit, towards the eye).
Facets side_wires(const Vehicle& van, VanSide side, Vec3 eye);

/// An arrow that says where the van drives, in the upper corner of a view where it points to.
void add_forward(Drawing& d, const Rect& view, bool to_right = true);

}  // namespace ribbay::detail
