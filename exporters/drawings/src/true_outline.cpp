#include "drawings/true_outline.hpp"

#include "base/tolerance.hpp"
#include "base/wording.hpp"
#include "shape/facets.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace ribbay {

namespace {

constexpr double kDrilled = 30.0;  ///< up to this radius a corner is drilled or routed, mm
constexpr double kStep = 100.0;    ///< between ordinates, mm
constexpr double kTurn = 2.0 * std::numbers::pi;

bool curved(const Loop& loop) {
  const std::vector<Side> all = sides(loop);
  const bool round = std::ranges::all_of(all, [&](const Side& side) {
    return side.arc && length(side.centre - all.front().centre) < kSame;
  });
  if (round) return false;
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (all[i].arc && all[i].radius > kDrilled) return true;
    const Side& next = all[(i + 1) % all.size()];
    if (!all[i].arc && !next.arc && slanted(all[i].a, all[i].b) && slanted(next.a, next.b))
      return true;
  }
  return false;
}

bool is_through(const Cut& cut, const Prism& prism) {
  return cut.from <= kSame && cut.to >= prism.height - kSame;
}

/// Where the line `axis` = value meets an arc, as parameters within it.
void add_meetings(const DrawnArc& arc, bool x, double value, std::vector<double>& out) {
  const double a = x ? arc.u.x : arc.u.y;
  const double b = x ? arc.v.x : arc.v.y;
  const double off = value - (x ? arc.centre.x : arc.centre.y);
  const double reach = std::hypot(a, b);
  if (reach <= 0.0 || std::abs(off) > reach) return;
  const double middle = std::atan2(b, a);
  const double apart = std::acos(std::clamp(off / reach, -1.0, 1.0));
  for (const double t : {middle - apart, middle + apart}) {
    const double play = kSame / reach;  // at its ends
    for (double at = t + kTurn * std::ceil((arc.from - play - t) / kTurn); at <= arc.to + play;
         at += kTurn)
      out.push_back(at);
  }
}

std::vector<Ordinate> ordinates_of(const Drawn& drawn, const PanelStudy& panel, bool upright) {
  std::vector<Ordinate> all;
  const double end = upright ? panel.height() : panel.width();
  for (double at = kStep; at < end - kSame; at += kStep) {
    Ordinate o{at, std::numeric_limits<double>::infinity(),
               -std::numeric_limits<double>::infinity()};
    const auto add = [&](Vec2 p) {
      const double v = upright ? p.x : p.y;
      o.low = std::min(o.low, v);
      o.high = std::max(o.high, v);
    };
    for (const DrawnLine& line : drawn.lines) {
      const double a = upright ? line.a.y : line.a.x;
      const double b = upright ? line.b.y : line.b.x;
      // An ordinate may go through a corner, where the two lines end a rounding error beside it.
      if (at < std::min(a, b) - kSame || at > std::max(a, b) + kSame) continue;
      if (std::abs(b - a) < kSame) {
        add(line.a);
        add(line.b);
      } else {
        add(line.a + (line.b - line.a) * std::clamp((at - a) / (b - a), 0.0, 1.0));
      }
    }
    for (const DrawnArc& arc : drawn.arcs) {
      std::vector<double> meet;
      add_meetings(arc, !upright, at, meet);
      for (const double t : meet) add(arc.point(t));
    }
    if (o.low <= o.high) all.push_back(o);
  }
  return all;
}

Drawn moved(Drawn drawn, Vec2 by) {
  for (DrawnLine& line : drawn.lines) {
    line.a = line.a + by;
    line.b = line.b + by;
  }
  for (DrawnArc& arc : drawn.arcs) arc.centre = arc.centre + by;
  return drawn;
}

bool lies_on(Vec2 p, const Drawn& drawn) {
  constexpr double near = 0.05;  // chords and arcs of one curve lie this close
  return std::ranges::any_of(drawn.lines,
                             [&](const DrawnLine& line) {
                               const Vec2 d = line.b - line.a;
                               const double t =
                                   std::clamp(dot(p - line.a, d) / dot(d, d), 0.0, 1.0);
                               return length(line.a + d * t - p) < near;
                             }) ||
         std::ranges::any_of(drawn.arcs, [&](const DrawnArc& arc) {
           return std::abs(length(p - arc.centre) - length(arc.u)) < near &&
                  (length(p - arc.point((arc.from + arc.to) / 2)) <=
                   length(arc.point(arc.from) - arc.point((arc.from + arc.to) / 2)) + near);
         });
}

/// What a picture shows beside the outline.
Drawn without(Drawn picture, const Drawn& outline) {
  std::erase_if(picture.lines, [&](const DrawnLine& line) {
    return lies_on((line.a + line.b) * 0.5, outline) && lies_on(line.a, outline) &&
           lies_on(line.b, outline);
  });
  std::erase_if(picture.arcs, [&](const DrawnArc& arc) {
    return lies_on(arc.point((arc.from + arc.to) / 2), outline);
  });
  return picture;
}

}  // namespace

