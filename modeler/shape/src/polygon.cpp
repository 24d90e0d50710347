#include "polygon.hpp"

#include "base/tolerance.hpp"
#include "side.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {
namespace {

/// More chords than this on one arc (less than half a circle) help nobody.
constexpr int kMostChords = 1000;

int steps(double angle, double half_step) {
  if (!(half_step > 0.0)) return kMostChords;
  const double n = std::ceil(angle / (2.0 * half_step) - 1e-9);
  return static_cast<int>(std::clamp(n, 1.0, static_cast<double>(kMostChords)));
}

Vec2 on_grid(Vec2 p, double grid) {
  return {std::round(p.x / grid) * grid, std::round(p.y / grid) * grid};
}

/// Sharp corners come on kGrid. Points of arcs keep to a finer one, or the snapping would show in
/// fine chords and make convex outlines hollow.
void add_point(std::vector<CoverPoint>& points, Vec2 at, double excess) {
  at = on_grid(at, excess > 0.0 ? kSame : kGrid);
  if (!points.empty() && points.back().at == at) {
    points.back().excess = std::max(points.back().excess, excess);
    return;
  }
  points.push_back({at, excess});
}

/// The tangents of the arc meet halfway between the points where they touch it.
void add_tangents(std::vector<CoverPoint>& points, const Side& arc, double chord) {
  const double angle = sweep(arc);
  const int n = steps(angle, std::acos(arc.radius / (arc.radius + chord)));
  const double reach = 1.0 / std::cos(angle / (2.0 * n));
  const double excess = arc.radius * (reach - 1.0);
  for (int i = 0; i < n; ++i) {
    const Vec2 touch = point_at(arc, (i + 0.5) / n);
    add_point(points, arc.centre + (touch - arc.centre) * reach, excess);
  }
}

void add_chords(std::vector<CoverPoint>& points, const Side& arc, double chord) {
  const double angle = sweep(arc);
  const int n = chords_for(arc.radius, angle, chord);
  const double excess = arc.radius * (1.0 - std::cos(angle / (2.0 * n)));
  for (int i = 0; i <= n; ++i)
    add_point(points, i == n ? arc.b : point_at(arc, static_cast<double>(i) / n), excess);
}

/// True when an arc and its neighbour, the side after or before it, have one tangent where they meet.
bool runs_into(const Side& side, const Side& next) {
  if (!side.arc && !next.arc) return false;
  const Vec2 in = tangent(side, side.b);
  const Vec2 out = tangent(next, next.a);
  return std::abs(cross(in, out)) < kSame && dot(in, out) > 0.0;
}

bool straight_on(const CoverPoint& before, const CoverPoint& here, const CoverPoint& after) {
  const Vec2 in = here.at - before.at;
  const Vec2 out = after.at - here.at;
  return std::abs(cross(in, out)) <= 1e-9 * length(in) * length(out) && dot(in, out) > 0.0;
}

}  // namespace

int chords_for(double radius, double angle, double chord) {
  if (chord >= radius) return steps(angle, 1.0);
  return steps(angle, std::acos(1.0 - chord / radius));
}

std::vector<CoverPoint> covering_polygon(const Loop& loop, double chord) {
  std::vector<CoverPoint> points;
  const std::vector<Side> outline = sides(loop);
  const Side* before = outline.empty() ? nullptr : &outline.back();
  for (const Side& side : outline) {
    // Where a line runs smoothly into an arc, the tangents or chords of the arc say it all.
    if (!runs_into(*before, side)) add_point(points, side.a, 0.0);
    if (side.arc && side.counter_clockwise) add_tangents(points, side, chord);
    if (side.arc && !side.counter_clockwise) add_chords(points, side, chord);
    before = &side;
  }
  while (points.size() > 1 && points.back().at == points.front().at) {
    points.front().excess = std::max(points.front().excess, points.back().excess);
    points.pop_back();
  }
  std::vector<CoverPoint> kept;
  const std::size_t n = points.size();
  for (std::size_t i = 0; i < n; ++i)
    if (!straight_on(points[(i + n - 1) % n], points[i], points[(i + 1) % n]))
      kept.push_back(points[i]);
  return kept;
}

}  // namespace ribbay::detail
