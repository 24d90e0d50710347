#include "side.hpp"

#include "base/tolerance.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {
namespace {

/// Sum of (-1)^k factor(k) x^(2k+1) / (2k+1)! from k = `first`: for small x it avoids the
/// cancellation that the closed forms of thin circular segments suffer from.
template <class Factor>
double odd_series(double x, int first, Factor factor) {
  double term = x;
  double sum = 0.0;
  for (int k = 0; k < 14; ++k) {
    if (k >= first) sum += (k % 2 == 0 ? term : -term) * factor(k);
    term *= x * x / ((2.0 * k + 2.0) * (2.0 * k + 3.0));
  }
  return sum;
}

/// x - sin x
double x_less_sin(double x) {
  if (x > 1.0) return x - std::sin(x);
  return -odd_series(x, 1, [](int) { return 1.0; });
}

/// 3/2 x - 2 sin x + 1/4 sin 2x
double across_factor(double x) {
  if (x > 1.0) return 1.5 * x - 2.0 * std::sin(x) + 0.25 * std::sin(2.0 * x);
  return odd_series(x, 2, [](int k) { return std::ldexp(1.0, 2 * k - 1) - 2.0; });
}

AreaMoments triangle_moments(Vec2 a, Vec2 b) {
  const double c = cross(a, b);
  return {c / 2.0,
          c / 6.0 * (a.x + b.x),
          c / 6.0 * (a.y + b.y),
          c / 12.0 * (a.x * a.x + a.x * b.x + b.x * b.x),
          c / 12.0 * (a.y * a.y + a.y * b.y + b.y * b.y),
          c / 24.0 * (a.x * b.y + 2.0 * a.x * a.y + 2.0 * b.x * b.y + b.x * a.y)};
}

/// The circular segment between an arc and its chord, about the origin, positive. With the half
/// angle h, u the axis of symmetry and v across it, about the centre of the circle: area r^2 (h -
/// sin h cos h), integral of u 2/3 r^3 sin^3 h, of u^2 r^4/4 (h - sin h cos h + 2 sin^3 h cos h),
/// of v^2 r^4/12 (3h - 3 sin h cos h - 2 sin^3 h cos h).
AreaMoments segment_moments(const Side& side) {
  const double angle = sweep(side);
  const double r2 = side.radius * side.radius;
  const double sin_half = std::sin(angle / 2.0);
  const double sin3 = sin_half * sin_half * sin_half;
  const double disc = x_less_sin(angle) / 2.0;
  const double area = r2 * disc;
  const double first = 2.0 / 3.0 * r2 * side.radius * sin3;
  const double along = r2 * r2 / 4.0 * (disc + 2.0 * sin3 * std::cos(angle / 2.0));
  const double across = r2 * r2 / 12.0 * across_factor(angle);
  const Vec2 c = side.centre;
  const Vec2 u = (point_at(side, 0.5) - c) * (1.0 / side.radius);
  const Vec2 v = perpendicular(u);
  return {
      area,
      area * c.x + first * u.x,
      area * c.y + first * u.y,
      area * c.x * c.x + 2.0 * first * c.x * u.x + along * u.x * u.x + across * v.x * v.x,
      area * c.y * c.y + 2.0 * first * c.y * u.y + along * u.y * u.y + across * v.y * v.y,
      area * c.x * c.y + first * (c.x * u.y + c.y * u.x) + along * u.x * u.y + across * v.x * v.y};
}

/// Whether `p`, a point of the circle, lies on the arc.
bool within_sweep(const Side& arc, Vec2 p) {
  const Vec2 d = p - arc.centre;
  const double turn = arc.counter_clockwise ? 1.0 : -1.0;
  const double slack = kSame * arc.radius;
  return turn * cross(arc.a - arc.centre, d) >= -slack &&
         turn * cross(d, arc.b - arc.centre) >= -slack &&
         dot(d, point_at(arc, 0.5) - arc.centre) >= -slack;
}

bool lies_on(const Side& side, Vec2 p) {
  if (side.arc)
    return std::abs(length(p - side.centre) - side.radius) <= kSame && within_sweep(side, p);
  const Vec2 d = side.b - side.a;
  const double t = std::clamp(dot(p - side.a, d) / dot(d, d), 0.0, 1.0);
  return length(side.a + d * t - p) <= kSame;
}

void add_crossings_of_lines(const Side& s, const Side& t, std::vector<Vec2>& points) {
  const Vec2 d = s.b - s.a;
  const Vec2 e = t.b - t.a;
  const double det = cross(d, e);
  if (std::abs(det) < 1e-12 * length(d) * length(e)) return;
  const Vec2 p = s.a + d * (cross(t.a - s.a, e) / det);
  if (lies_on(s, p) && lies_on(t, p)) points.push_back(p);
}

void add_crossings_of_line_and_arc(const Side& line, const Side& arc, std::vector<Vec2>& points) {
  const Vec2 d = normalized(line.b - line.a);
  const Vec2 foot = line.a + d * dot(arc.centre - line.a, d);
  const double distance = length(arc.centre - foot);
  if (distance > arc.radius + kSame) return;
  const double half = std::sqrt(std::max(0.0, arc.radius * arc.radius - distance * distance));
  for (const Vec2 p : {foot - d * half, foot + d * half})
    if (lies_on(line, p) && within_sweep(arc, p)) points.push_back(p);
}

void add_crossings_of_arcs(const Side& s, const Side& t, std::vector<Vec2>& points) {
  const Vec2 d = t.centre - s.centre;
  const double distance = length(d);
  if (distance > s.radius + t.radius + kSame) return;
  if (distance < std::abs(s.radius - t.radius) - kSame || distance <= kSame) return;
  const double along =
      (distance * distance + s.radius * s.radius - t.radius * t.radius) / (2.0 * distance);
  const double half = std::sqrt(std::max(0.0, s.radius * s.radius - along * along));
  const Vec2 u = d * (1.0 / distance);
  for (const double side : {-half, half}) {
    const Vec2 p = s.centre + u * along + perpendicular(u) * side;
    if (within_sweep(s, p) && within_sweep(t, p)) points.push_back(p);
  }
}

}  // namespace

