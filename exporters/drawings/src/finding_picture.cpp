#include "drawings/finding_picture.hpp"

#include "base/messages.hpp"
#include "base/wording.hpp"
#include "concerned.hpp"
#include "drawings/lettering.hpp"
#include "drawings/views.hpp"
#include "room_lines.hpp"
#include "van_lines.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace ribbay {

namespace {

using namespace detail;

constexpr double kWidth = 190.0;
constexpr double kMargin = 4.0;
constexpr double kPanel = 52.0;  // side of a square panel
constexpr double kColumn = 9.0;  // beside a panel, for its balloons
constexpr double kBalloon = 2.8;
constexpr double kRing = 2.5;  // radius
constexpr double kText = 2.5;
constexpr double kLeast = 30.0;  // half of the width that an enlarged place shows, mm in the van
constexpr double kMost = 150.0;
constexpr double kFullTurn = 2.0 * std::numbers::pi;
constexpr Pen kFirst{LineType::continuous, 0.5};
constexpr Pen kOthers{LineType::continuous, 0.35};
constexpr Pen kThin{LineType::continuous, 0.18};
constexpr Pen kShut{LineType::double_chain, 0.18};

struct Look {
  ViewFrame frame;
  const char* name;  ///< key of its words
};

// Seen from above with forward to the right, from the right, and from behind.
const std::array<Look, 3> kLooks{Look{{{1, 0, 0}, {0, 1, 0}}, "look.above"},
                                 Look{{{1, 0, 0}, {0, 0, 1}}, "look.right"},
                                 Look{{{0, -1, 0}, {0, 0, 1}}, "look.behind"}};

double area(const Rect& r) {
  return std::max(r.width(), 0.0) * std::max(r.height(), 0.0);
}

/// How much two bodies lie over each other in a view, as a share of the smaller one.
double covered(const Rect& a, const Rect& b) {
  const Rect both{{std::max(a.lo.x, b.lo.x), std::max(a.lo.y, b.lo.y)},
                  {std::min(a.hi.x, b.hi.x), std::min(a.hi.y, b.hi.y)}};
  if (both.width() <= 0.0 || both.height() <= 0.0) return 0.0;
  return area(both) / std::max(1e-9, std::min(area(a), area(b)));
}

/// The view in which one body shows most; from above when another one does not show clearly more.
const Look& broadest_look(const std::vector<Concerned>& all) {
  const Look* best = kLooks.data();
  for (const Look& look : kLooks) {
    if (area(seen_box(all[0].box, look.frame)) > 1.5 * area(seen_box(all[0].box, best->frame)))
      best = &look;
  }
  return *best;
}

/// The view in which the first two bodies lie least over each other; against the shell of the van
/// the one that shows most of the wall's curve.
const Look& best_look(const std::vector<Concerned>& all, const Finding& finding) {
  if (finding.code.starts_with("support.")) return kLooks[0];
  const bool shell = std::ranges::any_of(all, [](const Concerned& one) { return one.shell; });
  if (shell) return kLooks[2];
  if (all.size() < 2) return broadest_look(all);
  const Look* best = nullptr;
  double least = 2.0;
  for (const Look& look : kLooks) {
    const double share =
        covered(seen_box(all[0].box, look.frame), seen_box(all[1].box, look.frame));
    if (share < least - 0.02) {
      least = share;
      best = &look;
    }
  }
  return best == nullptr ? kLooks[0] : *best;
}

/// A square on paper, and the square of the scene that it shows.
struct Window {
  Rect paper;
  Vec2 centre;  ///< of the scene
  double scale = 1.0;
  Vec2 at(Vec2 p) const { return paper.centre() + (p - centre) * scale; }
};

/// The part of a-b that lies in `r` (Liang and Barsky); false when there is none.
bool clip(Vec2& a, Vec2& b, const Rect& r) {
  const Vec2 d = b - a;
  double from = 0.0;
  double to = 1.0;
  const auto side = [&](double toward, double room) {
    if (std::abs(toward) < 1e-12) return room >= 0.0;
    const double t = room / toward;
    if (toward < 0.0)
      from = std::max(from, t);
    else
      to = std::min(to, t);
    return from < to;
  };
  if (!side(-d.x, a.x - r.lo.x) || !side(d.x, r.hi.x - a.x) || !side(-d.y, a.y - r.lo.y) ||
      !side(d.y, r.hi.y - a.y))
    return false;
  b = a + d * to;
  a = a + d * from;
  return true;
}

/// Ink of one thing in one window; remembers where a leader can end.
class Ink {
 public:
  Ink(Drawing& d, const Window& window, Pen pen) : d_(d), window_(window), pen_(pen) {}

