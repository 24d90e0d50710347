#pragma once

#include "shape/shape.hpp"

#include <utility>
#include <vector>

namespace ribbay::detail {

/// A convex counter-clockwise polygon, solid over these intervals of z.
struct ConvexCell {
  std::vector<Vec2> polygon;
  std::vector<std::pair<double, double>> solid;
  double excess = 0.0;  ///< of the arcs that it may border on, mm
};

/// Covers the prism's section less its cuts with convex polygons. Arcs stand off their polygons by
/// `chord` at most, always outside the material.
std::vector<ConvexCell> convex_cells(const Prism& prism, double chord);

/// Adds a unit vector unless it, or its opposite, is there.
void add_unparallel(std::vector<Vec3>& directions, Vec3 d);

}  // namespace ribbay::detail