Rect bounds(const Side& side) {
  return {{-support(side, {-1, 0}), -support(side, {0, -1})},
          {support(side, {1, 0}), support(side, {0, 1})}};
}

Rect bounds(const std::vector<Side>& loop) {
  if (loop.empty()) return {};
  Rect all = bounds(loop.front());
  for (const Side& side : loop) {
    const Rect one = bounds(side);
    all.lo = {std::min(all.lo.x, one.lo.x), std::min(all.lo.y, one.lo.y)};
    all.hi = {std::max(all.hi.x, one.hi.x), std::max(all.hi.y, one.hi.y)};
  }
  return all;
}

double sweep(const Side& side) {
  if (!side.arc) return 0.0;
  const Vec2 a = side.a - side.centre;
  const Vec2 b = side.b - side.centre;
  return std::abs(std::atan2(cross(a, b), dot(a, b)));
}

Vec2 point_at(const Side& side, double fraction) {
  if (!side.arc) return side.a + (side.b - side.a) * fraction;
  const double angle = sweep(side) * fraction * (side.counter_clockwise ? 1.0 : -1.0);
  const Vec2 spoke = side.a - side.centre;
  return side.centre + spoke * std::cos(angle) + perpendicular(spoke) * std::sin(angle);
}

Vec2 tangent(const Side& side, Vec2 p) {
  if (!side.arc) return normalized(side.b - side.a);
  const Vec2 spoke = normalized(p - side.centre);
  return side.counter_clockwise ? perpendicular(spoke) : perpendicular(spoke) * -1.0;
}

double position(const Side& side, Vec2 p) {
  if (!side.arc) return dot(p - side.a, side.b - side.a);
  const Vec2 a = side.a - side.centre;
  const Vec2 d = p - side.centre;
  return std::atan2(side.counter_clockwise ? cross(a, d) : cross(d, a), dot(a, d));
}

double support(const Side& side, Vec2 direction) {
  const double ends = std::max(dot(side.a, direction), dot(side.b, direction));
  if (!side.arc) return ends;
  const double size = length(direction);
  if (size == 0.0) return ends;
  const Vec2 top = side.centre + direction * (side.radius / size);
  return within_sweep(side, top) ? std::max(ends, dot(top, direction)) : ends;
}

AreaMoments moments(const Side& side) {
  AreaMoments sum = triangle_moments(side.a, side.b);
  if (!side.arc) return sum;
  const AreaMoments bulge = segment_moments(side);
  const double sign = side.counter_clockwise ? 1.0 : -1.0;
  sum.area += sign * bulge.area;
  sum.x += sign * bulge.x;
  sum.y += sign * bulge.y;
  sum.xx += sign * bulge.xx;
  sum.yy += sign * bulge.yy;
  sum.xy += sign * bulge.xy;
  return sum;
}

void add_contacts(const Side& s, const Side& t, std::vector<Vec2>& points) {
  for (const Vec2 end : {s.a, s.b})
    if (lies_on(t, end)) points.push_back(end);
  for (const Vec2 end : {t.a, t.b})
    if (lies_on(s, end)) points.push_back(end);
  if (s.arc && t.arc) add_crossings_of_arcs(s, t, points);
  if (s.arc && !t.arc) add_crossings_of_line_and_arc(t, s, points);
  if (!s.arc && t.arc) add_crossings_of_line_and_arc(s, t, points);
  if (!s.arc && !t.arc) add_crossings_of_lines(s, t, points);
}

int winding(const std::vector<Side>& loop, Vec2 p) {
  int turns = 0;
  for (const Side& side : loop) {
    const Vec2 a = side.a;
    const Vec2 b = side.b;
    const double c = cross(b - a, p - a);
    if (a.y <= p.y && p.y < b.y && c > 0.0) ++turns;
    if (b.y <= p.y && p.y < a.y && c < 0.0) --turns;
    if (!side.arc) continue;
    // The chord has been counted; a point between chord and arc makes the difference. A point on
    // the chord counts for the same side as it does above.
    const bool right = c < 0.0 || (c == 0.0 && (b.y > a.y || (b.y == a.y && b.x < a.x)));
    if (right != side.counter_clockwise) continue;
    const Vec2 spoke = p - side.centre;
    if (dot(spoke, spoke) < side.radius * side.radius) turns += side.counter_clockwise ? 1 : -1;
  }
  return turns;
}

}  // namespace ribbay::detail
