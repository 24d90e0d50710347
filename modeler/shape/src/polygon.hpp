#pragma once

#include "shape/region.hpp"

#include <vector>

namespace ribbay::detail {

/// A corner of a straight-sided stand-in for an outline.
struct CoverPoint {
  Vec2 at;
  double excess = 0.0;  ///< how far the sides that meet here stand off the arc, mm
};

/// Straight sides for an outline with the material on its left, its sharp corners snapped to kGrid,
/// never inside the material: where the material bulges, tangents; where it is hollow, chords. They
/// stand off by `chord` at most. Points that coincide after snapping, or lie on a straight line,
/// are left out.
std::vector<CoverPoint> covering_polygon(const Loop& loop, double chord);

/// Number of equal chords that keep within `chord` of an arc of `radius` over `angle`.
int chords_for(double radius, double angle, double chord);

}  // namespace ribbay::detail
