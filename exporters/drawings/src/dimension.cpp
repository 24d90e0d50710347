#include "drawings/dimension.hpp"

#include "base/tolerance.hpp"
#include "drawings/lettering.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace ribbay {

namespace {

// ISO 129-1 (from memory): a small gap between outline and extension line, which runs past the
// dimension line by about 8 line widths; values stand clear above the line.
constexpr double kGap = 1.0;
constexpr double kPast = 2.0;
constexpr double kAbove = 1.0;
constexpr double kArrow = 2.5;
constexpr double kClear = 0.6;   // between a value and any other ink
constexpr double kKink = 3.5;    // over which a running value may step aside
constexpr double kOrigin = 1.0;  // radius of the origin circle

bool horizontal(ViewSide side) {
  return side == ViewSide::bottom || side == ViewSide::top;
}
double outward(ViewSide side) {
  return side == ViewSide::bottom || side == ViewSide::left ? -1.0 : 1.0;
}

/// The edge of the outline that a side's dimensions start from.
double edge_of(const Rect& outline, ViewSide side) {
  switch (side) {
    case ViewSide::bottom:
      return outline.lo.y;
    case ViewSide::top:
      return outline.hi.y;
    case ViewSide::left:
      return outline.lo.x;
    case ViewSide::right:
      return outline.hi.x;
  }
  return 0.0;
}

/// A point from its coordinates along and across the dimensions of a side.
Vec2 at(ViewSide side, double along, double across) {
  return horizontal(side) ? Vec2{along, across} : Vec2{across, along};
}

const AxisMap& map_of(const ViewPlace& view, ViewSide side) {
  return horizontal(side) ? view.x : view.y;
}

double running_depth(const std::vector<double>& values, const DimensionStyle& style) {
  double widest = 0.0;
  for (const double v : values)
    widest = std::max(widest, text_width(length_text(v, style.show), style.height));
  return kKink + 1.0 + widest + style.height + 2.0;
}

/// Places everything of one call. Ink goes to `drawing` only when all of it found its place.
class Placer {
 public:
  Placer(const Drawing& drawing, const ViewPlace& view, const DimensionStyle& style)
      : page_(drawing), view_(view), style_(style) {
    for (double& d : depth_) d = style.first;
    work_.frame = drawing.frame;
  }

  bool add(const RunningDimensions& run) {
    const ViewSide side = run.side;
    const double out = outward(side);
    const AxisMap& map = map_of(view_, side);
    const double line = edge_of(view_.outline, side) + out * depth_[index(side)];
    const double datum = map.paper(run.datum);
    std::vector<RunningDimensions::Station> stations = run.stations;
    std::ranges::sort(
        stations, [&](const auto& a, const auto& b) { return map.paper(a.at) < map.paper(b.at); });
    std::vector<double> wanted;
    std::vector<double> sizes;
    for (const auto& s : stations) {
      wanted.push_back(map.paper(s.at));
      sizes.push_back(std::abs(s.at - run.datum));
    }
    if (wanted.empty()) return true;
    const double apart = style_.height + 2.0 * kClear + 0.1;
    // What moves may reach past the ends of the overall size, so the view may be wider than it.
    const double lo = horizontal(side) ? view_.outline.lo.x : view_.outline.lo.y;
    const double hi = horizontal(side) ? view_.outline.hi.x : view_.outline.hi.y;
    const auto between = [&](double from, double to) {
      return spread(wanted, apart, from + apart / 2 + 0.3, to - apart / 2 - 0.3);
    };
    std::vector<double> labels;
    if (run.within) {
      const auto [from, to] =
          std::minmax({map.paper(run.within->first), map.paper(run.within->second)});
      labels = between(from, to);
    }
    if (labels.empty()) labels = between(lo, hi);
    if (labels.empty()) return false;

    add_circle(work_, at(side, datum, line), kOrigin, style_.pen);
    const double first = std::min(datum, wanted.front());
    const double last = std::max(datum, wanted.back());
    if (first < datum - kOrigin)
      add_line(work_, at(side, first, line), at(side, datum - kOrigin, line), style_.pen);
    if (last > datum + kOrigin)
      add_line(work_, at(side, datum + kOrigin, line), at(side, last, line), style_.pen);
    add_line(work_, at(side, datum, run.near_datum + out * kGap),
             at(side, datum, line - out * kOrigin), style_.pen);
    for (std::size_t i = 0; i < stations.size(); ++i) {
      const double t = wanted[i];
      const double kink = line + out * kKink;
      add_line(work_, at(side, t, stations[i].near + out * kGap), at(side, t, line + out * 1.0),
               style_.pen);
      add_line(work_, at(side, t, line + out * 1.0), at(side, labels[i], kink), style_.pen);
      const double before =
          t < datum ? (i + 1 < wanted.size() ? std::min(datum, wanted[i + 1]) : datum) - t
                    : t - (i > 0 ? std::max(datum, wanted[i - 1]) : datum);
      if (before > kArrow + kOrigin + 0.5) {
        add_arrow(work_, at(side, t, line), at(side, t < datum ? -1.0 : 1.0, 0.0));
      } else {
        add_dot(work_, at(side, t, line), 0.45);
      }
      const std::string text = length_text(sizes[i], style_.show);
      const double start = kink + out * (kClear + 0.4);
      const Align align = out < 0.0 ? Align::right : Align::left;
      // The letters stand centred on the extension line.
      const Vec2 foot = horizontal(side) ? Vec2{labels[i] + style_.height / 2, start}
                                         : Vec2{start, labels[i] - style_.height / 2};
      const InkText value{text, foot, style_.height, align, horizontal(side)};
      if (!free(extent(value))) return false;
      work_.texts.push_back(value);
      work_.dimensions.push_back({text, datum, t, map, style_.show, !horizontal(side), view_.view});
    }
    depth_[index(side)] += running_depth(sizes, style_);
    return true;
  }

