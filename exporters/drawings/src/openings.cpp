#include "openings.hpp"

#include "base/tolerance.hpp"
#include "scene.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace ribbay::detail {

namespace {

constexpr double kSquareOn = 0.99;    // cosine: a wall that leans by 8 degrees still counts
constexpr double kSameStation = 0.5;  // positions closer than this print as one, mm
constexpr double kOnEdge = 0.2;       // between an edge and the line that draws it, mm
constexpr double kSlot = 25.0;        // narrower than this an opening is a slot, mm

bool is_circle(const Loop& loop) {
  return loop.size() == 4 && std::ranges::all_of(loop, [&](const Corner& c) {
           const double side = length(loop[1].at - loop[0].at);
           return std::abs(side - 2.0 * c.radius) < kSame &&
                  std::abs(length(loop[2].at - loop[1].at) - side) < kSame;
         });
}

bool is_through(const Prism& prism, const Cut& cut) {
  return cut.role == CutRole::cut_out && cut.from <= kSame && cut.to >= prism.height - kSame;
}

/// Whether the view draws an upright or level edge of the opening: nothing stands before it.
bool shows_edge(const Drawn& seen, const Rect& r) {
  return std::ranges::any_of(seen.lines, [&](const DrawnLine& l) {
    if (!l.visible) return false;
    const Vec2 middle = (l.a + l.b) * 0.5;
    const bool upright =
        std::abs(l.a.x - l.b.x) < kOnEdge && middle.y > r.lo.y && middle.y < r.hi.y;
    const bool level = std::abs(l.a.y - l.b.y) < kOnEdge && middle.x > r.lo.x && middle.x < r.hi.x;
    return (upright && std::min(std::abs(l.a.x - r.lo.x), std::abs(l.a.x - r.hi.x)) < kOnEdge) ||
           (level && std::min(std::abs(l.a.y - r.lo.y), std::abs(l.a.y - r.hi.y)) < kOnEdge);
  });
}

bool shows_circle(const Drawn& seen, const Rect& r) {
  return std::ranges::any_of(seen.arcs, [&](const DrawnArc& arc) {
    return arc.visible && length(arc.centre - r.centre()) < kOnEdge &&
           std::abs(length(arc.u) - r.width() / 2) < kOnEdge;
  });
}

Rect seen_bounds(const Loop& loop, const Frame& frame, const ViewFrame& view) {
  const Box box = bounds(Shape{{{Prism{{loop, {}}, 1.0, {}, {}, {}}, {}}}});
  Rect r{{1e300, 1e300}, {-1e300, -1e300}};
  for (const double x : {box.lo.x, box.hi.x}) {
    for (const double y : {box.lo.y, box.hi.y}) {
      const Vec2 p = view.picture(frame.point({x, y, 0.0}));
      r.lo = {std::min(r.lo.x, p.x), std::min(r.lo.y, p.y)};
      r.hi = {std::max(r.hi.x, p.x), std::max(r.hi.y, p.y)};
    }
  }
  return r;
}

Rect common(const Rect& a, const Rect& b) {
  return {{std::max(a.lo.x, b.lo.x), std::max(a.lo.y, b.lo.y)},
          {std::min(a.hi.x, b.hi.x), std::min(a.hi.y, b.hi.y)}};
}

/// Openings that two boards share. What no other board goes on with is a notch, and left out.
std::vector<Rect> joined(std::vector<Rect> halves) {
  std::vector<Rect> whole;
  while (!halves.empty()) {
    Rect r = halves.back();
    halves.pop_back();
    bool shared = false;
    for (std::size_t i = 0; i < halves.size();) {
      if (!overlap(grown(r, kOnEdge), halves[i])) {
        ++i;
        continue;
      }
      r = united(r, halves[i]);
      halves.erase(halves.begin() + static_cast<std::ptrdiff_t>(i));
      shared = true;
      i = 0;
    }
    if (shared) whole.push_back(r);
  }
  return whole;
}

void take_new(std::vector<double>& out, const std::vector<double>& known, double at) {
  const auto same = [&](double other) { return std::abs(at - other) < kSameStation; };
  if (std::ranges::none_of(known, same) && std::ranges::none_of(out, same)) out.push_back(at);
}

}  // namespace

std::vector<SeenOpening> openings_of(const Layout& layout, const ModuleContents& contents,
                                     const ViewFrame& view, const Drawn& seen) {
  std::vector<SeenOpening> openings;
  std::vector<Rect> halves;  // open to an edge of their board
  for (const std::size_t i : contents.fixed) {
    const Part& part = layout.parts[i];
    if (part.kind != PartKind::panel && part.kind != PartKind::folded) continue;
    const Rect whole = seen_box(bounds(part), view);
    for (const PlacedPrism& one : part.shape->prisms) {
      const Frame frame = part.frame * one.frame;
      if (std::abs(dot(frame.z, view.towards_eye())) < kSquareOn) continue;
      const auto offer = [&](const Loop& loop) {
        const Rect r = seen_bounds(loop, frame, view);
        if (!inside(r, grown(whole, -kSame))) return halves.push_back(common(r, whole));
        const bool round = is_circle(loop);
        if (round ? shows_circle(seen, r) : shows_edge(seen, r)) openings.push_back({r, round});
      };
      for (const Loop& hole : one.prism.section.holes) offer(hole);
      for (const Cut& cut : one.prism.cuts) {
        if (is_through(one.prism, cut)) offer(cut.outline);
      }
    }
  }
  for (const Rect& r : joined(std::move(halves))) {
    if (shows_edge(seen, r)) openings.push_back({r, false});
  }
  std::ranges::stable_sort(
      openings, {}, [](const SeenOpening& o) { return std::tuple(o.area.lo.y, o.area.lo.x); });
  return openings;
}

OpeningPositions positions_of(const std::vector<SeenOpening>& openings,
                              const std::vector<double>& known_across,
                              const std::vector<double>& known_up) {
  OpeningPositions out;
  for (const SeenOpening& o : openings) {
    const auto place = [&](std::vector<double>& at, const std::vector<double>& known, double lo,
                           double hi) {
      // A circle by its centre, and so a slot: its middle line is where the router goes.
      if (o.round || hi - lo < kSlot) return take_new(at, known, (lo + hi) / 2);
      take_new(at, known, lo);
      take_new(at, known, hi);
    };
    place(out.across, known_across, o.area.lo.x, o.area.hi.x);
    place(out.up, known_up, o.area.lo.y, o.area.hi.y);
  }
  return out;
}

}  // namespace ribbay::detail
