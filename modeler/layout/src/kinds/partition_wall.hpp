#pragma once

#include "workshop.hpp"

#include <functional>
#include <vector>

/// What the sheet of a partition and the planks before it share.
namespace ribbay::detail {

/// The room at one height, in module axes: x of its left and right limits.
struct WallRow {
  double z = 0.0;
  double left = 0.0;
  double right = 0.0;
};

/// A pass-through opening, in module axes.
struct WallPass {
  std::string name;
  Box box;
  double radius = 0.0;
};

/// A rectangle seen from the front of the partition: x to the right, z up.
struct WallWindow {
  Vec2 lo;
  Vec2 hi;
};

/// Adds a corner to an outline with straight sides; corners that repeat or lie straight between
/// two others are left out.
void add_wall_corner(Loop& loop, Vec2 p);
/// Leaves out the first corner when it lies straight between its neighbours.
void close_wall_loop(Loop& loop);

/// What of a window lies inside the room: outlines in x and z, counter-clockwise, from below up.
/// The rows stand in rising order; between two the limits run straight.
std::vector<Loop> inside_wall(const std::vector<WallRow>& rows, const WallWindow& window);

/// A partition as its planks need it.
struct PlankedWall {
  const ModuleRequest& request;
  Workshop& shop;
  const std::vector<WallRow>& rows;
  const std::vector<WallPass>& passes;
  double sheet_thickness = 0.0;
  std::function<std::vector<std::string>(double x)> behind;  ///< ids of the pieces of sheet there
  std::function<void(double x, const Hole& hole)> drill;     ///< drills them
};

/// Field `planks` of a partition.
Field planks_field();

/// Lines the front of a partition with planks.
void add_planks(const PlankedWall& wall);

}  // namespace ribbay::detail
