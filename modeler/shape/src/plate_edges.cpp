#include "shape/plate_edges.hpp"

#include "base/tolerance.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace ribbay {

namespace {

double distance(Vec2 point, const Side& side) {
  const Vec2 way = side.b - side.a;
  if (side.arc) {
    // The arc lies beyond its chord, seen from its centre; elsewhere its ends are nearest.
    const Vec2 out = point - side.centre;
    if (length(out) < kSame) return side.radius;
    const Vec2 on = side.centre + out * (side.radius / length(out));
    if (cross(way, on - side.a) * cross(way, side.centre - side.a) <= 0.0)
      return length(point - on);
    return std::min(length(point - side.a), length(point - side.b));
  }
  const double along = std::clamp(dot(point - side.a, way) / dot(way, way), 0.0, 1.0);
  return length(point - (side.a + way * along));
}

bool cuts_through(const Prism& plate, const Cut& cut) {
  return cut.from < kSame && cut.to > plate.height - kSame;
}

/// True right of the line through a chord, or above a level one; on it counts as beyond it.
bool is_beyond(Vec2 point, Vec2 a, Vec2 way) {
  if (way.y == 0.0) return a.y <= point.y;
  return point.x >= a.x + way.x * (point.y - a.y) / way.y;
}

/// By the rule of odd crossings with the chords; what lies between a chord and its arc is turned.
bool is_inside(const Loop& loop, Vec2 point) {
  bool inside = false;
  for (const Side& side : sides(loop)) {
    const Vec2 way = side.b - side.a;
    const bool beyond = is_beyond(point, side.a, way);
    if ((side.a.y > point.y) != (side.b.y > point.y) && !beyond) inside = !inside;
    if (side.arc && length(point - side.centre) < side.radius &&
        beyond != is_beyond(side.centre, side.a, way))
      inside = !inside;
  }
  return inside;
}

}  // namespace

double to_edge(const Prism& plate, Vec2 point) {
  double least = std::numeric_limits<double>::infinity();
  const auto look = [&](const Loop& loop) {
    for (const Side& side : sides(loop)) least = std::min(least, distance(point, side));
  };
  look(plate.section.outer);
  for (const Loop& hole : plate.section.holes) look(hole);
  for (const Cut& cut : plate.cuts) {
    if (cuts_through(plate, cut)) look(cut.outline);
  }
  return least;
}

bool is_within(const Prism& plate, Vec2 point) {
  const auto holds = [&](const Loop& loop) { return is_inside(loop, point); };
  return holds(plate.section.outer) && std::ranges::none_of(plate.section.holes, holds) &&
         std::ranges::none_of(plate.cuts, [&](const Cut& cut) {
           return cuts_through(plate, cut) && holds(cut.outline);
         });
}

}  // namespace ribbay
