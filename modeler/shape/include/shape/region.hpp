#pragma once

#include "base/vec.hpp"

#include <string>
#include <vector>

namespace ribbay {

/// A corner of an outline. With `radius` 0 it is sharp; otherwise an arc of that radius, tangent to
/// both sides, rounds it. The arc must fit: its tangent points may meet those of the neighbours but
/// not cross.
struct Corner {
  Vec2 at;
  double radius = 0.0;
  friend bool operator==(const Corner&, const Corner&) = default;
};

/// A closed outline; the last corner joins the first. Outer loops run counter-clockwise, holes
/// clockwise.
using Loop = std::vector<Corner>;

/// An area with holes, in mm.
struct Region {
  Loop outer;
  std::vector<Loop> holes{};
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

/// One side of an outline after rounding: a straight line, or an arc from `a` to `b` about
/// `centre`. An arc of an outline turns through less than half a circle.
struct Side {
  Vec2 a;
  Vec2 b;
  bool arc = false;
  Vec2 centre{};
  double radius = 0.0;
  bool counter_clockwise = true;  ///< direction in which the arc runs
};

/// The sides of `loop` in order, arcs included, sides of no length left out. Each begins exactly
/// where the one before it ends. Corners that repeat their neighbour count once.
std::vector<Side> sides(const Loop& loop);

/// Integrals over an area, about the origin of its coordinates.
struct AreaMoments {
  double area = 0.0;  ///< mm2
  double x = 0.0;     ///< integral of x, mm3
  double y = 0.0;     ///< integral of y, mm3
  double xx = 0.0;    ///< integral of x^2, mm4
  double yy = 0.0;    ///< integral of y^2, mm4
  double xy = 0.0;    ///< integral of x y, mm4
};

/// Exact, arcs included: the outer loop less its holes. By Green's theorem over triangles and
/// circular segments.
AreaMoments moments(const Region& region);

/// Exact area (mm2), arcs included: outer less holes.
double area(const Region& region);

/// Length of the outline (mm), arcs included.
double perimeter(const Loop& loop);

/// How far the outline reaches in a unit direction: the greatest dot product of `direction` with
/// one of its points, mm, arcs included.
double reach(const Loop& loop, Vec2 direction);

/// A fault that makes a region unusable, as a finding code, or an empty string, in this order:
/// - "shape.not_finite": a number is not finite, or a radius is negative;
/// - "shape.few_corners": a loop has fewer than three corners that differ;
/// - "shape.radius_too_large": an arc does not fit between its neighbours;
/// - "shape.crosses_itself": a loop touches or crosses itself or another, or a hole lies outside
/// the outer
///   loop or inside another hole;
/// - "shape.wrong_direction": the outer loop is clockwise or a hole is not.
std::string fault(const Region& region);

}  // namespace ribbay
