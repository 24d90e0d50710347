#include "paths.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ribbay::detail {

namespace {

Vec2 flipped(Vec2 p) {
  return {p.x, -p.y};
}

}  // namespace

void bend(cairo_t* context, Vec2 centre, Vec2 u, Vec2 v, double from, double to) {
  constexpr double slack = 1e-6;  // a quarter computed a little long is one curve all the same
  const int curves =
      std::max(1, static_cast<int>(std::ceil(std::abs(to - from) * 2.0 / std::numbers::pi - slack)));
  const double step = (to - from) / curves;
  const double reach = 4.0 / 3.0 * std::tan(step / 4.0);
  const auto at = [&](double t) { return centre + u * std::cos(t) + v * std::sin(t); };
  const auto ahead = [&](double t) { return (v * std::cos(t) - u * std::sin(t)) * reach; };
  for (int i = 0; i < curves; ++i) {
    const double t0 = from + step * i;
    const double t1 = i + 1 == curves ? to : t0 + step;
    const Vec2 a = at(t0) + ahead(t0);
    const Vec2 b = at(t1) - ahead(t1);
    const Vec2 end = at(t1);
    cairo_curve_to(context, a.x, a.y, b.x, b.y, end.x, end.y);
  }
}

void add_stroke(cairo_t* to, const PenStroke& stroke) {
  Vec2 from = stroke.start;
  cairo_move_to(to, from.x, -from.y);
  for (const PenStep& step : stroke.steps) {
    if (step.radius > 0.0) {
      const Vec2 centre = arc_centre(from, step);
      const double start = std::atan2(from.y - centre.y, from.x - centre.x);
      double by = std::atan2(step.to.y - centre.y, step.to.x - centre.x) - start;
      if (step.clockwise && by > 0.0) by -= 2.0 * std::numbers::pi;
      if (!step.clockwise && by < 0.0) by += 2.0 * std::numbers::pi;
      bend(to, flipped(centre), {step.radius, 0.0}, {0.0, -step.radius}, start, start + by);
    } else {
      cairo_line_to(to, step.to.x, -step.to.y);
    }
    from = step.to;
  }
}

}  // namespace ribbay::detail