  bool add(const std::vector<LinearDimension>& linear) {
    std::vector<Size> sizes;
    for (const LinearDimension& d : linear) sizes.push_back(size_of(d));
    const Drawing before = work_;
    for (int attempt = 0; attempt < 8; ++attempt) {
      work_ = before;
      colour_tracks(sizes);
      for (const Size& s : sizes) draw_lines(s);
      if (place_values(sizes)) return true;
    }
    return false;
  }

  void commit(Drawing& drawing) const {
    const auto append = [](auto& to, const auto& from) {
      to.insert(to.end(), from.begin(), from.end());
    };
    append(drawing.lines, work_.lines);
    append(drawing.arcs, work_.arcs);
    append(drawing.fills, work_.fills);
    append(drawing.texts, work_.texts);
    append(drawing.dimensions, work_.dimensions);
  }

 private:
  struct Size {
    LinearDimension d;
    std::string text;
    double width = 0.0;
    double a = 0.0;  // paper, a < b
    double b = 0.0;
    double near_a = 0.0;
    double near_b = 0.0;
    int least_track = 0;
    double line = 0.0;  // across
    double slack() const { return b - a - width; }
    bool arrows_inside() const { return b - a >= 2.0 * kArrow + 1.0; }
  };

  static std::size_t index(ViewSide side) { return static_cast<std::size_t>(side); }

  bool free(const Rect& rect) const {
    return is_free(page_, rect, kClear) && is_free(work_, rect, kClear) &&
           !overlap(rect, view_.outline);
  }

  Size size_of(const LinearDimension& d) const {
    Size s;
    s.d = d;
    s.text = length_text(std::abs(d.to - d.from), style_.show);
    s.width = text_width(s.text, style_.height);
    const AxisMap& map = map_of(view_, d.side);
    s.a = map.paper(d.from);
    s.b = map.paper(d.to);
    s.near_a = d.near_from;
    s.near_b = d.near_to;
    if (s.a > s.b) {
      std::swap(s.a, s.b);
      std::swap(s.near_a, s.near_b);
    }
    return s;
  }

  /// Shorter sizes nearer to the view; whatever overlaps goes further out.
  void colour_tracks(std::vector<Size>& sizes) const {
    std::vector<Size*> order;
    for (Size& s : sizes) order.push_back(&s);
    std::ranges::stable_sort(order, [](const Size* x, const Size* y) {
      const double dx = x->b - x->a;
      const double dy = y->b - y->a;
      return std::abs(dx - dy) > kSame ? dx < dy : x->a < y->a;
    });
    std::vector<std::vector<std::pair<double, double>>> tracks[4];
    for (Size* s : order) {
      auto& used = tracks[index(s->d.side)];
      // Arrows, and the value when it does not fit between, stand outside of short sizes.
      const double beside = s->arrows_inside() ? 0.0 : kArrow + 2.0;
      const double value = s->slack() < 2.0 * kClear ? s->width + 3.0 : 0.0;
      const double from = s->a - beside - 1.0;
      const double to = s->b + beside + value + 1.0;
      auto track = static_cast<std::size_t>(s->least_track);
      for (std::size_t t = 0; t < used.size(); ++t) {
        for (const auto& [a, b] : used[t]) {
          if (a < to && b > from) track = std::max(track, t + 1);
        }
      }
      if (used.size() <= track) used.resize(track + 1);
      used[track].emplace_back(from, to);
      s->line = edge_of(view_.outline, s->d.side) +
                outward(s->d.side) *
                    (depth_[index(s->d.side)] + static_cast<double>(track) * style_.pitch);
    }
  }

