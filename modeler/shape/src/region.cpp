#include "shape/region.hpp"

#include "base/tolerance.hpp"
#include "side.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace ribbay {
namespace {

Loop without_repeats(const Loop& loop) {
  Loop kept;
  for (const Corner& corner : loop)
    if (kept.empty() || length(corner.at - kept.back().at) > kSame) kept.push_back(corner);
  while (kept.size() > 1 && length(kept.back().at - kept.front().at) <= kSame) kept.pop_back();
  return kept;
}

/// How a corner is rounded: the arc leaves the sides `reach` before and after the corner.
struct Rounding {
  Vec2 in;   ///< unit direction towards the corner
  Vec2 out;  ///< unit direction away from it
  double reach = 0.0;
  bool left = true;
};

Rounding rounding(const Loop& loop, std::size_t i) {
  const std::size_t n = loop.size();
  const Corner& corner = loop[i];
  Rounding r;
  r.in = normalized(corner.at - loop[(i + n - 1) % n].at);
  r.out = normalized(loop[(i + 1) % n].at - corner.at);
  const double turn = std::atan2(cross(r.in, r.out), dot(r.in, r.out));
  r.left = turn > 0.0;
  // A corner that goes straight on needs no arc.
  if (corner.radius > 0.0 && std::abs(turn) > 1e-12)
    r.reach = corner.radius * std::tan(std::abs(turn) / 2.0);
  return r;
}

bool finite(const Loop& loop) {
  return std::ranges::all_of(loop, [](const Corner& c) {
    return std::isfinite(c.at.x) && std::isfinite(c.at.y) && std::isfinite(c.radius) &&
           c.radius >= 0.0;
  });
}

bool arcs_fit(const Loop& loop) {
  const Loop corners = without_repeats(loop);
  const std::size_t n = corners.size();
  for (std::size_t i = 0; i < n; ++i) {
    const std::size_t next = (i + 1) % n;
    const double needed = rounding(corners, i).reach + rounding(corners, next).reach;
    if (!(needed <= length(corners[next].at - corners[i].at) + kSame)) return false;
  }
  return true;
}

bool turns_back(const Side& before, const Side& after) {
  return dot(detail::tangent(before, before.b), detail::tangent(after, after.a)) < -1.0 + 1e-12;
}

bool meet(const Side& s, const Side& t) {
  if (!detail::near(detail::bounds(s), detail::bounds(t), kSame)) return false;
  std::vector<Vec2> points;
  detail::add_contacts(s, t, points);
  return !points.empty();
}

/// Neighbours share their joint and, being straight or tangent, nothing else unless one turns back.
bool crosses_itself(const std::vector<Side>& loop) {
  const std::size_t n = loop.size();
  for (std::size_t i = 0; i < n; ++i) {
    if (turns_back(loop[i], loop[(i + 1) % n])) return true;
    for (std::size_t j = i + 2; j < n; ++j)
      if ((j + 1) % n != i && meet(loop[i], loop[j])) return true;
  }
  return false;
}

bool cross_each_other(const std::vector<Side>& a, const std::vector<Side>& b) {
  return std::ranges::any_of(a, [&](const Side& s) {
    return std::ranges::any_of(b, [&](const Side& t) { return meet(s, t); });
  });
}

AreaMoments loop_moments(const std::vector<Side>& loop, AreaMoments sum, Vec2 origin) {
  for (Side side : loop) {
    side.a = side.a - origin;
    side.b = side.b - origin;
    side.centre = side.centre - origin;
    const AreaMoments part = detail::moments(side);
    sum.area += part.area;
    sum.x += part.x;
    sum.y += part.y;
    sum.xx += part.xx;
    sum.yy += part.yy;
    sum.xy += part.xy;
  }
  return sum;
}

}  // namespace

Loop rectangle(Vec2 lo, Vec2 hi, double radius) {
  return {{lo, radius}, {{hi.x, lo.y}, radius}, {hi, radius}, {{lo.x, hi.y}, radius}};
}

Loop circle(Vec2 centre, double diameter) {
  const double r = diameter / 2.0;
  return rectangle(centre - Vec2{r, r}, centre + Vec2{r, r}, r);
}

