#include "van_lines.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace ribbay::detail {

VanLine floor_outline(const Vehicle& van) {
  VanLine line;
  for (const Station& s : van.stations) {
    if (!s.left.empty()) line.push_back({s.x, s.left.front().half_width});
  }
  for (auto s = van.stations.rbegin(); s != van.stations.rend(); ++s) {
    if (!s->right.empty()) line.push_back({s->x, -s->right.front().half_width});
  }
  if (!line.empty()) line.push_back(line.front());
  return line;
}

VanLine side_outline(const Vehicle& van) {
  VanLine line;
  double floor = 0.0;
  for (const Station& s : van.stations) {
    if (!s.left.empty()) floor = s.left.front().z;
    line.push_back({s.x, floor});
  }
  for (auto s = van.stations.rbegin(); s != van.stations.rend(); ++s) {
    double roof = -std::numeric_limits<double>::infinity();
    for (const WallPoint& p : s->left) roof = std::max(roof, p.z);
    for (const WallPoint& p : s->right) roof = std::max(roof, p.z);
    if (std::isfinite(roof)) line.push_back({s->x, roof});
  }
  if (!line.empty()) line.push_back(line.front());
  return line;
}

VanLine rectangle_line(Vec2 lo, Vec2 hi) {
  return {lo, {hi.x, lo.y}, hi, {lo.x, hi.y}, lo};
}

void draw_line(Drawing& d, const ViewPlace& place, const VanLine& line, Pen pen) {
  for (std::size_t i = 1; i < line.size(); ++i) {
    add_line(d, {place.x.paper(line[i - 1].x), place.y.paper(line[i - 1].y)},
             {place.x.paper(line[i].x), place.y.paper(line[i].y)}, pen);
  }
}

void draw_arches(Drawing& d, const ViewPlace& place, const Vehicle& van) {
  double outer = 0.0;
  for (const Vec2 p : floor_outline(van)) outer = std::max(outer, std::abs(p.y));
  for (const WheelArch& arch : van.arches) {
    const double sign = arch.side == VanSide::left ? 1.0 : -1.0;
    const double y0 = std::min(sign * arch.half_width, sign * outer);
    const double y1 = std::max(sign * arch.half_width, sign * outer);
    draw_line(d, place, rectangle_line({arch.from, y0}, {arch.to, y1}), kGroup35.context());
  }
}

void add_forward(Drawing& d, const Rect& plan) {
  const Vec2 tip = plan.hi - Vec2{6.0, 8.0};
  const Rect box{tip - Vec2{24.0, 1.5}, tip + Vec2{1.0, 5.0}};
  if (!is_free(d, box, 1.0)) return;
  add_line(d, tip - Vec2{22.0, 0.0}, tip, kGroup35.thin());
  add_arrow(d, tip, {1, 0});
  add_text(d, "FORWARD", tip + Vec2{-12.0, 1.2}, 2.5, Align::centre);
}

}  // namespace ribbay::detail
