#pragma once

#include "drawings/drawing.hpp"

#include <utility>
#include <vector>

namespace ribbay {

/// Stretches of ink along a line of `size`, mm: the gaps of the pen's line type are stretched so that
/// it starts and ends with a dash.
std::vector<std::pair<double, double>> dashes(const Pen& pen, double size);

/// Calls `visit(a, b)` with the ends of each stretch of ink of a line, on paper.
template <class Visit>
void each_dash(const InkLine& line, Visit&& visit) {
  const Vec2 d = line.b - line.a;
  const double size = length(d);
  if (size <= 0.0) return;
  for (const auto& [from, to] : dashes(line.pen, size))
    visit(line.a + d * (from / size), line.a + d * (to / size));
}

/// Calls `visit(from, to)` with the angles of each stretch of ink of an arc.
template <class Visit>
void each_dash(const InkArc& arc, Visit&& visit) {
  const double size = (arc.to - arc.from) * (length(arc.u) + length(arc.v)) / 2.0;
  if (size <= 0.0) return;
  for (const auto& [from, to] : dashes(arc.pen, size))
    visit(arc.from + (arc.to - arc.from) * from / size, arc.from + (arc.to - arc.from) * to / size);
}

}  // namespace ribbay
