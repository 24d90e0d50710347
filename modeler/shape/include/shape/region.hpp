#pragma once

#include <string>
#include <vector>

#include "base/vec.hpp"

namespace ribbay {

/// A corner of an outline. With `radius` 0 it is sharp; otherwise an arc of that radius, tangent to both
/// sides, rounds it. The arc must fit: its tangent points may meet those of the neighbours but not cross.
struct Corner {
  Vec2 at;
  double radius = 0.0;
  friend bool operator==(const Corner&, const Corner&) = default;
};

/// A closed outline; the last corner joins the first. Outer loops run counter-clockwise, holes clockwise.
using Loop = std::vector<Corner>;

/// An area with holes, in mm.
struct Region {
  Loop outer;
  std::vector<Loop> holes;
  friend bool operator==(const Region&, const Region&) = default;
};

/// Counter-clockwise rectangle from `lo` to `hi`; `radius` rounds all four corners.
Loop rectangle(Vec2 lo, Vec2 hi, double radius = 0.0);
/// Counter-clockwise circle: a square whose corners are rounded by half its side.
Loop circle(Vec2 centre, double diameter);
/// The same outline walked the other way: makes a hole of an outer loop.
Loop reversed(Loop loop);
/// The outline shifted by `by`.
Loop moved(Loop loop, Vec2 by);

/// One side of an outline after rounding: a straight line, or an arc from `a` to `b` about `centre`.
struct Side {
  Vec2 a;
  Vec2 b;
  bool arc = false;
  Vec2 centre;
  double radius = 0.0;
  bool counter_clockwise = true;  ///< direction in which the arc runs
};

/// The sides of `loop` in order, arcs included, sides of no length left out.
std::vector<Side> sides(const Loop& loop);

/// Exact area (mm2), arcs included: outer less holes.
double area(const Region& region);

/// A fault that makes a region unusable, as a finding code, or an empty string: "shape.few_corners",
/// "shape.not_finite", "shape.wrong_direction", "shape.radius_too_large", "shape.crosses_itself".
std::string fault(const Region& region);

}  // namespace ribbay
