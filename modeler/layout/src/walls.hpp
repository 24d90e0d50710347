#pragma once

#include "vehicle/vehicle.hpp"

#include <optional>
#include <vector>

namespace ribbay::detail {

/// What the walls leave free at one height.
struct WallHeight {
  double z = 0.0;
  ClearWidth clear;
};

/// The outline of the room between x0 and x1, from z0 up to z1: at each height the free width over
/// the whole of x0..x1, ribs and arches taken off. Straight lines between the heights stay inside
/// the room up to the bulge of rounded arches between two heights (under 1 mm). Empty when the room
/// does not reach that far.
std::vector<WallHeight> wall_outline(const Vehicle& vehicle, double x0, double x1, double z0,
                                     double z1, double air = 0.0);

/// The widest extent of the room on each side that some place between x0 and x1 leaves free from z0
/// up to z1; nullopt when the room does not reach that far.
std::optional<ClearWidth> widest_along(const Vehicle& vehicle, double x0, double x1, double z0,
                                       double z1);

/// True when b lies on the straight line from a to c, so that an outline needs no corner there.
bool straight(Vec2 a, Vec2 b, Vec2 c);

/// The widest extent of an outline on each side; nullopt when it is empty.
std::optional<ClearWidth> widest(const std::vector<WallHeight>& outline);

}  // namespace ribbay::detail