bool needs_template(const Part& part) {
  if (part.kind == PartKind::member || !is_made(part.kind)) return false;
  const Shape blank = cut_shape(part);
  const Prism& prism = blank.prisms.front().prism;
  return curved(prism.section.outer) || std::ranges::any_of(prism.section.holes, curved) ||
         std::ranges::any_of(prism.cuts, [&](const Cut& cut) {
           return is_through(cut, prism) && curved(cut.outline);
         });
}

TrueOutline true_outline(const Layout& layout, const Part& part) {
  TrueOutline out;
  out.panel = study_panel(layout, part);
  Shape bare = cut_shape(part);
  Prism& prism = bare.prisms.front().prism;
  prism.bores.clear();
  const Shape worked = bare;
  std::erase_if(prism.cuts, [&](const Cut& cut) { return !is_through(cut, prism); });
  const auto picture = [&](const Shape& shape, bool hidden) {
    return moved(
        visible_lines({facets(shape, {.chord = 0.02})}, out.panel.view, {.hidden = hidden}),
        Vec2{} - out.panel.picture.lo);
  };
  out.drawn = picture(bare, false);
  if (worked.prisms.front().prism.cuts.size() > prism.cuts.size())
    out.worked = without(picture(worked, true), out.drawn);
  out.upright = out.panel.height() > out.panel.width();
  out.ordinates = ordinates_of(out.drawn, out.panel, out.upright);
  return out;
}

bool is_within(const TrueOutline& outline, Vec2 p) {
  // How often a level ray to the right passes an edge.
  bool in = false;
  const auto pass = [&](Vec2 a, Vec2 b) {
    if ((a.y > p.y) == (b.y > p.y)) return;
    if (a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y) > p.x) in = !in;
  };
  for (const DrawnLine& line : outline.drawn.lines) pass(line.a, line.b);
  for (const DrawnArc& arc : outline.drawn.arcs) {
    constexpr int chords = 32;
    for (int i = 0; i < chords; ++i) {
      const auto at = [&](int k) { return arc.point(arc.from + (arc.to - arc.from) * k / chords); };
      pass(at(i), at(i + 1));
    }
  }
  return in;
}

Table ordinate_table(const TrueOutline& outline, LengthStyle show) {
  const bool up = outline.upright;
  Table table;
  table.columns = {{up ? "Y" : "X", 20, Align::right},
                   {say(up ? "column.x_from" : "column.y_from"), 22, Align::right},
                   {say(up ? "column.x_to" : "column.y_to"), 22, Align::right}};
  for (const Ordinate& o : outline.ordinates) {
    table.rows.push_back(
        {length_text(o.at, show), length_text(o.low, show), length_text(o.high, show)});
  }
  return table;
}

Drawn clipped(const Drawn& drawn, const Rect& window) {
  Drawn out;
  for (const DrawnLine& line : drawn.lines) {
    const Vec2 d = line.b - line.a;
    double from = 0.0;
    double to = 1.0;
    const auto cut = [&](double slope, double room) {  // keeps slope * t <= room
      if (slope == 0.0) return room >= 0.0;
      if (slope > 0.0) {
        to = std::min(to, room / slope);
      } else {
        from = std::max(from, room / slope);
      }
      return true;
    };
    if (cut(d.x, window.hi.x - line.a.x) && cut(-d.x, line.a.x - window.lo.x) &&
        cut(d.y, window.hi.y - line.a.y) && cut(-d.y, line.a.y - window.lo.y) && from < to) {
      DrawnLine part = line;
      part.a = line.a + d * from;
      part.b = line.a + d * to;
      out.lines.push_back(part);
    }
  }
  for (const DrawnArc& arc : drawn.arcs) {
    std::vector<double> stops{arc.from, arc.to};
    add_meetings(arc, true, window.lo.x, stops);
    add_meetings(arc, true, window.hi.x, stops);
    add_meetings(arc, false, window.lo.y, stops);
    add_meetings(arc, false, window.hi.y, stops);
    std::ranges::sort(stops);
    for (std::size_t i = 1; i < stops.size(); ++i) {
      if (stops[i] - stops[i - 1] < 1e-9) continue;
      const Vec2 middle = arc.point((stops[i] + stops[i - 1]) / 2);
      if (!inside({middle, middle}, window)) continue;
      // Pieces that follow each other are one.
      if (!out.arcs.empty() && i > 1 && out.arcs.back().to == stops[i - 1] &&
          out.arcs.back().centre == arc.centre && out.arcs.back().u == arc.u) {
        out.arcs.back().to = stops[i];
        continue;
      }
      DrawnArc part = arc;
      part.from = stops[i - 1];
      part.to = stops[i];
      out.arcs.push_back(part);
    }
  }
  return out;
}

}  // namespace ribbay