  void draw_lines(const Size& s) {
    const ViewSide side = s.d.side;
    const double out = outward(side);
    add_line(work_, at(side, s.a, s.near_a + out * kGap), at(side, s.a, s.line + out * kPast),
             style_.pen);
    add_line(work_, at(side, s.b, s.near_b + out * kGap), at(side, s.b, s.line + out * kPast),
             style_.pen);
    const double reach = s.arrows_inside() ? 0.0 : kArrow + 2.0;
    add_line(work_, at(side, s.a - reach, s.line), at(side, s.b + reach, s.line), style_.pen);
    const double point = s.arrows_inside() ? 1.0 : -1.0;
    add_arrow(work_, at(side, s.a, s.line), at(side, -point, 0.0));
    add_arrow(work_, at(side, s.b, s.line), at(side, point, 0.0));
  }

  /// The value of `s` with its middle at `along` and its foot on `across`.
  InkText value_at(const Size& s, double along, double across) const {
    return {s.text, at(s.d.side, along, across), style_.height, Align::centre,
            !horizontal(s.d.side)};
  }

  bool place_values(std::vector<Size>& sizes) {
    std::vector<Size*> order;
    for (Size& s : sizes) order.push_back(&s);
    std::ranges::stable_sort(order, {}, [](const Size* s) { return s->slack(); });
    bool all = true;
    for (Size* s : order) {
      if (place_value(*s)) {
        work_.dimensions.push_back({s->text, s->a, s->b, map_of(view_, s->d.side), style_.show,
                                    !horizontal(s->d.side), view_.view});
      } else {
        ++s->least_track;
        all = false;
      }
    }
    return all;
  }

  bool place_value(const Size& s) {
    // Values stand above horizontal lines and to the left of vertical ones.
    const double foot = s.line + (horizontal(s.d.side) ? kAbove : -kAbove);
    const double middle = (s.a + s.b) / 2;
    const auto try_at = [&](double along, double across) {
      const InkText value = value_at(s, along, across);
      if (!free(extent(value))) return false;
      work_.texts.push_back(value);
      return true;
    };
    const double room = s.slack() / 2 - kClear - 0.2;
    for (double shift = 0.0; shift <= room; shift += 1.0) {
      if (try_at(middle + shift, foot) || try_at(middle - shift, foot)) return true;
    }
    const double reach = kArrow + 2.5;
    for (const double sign : {1.0, -1.0}) {
      const double end = sign > 0.0 ? s.b : s.a;
      if (!try_at(end + sign * (reach + s.width / 2), foot)) continue;
      add_line(work_, at(s.d.side, end, s.line),
               at(s.d.side, end + sign * (reach + s.width), s.line), style_.pen);
      return true;
    }
    return place_with_leader(s, middle);
  }

  bool place_with_leader(const Size& s, double middle) {
    for (double radius = 4.0; radius < 30.0; radius += 1.0) {
      for (int k = -6; k <= 6; ++k) {
        const double along = middle + radius * k / 4.0;
        const double across = s.line + outward(s.d.side) * radius;
        const InkText value = value_at(s, along, across);
        const Rect box = extent(value);
        const Vec2 from = at(s.d.side, middle, s.line);
        const Vec2 to{std::clamp(from.x, box.lo.x, box.hi.x),
                      std::clamp(from.y, box.lo.y, box.hi.y)};
        const Vec2 stop = to + normalized(from - to) * kClear;
        if (!free(box) || !is_clear(page_, from, stop) || !is_clear(work_, from, stop)) continue;
        work_.texts.push_back(value);
        add_line(work_, from, stop, style_.pen);
        return true;
      }
    }
    return false;
  }