  void line(Vec2 a, Vec2 b) {
    Vec2 p = window_.at(a);
    Vec2 q = window_.at(b);
    if (!clip(p, q, window_.paper) || length(q - p) < 0.05) return;
    d_.lines.push_back({p, q, pen_, -1, false, view()});
    if (length(q - p) > longest_) {
      longest_ = length(q - p);
      anchor_ = (p + q) * 0.5;
    }
  }
  void lines(const VanLine& points) {
    for (std::size_t i = 1; i < points.size(); ++i) line(points[i - 1], points[i]);
  }
  void drawn(const Drawn& picture) {
    for (const DrawnLine& l : picture.lines) line(l.a, l.b);
    for (const DrawnArc& arc : picture.arcs) {
      constexpr int steps = 24;
      Vec2 last = arc.point(arc.from);
      for (int i = 1; i <= steps; ++i) {
        const Vec2 next = arc.point(arc.from + (arc.to - arc.from) * i / steps);
        line(last, next);
        last = next;
      }
    }
  }
  std::optional<Vec2> anchor() const { return anchor_; }

 private:
  int view() const { return static_cast<int>(d_.views.size()) - 1; }
  Drawing& d_;
  const Window& window_;
  Pen pen_;
  double longest_ = 0.0;
  std::optional<Vec2> anchor_;
};

class Picture {
 public:
  Picture(const Layout& layout, const Finding& finding, std::vector<Concerned> all)
      : layout_(layout), finding_(finding), all_(std::move(all)), look_(best_look(all_, finding)) {}

  Drawing draw() {
    for (const Concerned& one : all_) box_.add(one.box);
    if (box_.empty()) box_.add(finding_.at.value_or(Vec3{}));
    const std::vector<std::string> said{message_text(finding_, layout_.project.show)};
    const std::vector<std::string> names = legend();
    const double width = kWidth - 2 * kMargin;
    const double below = kText * 2.4 + 1.7 * kText * static_cast<double>(names.size()) + 2.0;
    const double above = notes_height(said, width, kText) + 2.0;
    d_.format = "picture";
    d_.title = finding_.code;
    d_.width = kWidth;
    d_.height = 2 * kMargin + above + kPanel + below;
    d_.frame = {{0, 0}, {d_.width, d_.height}};
    add_notes(d_, said, {kMargin, d_.height - kMargin}, width, kText);
    add_notes(d_, names, {kMargin, kMargin + below - kText * 2.4 - 1.0}, width, kText);
    const double low = kMargin + below;
    const Rect place{{kMargin, low}, {kMargin + kPanel, low + kPanel}};
    const Vec2 step{(width - kPanel) / 2.0, 0};
    draw_van(place);
    draw_whole({place.lo + step, place.hi + step});
    draw_place({place.lo + step * 2.0, place.hi + step * 2.0});
    return std::move(d_);
  }

 private:
  std::vector<std::string> legend() const {
    std::vector<std::string> lines;
    for (std::size_t i = 0; i < all_.size(); ++i)
      lines.push_back(std::to_string(i + 1) + "  " + all_[i].name);
    return lines;
  }

  void caption(const Rect& panel, const std::string& text) {
    add_fitted(d_, text, {panel.lo.x, panel.lo.y - kText * 1.8}, kText, panel.width());
  }