Loop reversed(Loop loop) {
  std::ranges::reverse(loop);
  return loop;
}

Loop moved(Loop loop, Vec2 by) {
  for (Corner& corner : loop) corner.at = corner.at + by;
  return loop;
}

std::vector<Side> sides(const Loop& loop) {
  const Loop corners = without_repeats(loop);
  const std::size_t n = corners.size();
  if (n < 2) return {};
  std::vector<Side> result;
  result.reserve(2 * n);
  const auto add = [&](Side side) {
    if (length(side.b - side.a) <= kSame) return;
    if (!result.empty()) side.a = result.back().b;
    result.push_back(side);
  };
  for (std::size_t i = 0; i < n; ++i) {
    const Corner& corner = corners[i];
    const Rounding r = rounding(corners, i);
    if (r.reach > 0.0) {
      const Vec2 a = corner.at - r.in * r.reach;
      const Vec2 centre = a + perpendicular(r.in) * (r.left ? corner.radius : -corner.radius);
      add({a, corner.at + r.out * r.reach, true, centre, corner.radius, r.left});
    }
    const std::size_t next = (i + 1) % n;
    const Rounding after = rounding(corners, next);
    add({corner.at + r.out * r.reach, corners[next].at - after.in * after.reach});
  }
  if (!result.empty()) result.back().b = result.front().a;
  return result;
}

AreaMoments moments(const Region& region) {
  if (region.outer.empty()) return {};
  // About a point of the outline first: far from the origin the terms would cancel badly.
  const Vec2 o = region.outer.front().at;
  AreaMoments m = loop_moments(sides(region.outer), {}, o);
  for (const Loop& hole : region.holes) m = loop_moments(sides(hole), m, o);
  return {m.area,
          m.x + m.area * o.x,
          m.y + m.area * o.y,
          m.xx + 2.0 * o.x * m.x + m.area * o.x * o.x,
          m.yy + 2.0 * o.y * m.y + m.area * o.y * o.y,
          m.xy + o.x * m.y + o.y * m.x + m.area * o.x * o.y};
}

double area(const Region& region) {
  return moments(region).area;
}

double perimeter(const Loop& loop) {
  double sum = 0.0;
  for (const Side& side : sides(loop))
    sum += side.arc ? side.radius * detail::sweep(side) : length(side.b - side.a);
  return sum;
}

double reach(const Loop& loop, Vec2 direction) {
  double most = -std::numeric_limits<double>::infinity();
  for (const Side& side : sides(loop)) most = std::max(most, detail::support(side, direction));
  return most;
}

std::string fault(const Region& region) {
  std::vector<const Loop*> loops{&region.outer};
  for (const Loop& hole : region.holes) loops.push_back(&hole);

  for (const Loop* loop : loops)
    if (!finite(*loop)) return "shape.not_finite";
  for (const Loop* loop : loops)
    if (without_repeats(*loop).size() < 3) return "shape.few_corners";
  for (const Loop* loop : loops)
    if (!arcs_fit(*loop)) return "shape.radius_too_large";

  std::vector<std::vector<Side>> outlines;
  for (const Loop* loop : loops) outlines.push_back(sides(*loop));
  for (std::size_t i = 0; i < outlines.size(); ++i) {
    if (crosses_itself(outlines[i])) return "shape.crosses_itself";
    for (std::size_t j = 0; j < i; ++j) {
      if (cross_each_other(outlines[i], outlines[j])) return "shape.crosses_itself";
      const bool inside = detail::winding(outlines[j], outlines[i].front().a) != 0;
      const bool around = detail::winding(outlines[i], outlines[j].front().a) != 0;
      if (j == 0 ? !inside : inside || around) return "shape.crosses_itself";
    }
  }
  for (std::size_t i = 0; i < outlines.size(); ++i) {
    const double signed_area = loop_moments(outlines[i], {}, outlines[i].front().a).area;
    if (i == 0 ? signed_area <= 0.0 : signed_area >= 0.0) return "shape.wrong_direction";
  }
  return {};
}

}  // namespace ribbay