  const Drawing& page_;
  const ViewPlace& view_;
  const DimensionStyle& style_;
  Drawing work_;
  double depth_[4];  // where the next dimension line of each side stands
};

constexpr std::size_t kFewPositions = 2;  // up to this many stand as linear dimensions

/// Where the picture begins, seen from a side, in line with a place on its axis; `outline` when
/// nothing of it lies there.
double outermost(const Drawing& drawing, const ViewPlace& view, ViewSide side, double along) {
  constexpr double reach = 0.02;  // mm on paper
  const double out = outward(side);
  double found = 0.0;
  bool any = false;
  const auto add = [&](Vec2 a, Vec2 b) {
    if (!horizontal(side)) {
      std::swap(a.x, a.y);
      std::swap(b.x, b.y);
    }
    if (a.x > b.x) std::swap(a, b);
    if (along < a.x - reach || along > b.x + reach) return;
    const double run = b.x - a.x;
    const auto height = [&](double x) {
      return run < reach ? (out * a.y > out * b.y ? a.y : b.y)
                         : a.y + (b.y - a.y) * std::clamp((x - a.x) / run, 0.0, 1.0);
    };
    const double y = height(along);
    if (!any || out * y > out * found) found = y;
    any = true;
  };
  for (const InkLine& l : drawing.lines) {
    if (l.view == view.view) add(l.a, l.b);
  }
  for (const InkArc& arc : drawing.arcs) {
    if (arc.view != view.view) continue;
    const auto points = arc.polyline();
    for (std::size_t i = 1; i < points.size(); ++i) add(points[i - 1], points[i]);
  }
  return any ? found : edge_of(view.outline, side);
}

std::vector<double> sorted_positions(const AxisPlan& axis) {
  std::vector<double> p = axis.positions;
  std::ranges::sort(p);
  p.erase(
      std::unique(p.begin(), p.end(), [](double a, double b) { return std::abs(a - b) < kSame; }),
      p.end());
  std::erase_if(p, [&](double v) {
    return std::abs(v - axis.datum) < kSame || std::abs(v - axis.end) < kSame;
  });
  return p;
}

}  // namespace

bool add_dimensions(Drawing& drawing, const ViewPlace& view,
                    const std::vector<LinearDimension>& linear,
                    const std::vector<RunningDimensions>& running, const DimensionStyle& style) {
  Placer placer(drawing, view, style);
  for (const RunningDimensions& run : running) {
    if (!placer.add(run)) return false;
  }
  if (!placer.add(linear)) return false;
  placer.commit(drawing);
  return true;
}

bool add_axis_dimensions(Drawing& drawing, const ViewPlace& view, const std::vector<AxisPlan>& axes,
                         const DimensionStyle& style) {
  std::vector<LinearDimension> linear;
  std::vector<RunningDimensions> running;
  for (const AxisPlan& axis : axes) {
    const AxisMap& map = map_of(view, axis.side);
    const auto near = [&](double at) {
      return view.view < 0 ? edge_of(view.outline, axis.side)
                           : outermost(drawing, view, axis.side, map.paper(at));
    };
    const auto positions = sorted_positions(axis);
    if (axis.overall)
      linear.push_back({axis.side, axis.datum, axis.end, near(axis.datum), near(axis.end)});
    if (positions.size() <= kFewPositions) {
      for (const double p : positions)
        linear.push_back({axis.side, axis.datum, p, near(axis.datum), near(p)});
    } else {
      RunningDimensions run{axis.side, axis.datum, near(axis.datum), {}, {}};
      if (axis.overall) run.within = {axis.datum, axis.end};
      for (const double p : positions) run.stations.push_back({p, near(p)});
      running.push_back(std::move(run));
    }
  }
  return add_dimensions(drawing, view, linear, running, style);
}

double depth_of(const AxisPlan& axis, const DimensionStyle& style) {
  auto positions = sorted_positions(axis);
  for (double& p : positions) p = std::abs(p - axis.datum);
  double depth = style.first;
  double tracks = axis.overall ? 1.0 : 0.0;
  if (positions.size() <= kFewPositions) {
    tracks += static_cast<double>(positions.size());
  } else {
    depth += running_depth(positions, style);
  }
  // A value to the outside of the last line, or the overshoot of extension lines.
  return depth + std::max(0.0, tracks - 1.0) * style.pitch +
         (tracks > 0.0 ? style.height + kAbove + 1.0 : 0.0);
}

std::vector<double> spread(std::vector<double> wanted, double apart, double lo, double hi) {
  const auto n = wanted.size();
  if (n == 0) return {};
  const double room = hi - lo - apart * static_cast<double>(n - 1);
  if (room < 0.0) return {};
  // With the spacing taken out this is isotonic regression: pool neighbours that are out of order.
  struct Pool {
    double sum;
    std::size_t count;
    double mean() const { return sum / static_cast<double>(count); }
  };
  std::vector<Pool> pools;
  for (std::size_t i = 0; i < n; ++i) {
    pools.push_back({wanted[i] - apart * static_cast<double>(i), 1});
    while (pools.size() > 1 && pools[pools.size() - 2].mean() > pools.back().mean()) {
      const Pool last = pools.back();
      pools.pop_back();
      pools.back() = {pools.back().sum + last.sum, pools.back().count + last.count};
    }
  }
  std::vector<double> out;
  for (const Pool& pool : pools) {
    for (std::size_t k = 0; k < pool.count; ++k) {
      const double base = std::clamp(pool.mean(), lo, lo + room);
      out.push_back(base + apart * static_cast<double>(out.size()));
    }
  }
  return out;
}

}  // namespace ribbay
