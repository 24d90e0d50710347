#pragma once

#include "shape/shape.hpp"

/// Where a point lies on a plate, seen along its thickness.
namespace ribbay {

/// From a point to the nearest edge of a plate, mm: of its outline, its holes, or what is cut through
/// it. Arcs are exact; the point may lie in or beside the plate.
double to_edge(const Prism& plate, Vec2 point);

/// True when a point lies in the plate's outline and in none of its holes and through cuts.
bool is_within(const Prism& plate, Vec2 point);

}  // namespace ribbay