  /// Plan and side of the room, with the modules and a ring at the place.
  void draw_van(const Rect& panel) {
    Box room = box_;
    for (const Module& m : layout_.modules) room.add(m.envelope);
    if (layout_.vehicle) {
      for (const Vec2 p : floor_outline(*layout_.vehicle)) room.add(Vec3{p.x, p.y, 0});
      for (const Vec2 p : side_outline(*layout_.vehicle)) room.add(Vec3{p.x, 0, p.y});
    }
    const Vec3 size = room.size();
    constexpr double gap = 3.0 + kRing;
    const double scale = std::min(panel.width() / std::max(size.x, 1.0),
                                  (panel.height() - gap - kRing) / std::max(size.y + size.z, 1.0));
    const double upper = size.y * scale;
    const Rect plan{{panel.lo.x, panel.hi.y - upper}, panel.hi};
    const Rect side{panel.lo + Vec2{0, kRing}, {panel.hi.x, panel.hi.y - upper - gap}};
    draw_room(plan, kLooks[0], room, scale);
    draw_room(side, kLooks[1], room, scale);
    caption(panel, say("look.van"));
  }

  void draw_room(const Rect& area, const Look& look, const Box& room, double scale) {
    const Window window{area, look.frame.picture(room.centre()), scale};
    d_.views.push_back(area);
    Ink outline(d_, window, kThin);
    if (layout_.vehicle) {
      outline.lines(&look == kLooks.data() ? floor_outline(*layout_.vehicle)
                                           : side_outline(*layout_.vehicle));
    }
    for (const Module& m : layout_.modules) {
      const Rect r = seen_box(m.envelope, look.frame);
      Ink(d_, window, kThin).lines(rectangle_line(r.lo, r.hi));
    }
    for (const Concerned& one : all_) {
      if (one.box.empty()) continue;
      const Rect r = seen_box(one.box, look.frame);
      Ink(d_, window, kOthers).lines(rectangle_line(r.lo, r.hi));
    }
    if (!finding_.at) return;
    const Vec2 at = window.at(look.frame.picture(*finding_.at));
    if (!inside({at, at}, area)) return;
    d_.arcs.push_back({at,
                       {kRing, 0},
                       {0, kRing},
                       0.0,
                       kFullTurn,
                       kFirst,
                       -1,
                       static_cast<int>(d_.views.size()) - 1});
  }

  /// All bodies concerned.
  void draw_whole(const Rect& panel) {
    Rect seen = seen_box(box_, look_.frame);
    if (std::ranges::any_of(all_, [](const Concerned& one) { return one.shell; }))
      seen = grown(seen, 0.15 * std::max(seen.width(), seen.height()) + 20.0);
    const double widest = std::max({seen.width(), seen.height(), 1.0});
    draw_bodies({panel, seen.centre(), kPanel / (widest * 1.04)});
    caption(panel, say("look.concerned", {{"look", say(look_.name)}}));
    if (!finding_.at) return;
    const Window window{panel, seen.centre(), kPanel / (widest * 1.04)};
    const Vec2 at = window.at(look_.frame.picture(*finding_.at));
    const double radius = std::max(1.5, half() * window.scale);
    if (inside(grown({at, at}, radius), panel)) {
      d_.arcs.push_back({at,
                         {radius, 0},
                         {0, radius},
                         0.0,
                         kFullTurn,
                         kThin,
                         -1,
                         static_cast<int>(d_.views.size()) - 1});
    }
  }

  /// Half of what the enlarged place shows, mm in the van: some times what was measured there.
  double half() const {
    double measured = 10.0;
    if (const Argument* argument = finding_.argument("measured")) {
      const double* value = std::get_if<double>(&argument->value);
      if (value != nullptr && argument->unit == Unit::mm && finding_.argument("motion") == nullptr)
        measured = *value;
    }
    return std::clamp(4.0 * measured, kLeast, kMost);
  }

  void draw_place(const Rect& panel) {
    if (!finding_.at) return;
    const double scale = kPanel / (2.0 * half());
    draw_bodies({panel, look_.frame.picture(*finding_.at), scale});
    const Vec3 at = *finding_.at;
    const auto figure = [&](double v) { return length_text(v, layout_.project.show); };
    caption(panel, say("look.place", {{"x", figure(at.x)},
                                      {"y", figure(at.y)},
                                      {"z", figure(at.z)},
                                      {"width", figure(2.0 * half())}}));
  }

