#include "drawings/views.hpp"

#include "base/tolerance.hpp"
#include "base/wording.hpp"
#include "drawings/lettering.hpp"
#include "obstacles.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>

namespace ribbay {

namespace {

constexpr double kSmallCircle = 1.5;  // radius on paper, mm
constexpr double kLeading = 1.7;      // between lines of text, in letter heights

/// Part of a line whose x lies within `piece`, or nothing.
bool clip_x(Vec2& a, Vec2& b, std::pair<double, double> piece) {
  constexpr double hair = 1e-6;
  if (std::max(a.x, b.x) < piece.first - hair || std::min(a.x, b.x) > piece.second + hair)
    return false;
  const auto cut = [&](Vec2 from, Vec2 to) {
    if (std::abs(to.x - from.x) < hair) return from;
    const double x = std::clamp(from.x, piece.first, piece.second);
    return Vec2{x, from.y + (to.y - from.y) * (x - from.x) / (to.x - from.x)};
  };
  const Vec2 p = cut(a, b);
  const Vec2 q = cut(b, a);
  a = p;
  b = q;
  return true;
}

/// ISO 128-2, line 01.1.19 (from memory): a break as a narrow straight line with a zigzag.
void add_break(Drawing& d, double x, double low, double high, Pen pen) {
  const double y = (low + high) / 2;
  const Vec2 points[] = {{x, low - 2.5},     {x, y - 1.6}, {x - 0.9, y - 0.8},
                         {x + 0.9, y + 0.8}, {x, y + 1.6}, {x, high + 2.5}};
  for (std::size_t i = 1; i < std::size(points); ++i) add_line(d, points[i - 1], points[i], pen);
}

}  // namespace

Rect bounds_of(const Drawn& drawn) {
  const double inf = std::numeric_limits<double>::infinity();
  Rect r{{inf, inf}, {-inf, -inf}};
  const auto add = [&](Vec2 p) {
    r.lo = {std::min(r.lo.x, p.x), std::min(r.lo.y, p.y)};
    r.hi = {std::max(r.hi.x, p.x), std::max(r.hi.y, p.y)};
  };
  for (const DrawnLine& l : drawn.lines) {
    add(l.a);
    add(l.b);
  }
  for (const DrawnArc& arc : drawn.arcs) {
    for (int i = 0; i <= 32; ++i) add(arc.point(arc.from + (arc.to - arc.from) * i / 32.0));
  }
  return r.lo.x <= r.hi.x ? r : Rect{};
}

void add_view(Drawing& drawing, const Drawn& drawn, const ViewPlace& place, Pen visible, Pen hidden,
              const std::vector<int>& owner_of, const Kept& kept) {
  const auto paper = [&](Vec2 p) { return Vec2{place.x.paper(p.x), place.y.paper(p.y)}; };
  const auto owner = [&](int body) {
    return owner_of.empty() ? -1 : owner_of[static_cast<std::size_t>(body)];
  };
  const double inf = std::numeric_limits<double>::infinity();
  const Kept pieces = kept.empty() ? Kept{{-inf, inf}} : kept;
  for (const auto& piece : pieces) {
    for (const DrawnLine& l : drawn.lines) {
      Vec2 a = l.a;
      Vec2 b = l.b;
      if (!kept.empty() && !clip_x(a, b, piece)) continue;
      drawing.lines.push_back(
          {paper(a), paper(b), l.visible ? visible : hidden, owner(l.body), false, place.view});
    }
    for (const DrawnArc& arc : drawn.arcs) {
      if (!kept.empty() && (arc.centre.x < piece.first || arc.centre.x > piece.second)) continue;
      const Vec2 centre = paper(arc.centre);
      // One scale everywhere: breaks only shift.
      const double scale = place.scale();
      Pen pen = arc.visible ? visible : hidden;
      // A small circle in a wide line would be a blot; a rounded corner goes on as its sides are.
      const bool whole = arc.to - arc.from > 1.9 * std::numbers::pi;
      if (whole && length(arc.u) * scale < kSmallCircle)
        pen.width = std::min(pen.width, hidden.width);
      drawing.arcs.push_back({centre, arc.u * scale, arc.v * scale, arc.from, arc.to, pen,
                              owner(arc.body), place.view});
    }
  }
  for (std::size_t i = 1; i < kept.size(); ++i) {
    for (const double x : {kept[i - 1].second, kept[i].first}) {
      add_break(drawing, place.x.paper(x), place.outline.lo.y, place.outline.hi.y,
                {LineType::continuous, hidden.width});
    }
  }
}

ViewPlace place_view(const Rect& picture, double scale, Vec2 corner) {
  return {{corner, corner + Vec2{picture.width(), picture.height()} * scale},
          axis_map(picture.lo.x, corner.x, scale),
          axis_map(picture.lo.y, corner.y, scale)};
}

ViewPlace open_view(Drawing& drawing, ViewPlace place) {
  place.view = static_cast<int>(drawing.views.size());
  drawing.views.push_back(place.outline);
  return place;
}

namespace {

bool clear_of_views(const Drawing& drawing, const Rect& rect, double clearance) {
  return std::ranges::none_of(drawing.views,
                              [&](const Rect& r) { return overlap(grown(rect, clearance), r); });
}

}  // namespace

bool view_free(const Drawing& drawing, const Rect& rect, double clearance) {
  return clear_of_views(drawing, rect, clearance) && is_free(drawing, rect, clearance);
}

namespace {

bool segments_meet(Vec2 a, Vec2 b, Vec2 c, Vec2 d) {
  const auto side = [](Vec2 p, Vec2 q, Vec2 r) { return cross(q - p, r - p); };
  return side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0;
}

// What a reader pays for, as lengths of leader, mm.
constexpr double kCrossed = 5.0;         // a line of a picture that a leader runs across
constexpr double kCrossedLeader = 25.0;  // another leader, or a dimension's line
constexpr double kCrowded = 8.0;         // a text nearer than kAiry to other ink
constexpr double kCrowdedLabel = 2.0;    // the same for a name, which must stay by its hole
constexpr double kAiry = 1.5;            // common practice, no source

/// What the lines that the segment a-b runs across cost.
double crossings(const Drawing& drawing, Vec2 a, Vec2 b) {
  double cost = 0.0;
  for (const InkLine& l : drawing.lines) {
    if (segments_meet(a, b, l.a, l.b)) cost += l.view < 0 ? kCrossedLeader : kCrossed;
  }
  return cost;
}

/// A note beside its anchor: leader, short shelf, text.
struct Callout {
  InkText note;
  Vec2 elbow;
  Vec2 end;
};

Callout callout_at(Vec2 anchor, double radius, double angle, const std::string& text,
                   double height) {
  constexpr double shelf = 2.0;
  const Vec2 elbow = anchor + Vec2{std::cos(angle), std::sin(angle)} * radius;
  const double sign = std::cos(angle) >= 0.0 ? 1.0 : -1.0;
  const Vec2 end = elbow + Vec2{sign * shelf, 0};
  const double left = sign > 0.0 ? end.x + 0.9 : end.x - 0.9 - text_width(text, height);
  return {{text, {left, end.y - height / 2}, height}, elbow, end};
}

}  // namespace

bool add_callout(Drawing& drawing, Vec2 anchor, const std::string& text, double height, Pen pen,
                 const std::vector<Rect>& avoid, bool dot) {
  detail::Obstacles obstacles(drawing);
  std::optional<Callout> best;
  double least = 200.0;
  for (double radius = 6.0; radius < std::min(least, 90.0); radius += 2.0) {
    for (int step = 1; step < 24; ++step) {
      if (step % 12 == 6) continue;  // straight up or down: the shelf would fold back
      const Callout c = callout_at(anchor, radius, step * std::numbers::pi / 12.0, text, height);
      const Rect box = extent(c.note);
      if (!inside(box, drawing.frame) || crosses(anchor, c.elbow, grown(box, 0.5))) continue;
      if (std::ranges::any_of(avoid, [&](const Rect& r) { return overlap(box, grown(r, 1.0)); }))
        continue;
      double cost =
          radius + crossings(drawing, anchor, c.elbow) + crossings(drawing, c.elbow, c.end);
      if (cost >= least || !is_clear(drawing, anchor, c.elbow) ||
          !is_clear(drawing, c.elbow, c.end) || !obstacles.free(box, 0.8)) {
        continue;
      }
      if (!obstacles.free(box, kAiry)) cost += kCrowded;
      if (cost >= least) continue;
      least = cost;
      best = c;
    }
  }
  if (!best) return false;
  drawing.texts.push_back(best->note);
  add_line(drawing, anchor, best->elbow, pen);
  add_line(drawing, best->elbow, best->end, pen);
  if (dot) {
    add_dot(drawing, anchor);
  } else {
    add_arrow(drawing, anchor, normalized(anchor - best->elbow));
  }
  return true;
}

namespace {

double distance(const Rect& box, Vec2 p) {
  return std::hypot(std::max({box.lo.x - p.x, 0.0, p.x - box.hi.x}),
                    std::max({box.lo.y - p.y, 0.0, p.y - box.hi.y}));
}

}  // namespace

bool add_label(Drawing& drawing, Vec2 at, const std::string& text, double height, double reach,
               const std::vector<Vec2>& others, double clearance) {
  constexpr double nearer = 0.8;  // on paper, so that nobody takes it for another's
  const double width = text_width(text, height);
  detail::Obstacles obstacles(drawing);
  std::optional<InkText> best;
  double least = reach + kCrowdedLabel;
  for (double radius = 1.2; radius <= std::min(reach, least); radius += 0.5) {
    for (const int step : {1, 3, 7, 5, 0, 4, 2, 6}) {
      const double angle = step * std::numbers::pi / 4.0;
      const Vec2 d{std::cos(angle), std::sin(angle)};
      // The nearest corner or side of the text lies `radius` away.
      const double x = at.x + d.x * radius + (d.x > 0.1 ? 0.0 : d.x < -0.1 ? -width : -width / 2);
      const double y = at.y + d.y * radius + (d.y > 0.1 ? 0.0 : d.y < -0.1 ? -height : -height / 2);
      const InkText label{text, {x, y}, height};
      const Rect box = extent(label);
      const auto seems_its = [&](Vec2 p) {
        return length(p - at) > kSame && distance(box, p) < distance(box, at) + nearer;
      };
      if (!obstacles.free(box, clearance) || std::ranges::any_of(others, seems_its)) continue;
      const double cost = radius + (obstacles.free(box, kAiry) ? 0.0 : kCrowdedLabel);
      if (cost >= least) continue;
      least = cost;
      best = label;
    }
  }
  if (best) drawing.texts.push_back(*best);
  return best.has_value();
}

std::vector<std::string> wrapped(const std::vector<std::string>& notes, double width,
                                 double height) {
  std::vector<std::string> lines;
  for (const std::string& note : notes) {
    std::string line;
    std::string word;
    const auto flush = [&] {
      if (word.empty()) return;
      if (!line.empty() && text_width(line + " " + word, height) > width) {
        lines.push_back(line);
        line.clear();
      }
      line += (line.empty() ? "" : " ") + word;
      word.clear();
    };
    for (const char c : note) {
      if (c == ' ')
        flush();
      else
        word += c;
    }
    flush();
    if (!line.empty()) lines.push_back(line);
  }
  return lines;
}

double notes_height(const std::vector<std::string>& notes, double width, double height) {
  return static_cast<double>(wrapped(notes, width, height).size()) * height * kLeading;
}

double add_notes(Drawing& drawing, const std::vector<std::string>& notes, Vec2 corner, double width,
                 double height) {
  double y = corner.y;
  for (const std::string& line : wrapped(notes, width, height)) {
    y -= height * kLeading;
    add_fitted(drawing, line, {corner.x, y + 0.3 * height}, height, width);
  }
  return corner.y - y;
}

namespace {

/// An arrow with a word along it, level or upright.
struct WordedArrow {
  std::string text;
  Vec2 dir;           ///< of its head, unit
  bool both = false;  ///< a head at either end
};

/// On a free spot of the face, outside of `gone`; above or below the face when what is left of it
/// has no room.
bool add_worded_arrow(Drawing& d, const ViewPlace& place, const WordedArrow& arrow, double letters,
                      const std::vector<Rect>& gone) {
  const bool upwards = arrow.dir.y != 0.0;
  const double along = text_width(arrow.text, letters) + 8.0;
  const double across = letters + 3.0;
  const Vec2 half = upwards ? Vec2{across / 2, along / 2} : Vec2{along / 2, across / 2};
  const Rect o = place.outline;
  std::vector<Vec2> within;
  for (int i = 1; i < 16; ++i) {
    for (int j = 1; j < 16; ++j)
      within.push_back(o.lo + Vec2{o.width() * i / 16.0, o.height() * j / 16.0});
  }
  std::ranges::stable_sort(within, {}, [&](Vec2 p) {
    const Vec2 q = p - o.centre();
    return q.x * q.x + q.y * q.y;
  });
  std::vector<Vec2> outside;
  for (const double off : {6.0, 12.0, 18.0, 24.0}) {
    outside.push_back({o.centre().x, o.hi.y + off + half.y});
    outside.push_back({o.lo.x + o.width() / 4, o.hi.y + off + half.y});
    outside.push_back({o.centre().x, o.lo.y - off - half.y});
  }
  detail::Obstacles obstacles(d);
  const auto fits = [&](Vec2 spot, double clearance) {
    const Rect box{spot - half, spot + half};
    return obstacles.free(box, clearance) &&
           std::ranges::none_of(gone, [&](const Rect& r) { return overlap(box, r); });
  };
  const std::pair<const std::vector<Vec2>&, double> tries[] = {
      {within, 2.0 * kAiry}, {within, kAiry}, {within, 1.0}, {outside, 1.0}};
  for (const auto& [spots, clearance] : tries) {
    const auto found = std::ranges::find_if(spots, [&](Vec2 p) { return fits(p, clearance); });
    if (found == spots.end()) continue;
    const Vec2 spot = *found;
    const Rect box{spot - half, spot + half};
    const Vec2 dir = arrow.dir;
    const Vec2 middle = upwards ? Vec2{box.hi.x - 0.8, spot.y} : Vec2{spot.x, box.lo.y + 0.8};
    add_line(d, middle - dir * (along / 2), middle + dir * (along / 2), kGroup50.thin());
    add_arrow(d, middle + dir * (along / 2), dir);
    if (arrow.both) add_arrow(d, middle - dir * (along / 2), dir * -1.0);
    const Vec2 foot = upwards ? Vec2{middle.x - 1.2, spot.y} : Vec2{spot.x, middle.y + 1.2};
    add_text(d, arrow.text, foot, letters, Align::centre, upwards);
    return true;
  }
  return false;
}

}  // namespace

bool add_grain(Drawing& d, const ViewPlace& place, bool upwards, double letters,
               const std::vector<Rect>& gone) {
  const Vec2 dir = upwards ? Vec2{0, 1} : Vec2{1, 0};
  return add_worded_arrow(d, place, {say("grain"), dir, true}, letters, gone);
}

bool add_pose(Drawing& d, const ViewPlace& place, PanelUp up, double letters,
              const std::vector<Rect>& gone) {
  switch (up) {
    case PanelUp::up:
      return add_worded_arrow(d, place, {say("way_up"), {0, 1}}, letters, gone);
    case PanelUp::behind:
      return add_worded_arrow(d, place, {say("way_front"), {0, -1}}, letters, gone);
    case PanelUp::length:
      break;
  }
  return true;
}

std::optional<Vec2> free_spot(const Drawing& d, const Rect& area, Vec2 size) {
  constexpr double step = 4.0;
  constexpr double clearance = 3.0;
  detail::Obstacles obstacles(d);
  for (double y = area.hi.y - size.y - 4.0; y >= area.lo.y + 4.0; y -= step) {
    for (double x = area.hi.x - size.x - 4.0; x >= area.lo.x + 4.0; x -= step) {
      const Rect spot{{x, y}, {x + size.x, y + size.y}};
      if (clear_of_views(d, spot, clearance) && obstacles.free(spot, clearance)) return Vec2{x, y};
    }
  }
  return std::nullopt;
}

}  // namespace ribbay
