#pragma once

#include "shape/shape.hpp"
#include "side.hpp"

#include <vector>

namespace ribbay::detail {

/// One entry per slab between neighbouring levels: whether there is material.
using Slabs = std::vector<bool>;

/// A piece of an outline between two points of the plan, with the material on both sides of it.
struct PlanEdge {
  int from = 0;  ///< index into Plan::points
  int to = 0;
  Side side;  ///< runs from `from` to `to`; an arc keeps its circle
  Slabs left;
  Slabs right;
};

/// A prism with its cuts, seen along z: the outlines of section and cuts divided where they meet,
/// no two edges crossing and none twice. Edges with the same material on both sides are left out.
struct Plan {
  std::vector<double>
      levels;  ///< rising, from 0 to the prism's height; slab k lies between k and k + 1
  std::vector<Vec2> points;
  std::vector<PlanEdge> edges;
};

/// Empty when the prism has no height or section.
Plan plan_of(const Region& section, double height, const std::vector<Cut>& cuts);

}  // namespace ribbay::detail
