#include "detail_circle.hpp"

#include "drawings/hatching.hpp"
#include "drawings/views.hpp"

#include <cmath>
#include <numbers>

namespace ribbay::detail {

namespace {

constexpr double kLetters = 3.5;

/// What lies of a-b within the circle.
bool clip(Vec2& a, Vec2& b, Vec2 centre, double radius) {
  const Vec2 d = b - a;
  const Vec2 m = a - centre;
  const double square = dot(d, d);
  if (square <= 0.0) return false;
  const double half = dot(d, m) / square;
  const double root = half * half - (dot(m, m) - radius * radius) / square;
  if (root <= 0.0) return false;
  const double from = std::max(0.0, -half - std::sqrt(root));
  const double to = std::min(1.0, -half + std::sqrt(root));
  if (to <= from) return false;
  b = a + d * to;
  a = a + d * from;
  return true;
}

/// An outline within the circle: its corners there, and the circle's own.
std::vector<Vec2> clipped(std::vector<Vec2> loop, Vec2 centre, double radius) {
  constexpr int sides = 72;
  for (int i = 0; i < sides && !loop.empty(); ++i) {
    const double t = 2.0 * std::numbers::pi * i / sides;
    const Vec2 out{std::cos(t), std::sin(t)};
    const auto over = [&](Vec2 p) { return dot(out, p - centre) - radius; };
    std::vector<Vec2> kept;
    for (std::size_t k = 0; k < loop.size(); ++k) {
      const Vec2 a = loop[k];
      const Vec2 b = loop[(k + 1) % loop.size()];
      if (over(a) <= 0.0) kept.push_back(a);
      if ((over(a) <= 0.0) != (over(b) <= 0.0))
        kept.push_back(a + (b - a) * (over(a) / (over(a) - over(b))));
    }
    loop = std::move(kept);
  }
  return loop;
}

}  // namespace

void add_within_circle(Drawing& d, const Drawing& whole, Vec2 middle, double radius, int view) {
  const auto first = static_cast<int>(d.owners.size());
  d.owners.insert(d.owners.end(), whole.owners.begin(), whole.owners.end());
  const auto add = [&](InkLine line) {
    if (!clip(line.a, line.b, middle, radius)) return;
    if (line.owner >= 0) line.owner += first;
    d.lines.push_back(line);
  };
  for (const InkLine& line : whole.lines) add(line);
  for (const InkArc& arc : whole.arcs) {
    const auto points = arc.polyline();
    for (std::size_t i = 1; i < points.size(); ++i)
      add({points[i - 1], points[i], arc.pen, arc.owner, false, arc.view});
  }
  for (const auto& tone : whole.tones) {
    Outlines kept;
    for (const auto& loop : tone) {
      auto part = clipped(loop, middle, radius);
      if (part.size() > 2) kept.push_back(std::move(part));
    }
    if (!kept.empty()) d.tones.push_back(std::move(kept));
  }
  d.arcs.push_back(
      {middle, {radius, 0}, {0, radius}, 0.0, 2.0 * std::numbers::pi, kGroup35.thin(), -1, view});
}

bool add_detail_mark(Drawing& d, Vec2 at, double radius, const std::string& letter) {
  add_circle(d, at, radius, kGroup35.thin());
  // At the circle where nothing is drawn, else beside a leader.
  for (int step = 0; step < 24; ++step) {
    const double t = std::numbers::pi / 4 + step * 2.0 * std::numbers::pi / 24;
    const Vec2 centre = at + Vec2{std::cos(t), std::sin(t)} * (radius + 3.2);
    const InkText text{letter, centre - Vec2{0, kLetters / 2}, kLetters, Align::centre};
    if (!is_free(d, extent(text), 0.6)) continue;
    d.texts.push_back(text);
    return true;
  }
  return add_callout(d, at + Vec2{std::sqrt(0.5), std::sqrt(0.5)} * radius, letter, kLetters,
                     kGroup35.thin(), {grown({at, at}, radius)});
}

}  // namespace ribbay::detail
