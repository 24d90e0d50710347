#include "drawings/audit.hpp"

#include "drawings/lettering.hpp"

#include <charconv>
#include <iterator>
#include <limits>
#include <map>
#include <string>

namespace ribbay {

namespace {

/// Half of the last printed place: 0.1 mm, or 1/64 in. A hair is added for binary rounding.
double half_place(LengthStyle show) {
  return (show == LengthStyle::millimetres ? 0.05 : 25.4 / 128.0) + 1e-6;
}

/// The ink of strokes and fills, as straight pieces with half their width.
struct Piece {
  Vec2 a;
  Vec2 b;
  double half_width = 0.0;
};

std::vector<Piece> pieces_of(const Drawing& drawing) {
  std::vector<Piece> out;
  for (const InkLine& l : drawing.lines) out.push_back({l.a, l.b, l.pen.width / 2});
  for (const InkArc& arc : drawing.arcs) {
    const auto points = arc.polyline();
    for (std::size_t i = 1; i < points.size(); ++i)
      out.push_back({points[i - 1], points[i], arc.pen.width / 2});
  }
  for (const InkFill& fill : drawing.fills) {
    for (std::size_t i = 0; i < fill.corners.size(); ++i) {
      out.push_back({fill.corners[i], fill.corners[(i + 1) % fill.corners.size()], 0.0});
    }
  }
  return out;
}

void check_frame(const Drawing& drawing, std::vector<Fault>& faults) {
  const Rect page{{0, 0}, {drawing.width, drawing.height}};
  const Rect frame = grown(drawing.frame, 0.36);  // ink may lie on the frame line itself
  const auto check = [&](Vec2 p, bool border, const std::string& what) {
    if (!inside({p, p}, border ? page : frame))
      faults.push_back({FaultKind::outside_frame, p, what});
  };
  for (const InkText& t : drawing.texts) {
    const Rect e = extent(t);
    check(e.lo, t.border, t.text);
    check(e.hi, t.border, t.text);
  }
  for (const InkLine& l : drawing.lines) {
    check(l.a, l.border, "line");
    check(l.b, l.border, "line");
  }
  for (const InkArc& arc : drawing.arcs) {
    for (const Vec2 p : arc.polyline()) check(p, false, "arc");
  }
  for (const InkFill& fill : drawing.fills) {
    for (const Vec2 p : fill.corners) check(p, fill.border, "fill");
  }
}

/// Two pictures may not even stand in each other's blank parts: who reads one would take the other
/// for its inside.
void check_views(const Drawing& drawing, std::vector<Fault>& faults) {
  std::map<int, Rect> extents;
  const auto add = [&](int view, Vec2 p) {
    if (view < 0) return;
    Rect& r = extents.try_emplace(view, Rect{p, p}).first->second;
    r = {{std::min(r.lo.x, p.x), std::min(r.lo.y, p.y)},
         {std::max(r.hi.x, p.x), std::max(r.hi.y, p.y)}};
  };
  for (const InkLine& l : drawing.lines) {
    add(l.view, l.a);
    add(l.view, l.b);
  }
  for (const InkArc& arc : drawing.arcs) {
    for (const Vec2 p : arc.polyline()) add(arc.view, p);
  }
  for (auto a = extents.begin(); a != extents.end(); ++a) {
    for (auto b = std::next(a); b != extents.end(); ++b) {
      if (overlap(a->second, b->second)) {
        faults.push_back(
            {FaultKind::view_on_view, b->second.centre(),
             "views " + std::to_string(a->first) + " and " + std::to_string(b->first)});
      }
    }
  }
}

}  // namespace

double printed_length(std::string_view text, LengthStyle show) {
  const double none = std::numeric_limits<double>::quiet_NaN();
  if (text.size() > 2 && text.front() == '(' && text.back() == ')')
    text = text.substr(1, text.size() - 2);
  const auto number = [&](std::string_view part) {
    double value = 0.0;
    const auto end = std::from_chars(part.data(), part.data() + part.size(), value);
    return end.ec == std::errc() && end.ptr == part.data() + part.size() ? value : none;
  };
  if (show == LengthStyle::millimetres) return number(text);
  double whole = 0.0;
  if (const auto space = text.find(' '); space != std::string_view::npos) {
    whole = number(text.substr(0, space));
    text = text.substr(space + 1);
  }
  const auto slash = text.find('/');
  if (slash == std::string_view::npos) return (whole + number(text)) * 25.4;
  return (whole + number(text.substr(0, slash)) / number(text.substr(slash + 1))) * 25.4;
}

std::vector<Fault> audit(const Drawing& drawing) {
  std::vector<Fault> faults;
  const auto pieces = pieces_of(drawing);
  std::vector<Rect> extents;
  for (const InkText& text : drawing.texts) extents.push_back(extent(text));
  for (std::size_t i = 0; i < drawing.texts.size(); ++i) {
    const InkText& text = drawing.texts[i];
    const Rect e = extents[i];
    if (!can_letter(text.text))
      faults.push_back({FaultKind::unknown_letter, e.centre(), text.text});
    for (std::size_t j = i + 1; j < drawing.texts.size(); ++j) {
      if (overlap(e, extents[j])) {
        faults.push_back(
            {FaultKind::text_on_text, e.centre(), text.text + " / " + drawing.texts[j].text});
      }
    }
    for (const Piece& p : pieces) {
      const Rect wide = grown(e, p.half_width);
      if (std::max(p.a.x, p.b.x) < wide.lo.x || std::min(p.a.x, p.b.x) > wide.hi.x) continue;
      if (crosses(p.a, p.b, wide))
        faults.push_back({FaultKind::text_on_line, e.centre(), text.text});
    }
  }
  check_frame(drawing, faults);
  check_views(drawing, faults);
  for (const InkDimension& d : drawing.dimensions) {
    const double drawn = std::abs(d.map.model(d.to) - d.map.model(d.from));
    const double says = printed_length(d.text, d.show);
    if (!(std::abs(says - drawn) <= half_place(d.show))) {  // also when it is no number
      faults.push_back({FaultKind::wrong_value, {d.from, d.to}, d.text});
    }
  }
  return faults;
}

}  // namespace ribbay
