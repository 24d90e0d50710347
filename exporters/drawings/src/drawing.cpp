#include "drawings/drawing.hpp"

#include "drawings/lettering.hpp"
#include "obstacles.hpp"

#include <numbers>

namespace ribbay {

namespace {

// Arrow heads closed and filled, 15 degrees, as long as letters of 2.5 are high: ISO 129-1 annex A
// (from memory).
constexpr double kArrowLength = 2.5;
constexpr double kArrowHalfWidth = 0.33;

}  // namespace

bool crosses(Vec2 a, Vec2 b, const Rect& rect) {
  double from = 0.0;
  double to = 1.0;
  const Vec2 d = b - a;
  const auto cut = [&](double slope, double room) {  // keeps slope * t < room
    if (std::abs(slope) < 1e-12) return room > 0.0;
    if (slope > 0.0) {
      to = std::min(to, room / slope);
    } else {
      from = std::max(from, room / slope);
    }
    return true;
  };
  return cut(d.x, rect.hi.x - a.x) && cut(-d.x, a.x - rect.lo.x) && cut(d.y, rect.hi.y - a.y) &&
         cut(-d.y, a.y - rect.lo.y) && from < to;
}

std::vector<Vec2> InkArc::polyline() const {
  const int steps = std::max(4, static_cast<int>((to - from) / std::numbers::pi * 24.0));
  std::vector<Vec2> points;
  for (int i = 0; i <= steps; ++i) points.push_back(point(from + (to - from) * i / steps));
  return points;
}

Rect extent(const InkText& text) {
  const TextExtent e = text_extent(text.text, text.height);
  const double shift = text.align == Align::left    ? 0.0
                       : text.align == Align::right ? e.right
                                                    : e.right / 2;
  if (text.turned) {
    return {{text.at.x - e.top, text.at.y + e.left - shift},
            {text.at.x - e.bottom, text.at.y + e.right - shift}};
  }
  return {{text.at.x + e.left - shift, text.at.y + e.bottom},
          {text.at.x + e.right - shift, text.at.y + e.top}};
}

namespace {

double interpolate(const std::vector<std::pair<double, double>>& knots, double x, bool inverse) {
  const auto in = [&](std::size_t i) { return inverse ? knots[i].second : knots[i].first; };
  const auto out = [&](std::size_t i) { return inverse ? knots[i].first : knots[i].second; };
  std::size_t i = 1;
  while (i + 1 < knots.size() && x > in(i)) ++i;
  return out(i - 1) + (x - in(i - 1)) * (out(i) - out(i - 1)) / (in(i)-in(i - 1));
}

}  // namespace

double AxisMap::paper(double model) const {
  return interpolate(knots, model, false);
}
double AxisMap::model(double paper) const {
  return interpolate(knots, paper, true);
}

AxisMap axis_map(double model_origin, double paper_origin, double scale) {
  return {{{model_origin, paper_origin}, {model_origin + 1000.0, paper_origin + 1000.0 * scale}}};
}

void add_line(Drawing& drawing, Vec2 a, Vec2 b, Pen pen) {
  drawing.lines.push_back({a, b, pen});
}

void add_rect(Drawing& drawing, const Rect& rect, Pen pen) {
  const Vec2 corners[] = {rect.lo, {rect.hi.x, rect.lo.y}, rect.hi, {rect.lo.x, rect.hi.y}};
  for (int i = 0; i < 4; ++i) add_line(drawing, corners[i], corners[(i + 1) % 4], pen);
}

void add_circle(Drawing& drawing, Vec2 centre, double radius, Pen pen) {
  drawing.arcs.push_back({centre, {radius, 0}, {0, radius}, 0.0, 2.0 * std::numbers::pi, pen});
}

void add_arrow(Drawing& drawing, Vec2 tip, Vec2 direction) {
  const Vec2 base = tip - direction * kArrowLength;
  const Vec2 side = perpendicular(direction) * kArrowHalfWidth;
  drawing.fills.push_back({{tip, base + side, base - side}});
}

void add_dot(Drawing& drawing, Vec2 at, double radius) {
  InkFill dot;
  for (int i = 0; i < 12; ++i) {
    const double t = 2.0 * std::numbers::pi * i / 12.0;
    dot.corners.push_back(at + Vec2{std::cos(t), std::sin(t)} * radius);
  }
  drawing.fills.push_back(std::move(dot));
}

void add_text(Drawing& drawing, std::string text, Vec2 at, double height, Align align,
              bool turned) {
  if (!text.empty()) drawing.texts.push_back({std::move(text), at, height, align, turned});
}

bool is_free(const Drawing& drawing, const Rect& rect, double clearance) {
  return detail::Obstacles(drawing).free(rect, clearance);
}

bool is_clear(const Drawing& drawing, Vec2 a, Vec2 b, double clearance) {
  const Rect line =
      grown({{std::min(a.x, b.x), std::min(a.y, b.y)}, {std::max(a.x, b.x), std::max(a.y, b.y)}},
            clearance);
  for (const Rect& r : drawing.reserved) {
    if (crosses(a, b, grown(r, clearance))) return false;
  }
  for (const InkText& t : drawing.texts) {
    if (detail::may_reach(t, line) && crosses(a, b, grown(extent(t), clearance))) return false;
  }
  return true;
}

}  // namespace ribbay
