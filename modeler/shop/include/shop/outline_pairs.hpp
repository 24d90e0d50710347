#pragma once

#include "base/vec.hpp"

#include <optional>
#include <vector>

/// Two pieces with curved or sloping outlines that share one rectangle of sheet.
namespace ribbay {

/// A closed outline, counter-clockwise, mm; it does not cross itself.
using Polygon = std::vector<Vec2>;

/// Where two polygons lie in the rectangle that is cut for both of them.
struct OutlinePair {
  double length = 0.0;  ///< of the rectangle, mm; along the length of both pieces
  double width = 0.0;
  Polygon first;   ///< as it lies there, lower left corner of the rectangle at 0, 0
  Polygon second;  ///< moved, or turned by half a turn and moved
  bool turned = false;
};

/// The least rectangle that was found for both, `kerf` of wood between them everywhere; nullopt when
/// it is not smaller than the two rectangles around them, each with its saw cut. The second is tried
/// as it is and turned by half a turn, which keeps the grain, pushed against the first from each of
/// four sides at places where corners pass corners and at even steps between. Not a proof: a better
/// place may lie between the steps.
std::optional<OutlinePair> pair_outlines(const Polygon& a, const Polygon& b, double kerf);

/// Least distance of two polygons, mm; 0 where they overlap or touch.
double distance(const Polygon& a, const Polygon& b);

}  // namespace ribbay
