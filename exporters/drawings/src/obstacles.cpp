#include "obstacles.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

/// crosses(), with a quick no.
bool reaches(Vec2 a, Vec2 b, const Rect& rect) {
  if (std::max(a.x, b.x) <= rect.lo.x || std::min(a.x, b.x) >= rect.hi.x ||
      std::max(a.y, b.y) <= rect.lo.y || std::min(a.y, b.y) >= rect.hi.y)
    return false;
  return crosses(a, b, rect);
}

}  // namespace

bool may_reach(const InkText& text, const Rect& rect) {
  const double reach = (static_cast<double>(text.text.size()) + 2.0) * 1.1 * text.height;
  return overlap(rect, grown({text.at, text.at}, reach));
}

Obstacles::Obstacles(const Drawing& drawing)
    : drawing_(drawing), texts_(drawing.texts.size()), arcs_(drawing.arcs.size()) {}

const Rect& Obstacles::text_box(std::size_t text) {
  if (!texts_[text]) texts_[text] = extent(drawing_.texts[text]);
  return *texts_[text];
}

const std::vector<Vec2>& Obstacles::arc_points(std::size_t arc) {
  if (arcs_[arc].empty()) arcs_[arc] = drawing_.arcs[arc].polyline();
  return arcs_[arc];
}

bool Obstacles::free(const Rect& rect, double clearance) {
  const Rect wide = grown(rect, clearance);
  if (!inside(wide, drawing_.frame)) return false;
  for (const Rect& r : drawing_.reserved) {
    if (overlap(wide, r)) return false;
  }
  for (std::size_t i = 0; i < texts_.size(); ++i) {
    if (may_reach(drawing_.texts[i], wide) && overlap(wide, text_box(i))) return false;
  }
  for (const InkLine& l : drawing_.lines) {
    if (reaches(l.a, l.b, grown(wide, l.pen.width / 2))) return false;
  }
  for (std::size_t i = 0; i < arcs_.size(); ++i) {
    const InkArc& arc = drawing_.arcs[i];
    const double reach = length(arc.u) + length(arc.v);
    if (!overlap(wide, {arc.centre - Vec2{reach, reach}, arc.centre + Vec2{reach, reach}}))
      continue;
    const std::vector<Vec2>& points = arc_points(i);
    for (std::size_t k = 1; k < points.size(); ++k) {
      if (reaches(points[k - 1], points[k], wide)) return false;
    }
  }
  for (const InkFill& fill : drawing_.fills) {
    for (std::size_t i = 0; i < fill.corners.size(); ++i) {
      if (reaches(fill.corners[i], fill.corners[(i + 1) % fill.corners.size()], wide)) return false;
    }
  }
  return true;
}

}  // namespace ribbay::detail