  void draw_bodies(const Window& window) {
    d_.views.push_back(window.paper);
    draw_neighbours(window);
    struct Mark {
      std::string text;
      Vec2 anchor;
    };
    std::vector<Mark> marks;
    for (std::size_t i = 0; i < all_.size(); ++i) {
      const std::optional<Vec2> anchor = draw_one(all_[i], window, i == 0 ? kFirst : kOthers);
      if (anchor) marks.push_back({std::to_string(i + 1), *anchor});
    }
    if (finding_.code.starts_with("support.")) draw_joists(window);
    add_rect(d_, window.paper, kThin);
    std::ranges::stable_sort(marks, {}, [](const Mark& m) { return m.anchor.y; });
    std::vector<double> wanted;
    for (const Mark& m : marks) wanted.push_back(m.anchor.y);
    const std::vector<double> heights = spread(
        wanted, 2 * kBalloon + 1.5, window.paper.lo.y + kBalloon, window.paper.hi.y - kBalloon);
    for (std::size_t i = 0; i < heights.size(); ++i) {
      const Vec2 centre{window.paper.lo.x - kColumn + kBalloon + 1.0, heights[i]};
      add_circle(d_, centre, kBalloon, kThin);
      add_text(d_, marks[i].text, centre - Vec2{0, kText / 2}, kText, Align::centre);
      const Vec2 way = normalized(marks[i].anchor - centre);
      add_line(d_, centre + way * kBalloon, marks[i].anchor, kThin);
      add_dot(d_, marks[i].anchor, 0.6);
    }
  }

  void draw_joists(const Window& window) {
    if (!layout_.vehicle) return;
    for (const Joist& joist : layout_.vehicle->joists) {
      const double edge = joist.width / 2;
      const VanLine across =
          rectangle_line({joist.at - edge, joist.from}, {joist.at + edge, joist.to});
      const VanLine along =
          rectangle_line({joist.from, joist.at - edge}, {joist.to, joist.at + edge});
      Ink(d_, window, kShut).lines(joist.across ? across : along);
    }
  }

  /// What else of the modules concerned stands in the window, thin.
  void draw_neighbours(const Window& window) {
    const double reach = kPanel / 2.0 / window.scale;
    std::vector<PlacedPart> around;
    for (std::size_t i = 0; i < layout_.parts.size(); ++i) {
      const Part& part = layout_.parts[i];
      const auto is_it = [&](const PlacedPart& p) { return p.part == i; };
      bool near_by = false;
      for (const Concerned& one : all_) {
        if (std::ranges::any_of(one.parts, is_it)) {
          near_by = false;
          break;
        }
        near_by = near_by || std::ranges::any_of(one.parts, [&](const PlacedPart& p) {
                    return layout_.parts[p.part].module == part.module;
                  });
      }
      const Rect seen = seen_box(bounds(part), look_.frame);
      if (near_by && part.kind != PartKind::hardware &&
          overlap(seen, grown({window.centre, window.centre}, reach)))
        around.push_back({i, part.frame});
    }
    Ink(d_, window, kThin).drawn(lines_of(around, window));
  }

  Drawn lines_of(const std::vector<PlacedPart>& parts, const Window& window) const {
    return visible_lines(scene_of(layout_, parts, window.scale).bodies, look_.frame,
                         {.shortest = 0.3 / window.scale});
  }

  std::optional<Vec2> draw_one(const Concerned& one, const Window& window, Pen pen) {
    if (!one.shut.empty()) Ink(d_, window, kShut).drawn(lines_of(one.shut, window));
    Ink ink(d_, window, pen);
    ink.drawn(lines_of(one.parts, window));
    if (one.zone != nullptr) {
      Ink space(d_, window, kShut);
      space.drawn(visible_lines({placed(facets(one.zone->shape), one.zone->frame)}, look_.frame));
      return space.anchor();
    }
    for (const VehicleBody& body : one.van) {
      for (const ConvexPiece& piece : body.pieces) ink.lines(outline_of(piece, look_.frame));
    }
    if (one.shell && layout_.vehicle) {
      ink.lines(room_section(*layout_.vehicle, finding_.at.value_or(box_.centre()).x));
    }
    return ink.anchor();
  }

  const Layout& layout_;
  const Finding& finding_;
  std::vector<Concerned> all_;
  const Look& look_;
  Box box_;
  Drawing d_;
};

}  // namespace

std::optional<Drawing> finding_picture(const Layout& layout, const Finding& finding) {
  std::vector<Concerned> all = concerned_by(layout, finding);
  if (all.empty()) return std::nullopt;
  return Picture(layout, finding, std::move(all)).draw();
}

}  // namespace ribbay
