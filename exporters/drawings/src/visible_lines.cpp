#include "drawings/visible_lines.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <numbers>

namespace ribbay {

namespace {

constexpr double kTurn = 2.0 * std::numbers::pi;
constexpr double kJoin = 1e-3;        // lines closer than this lie on one line and join, mm
constexpr double kParallel = 1e-6;    // radians
constexpr double kFlatCircle = 1e-6;  // circles leaning less than this are seen as lines

/// A stretch of one carrier: a straight line, or an ellipse.
struct Stretch {
  double from = 0.0;
  double to = 0.0;
  bool visible = true;
  int body = 0;
};

/// What is left when nothing is drawn twice: stretches of one body that meet within `gap` are
/// joined.
std::vector<Stretch> drawn_once(std::vector<Stretch> in, double gap) {
  std::ranges::sort(in, [](const Stretch& a, const Stretch& b) {
    if (a.visible != b.visible) return a.visible;
    if (a.from != b.from) return a.from < b.from;
    return a.to != b.to ? a.to > b.to : a.body < b.body;
  });
  std::vector<Stretch> out;
  const auto append = [&](Stretch s, std::size_t first) {
    if (out.size() > first && out.back().body == s.body && s.from <= out.back().to + gap) {
      out.back().to = std::max(out.back().to, s.to);
    } else {
      out.push_back(s);
    }
  };
  const auto split = std::ranges::find_if(in, [](const Stretch& s) { return !s.visible; });
  double covered = -1e300;
  for (auto s = in.begin(); s != split; ++s) {
    Stretch fresh = *s;
    fresh.from = std::max(s->from, covered);
    if (fresh.to > fresh.from) append(fresh, 0);
    covered = std::max(covered, s->to);
  }
  const std::size_t visible = out.size();
  covered = -1e300;
  for (auto s = split; s != in.end(); ++s) {
    double at = std::max(s->from, covered);
    covered = std::max(covered, s->to);
    for (std::size_t i = 0; i < visible && at < s->to; ++i) {
      const Stretch over = out[i];
      if (over.to <= at || over.from >= s->to) continue;
      if (over.from > at + gap) append({at, over.from, false, s->body}, visible);
      at = std::max(at, over.to);
    }
    if (s->to > at + gap) append({at, s->to, false, s->body}, visible);
  }
  return out;
}

/// A straight line in the picture: the points direction * t + perpendicular(direction) * offset.
struct Straight {
  double angle = 0.0;
  double offset = 0.0;
  Stretch stretch;
};

Straight straight(Vec2 a, Vec2 b, bool visible, int body) {
  Vec2 d = normalized(b - a);
  if (std::abs(d.y) < 1e-7) d = {d.x < 0.0 ? -1.0 : 1.0, 0.0};
  if (std::abs(d.x) < 1e-7) d = {0.0, d.y < 0.0 ? -1.0 : 1.0};
  if (d.x < 0.0 || (d.x == 0.0 && d.y < 0.0)) d = d * -1.0;
  const double ta = dot(d, a);
  const double tb = dot(d, b);
  return {std::atan2(d.y, d.x), cross(d, a), {std::min(ta, tb), std::max(ta, tb), visible, body}};
}

void join_lines(std::vector<Straight> v, const DrawnOptions& options, std::vector<DrawnLine>& out) {
  std::ranges::stable_sort(v, {}, &Straight::angle);
  for (std::size_t i = 0; i < v.size();) {
    std::size_t parallel = i + 1;
    while (parallel < v.size() && v[parallel].angle - v[parallel - 1].angle < kParallel) ++parallel;
    std::stable_sort(v.begin() + static_cast<std::ptrdiff_t>(i),
                     v.begin() + static_cast<std::ptrdiff_t>(parallel),
                     [](const Straight& a, const Straight& b) { return a.offset < b.offset; });
    while (i < parallel) {
      std::size_t end = i + 1;
      while (end < parallel && v[end].offset - v[end - 1].offset < kJoin) ++end;
      std::vector<Stretch> on_line;
      for (std::size_t k = i; k < end; ++k) on_line.push_back(v[k].stretch);
      Vec2 d{std::cos(v[i].angle), std::sin(v[i].angle)};
      if (std::abs(d.x) < 1e-7) d.x = 0.0;
      if (std::abs(d.y) < 1e-7) d.y = 0.0;
      const Vec2 foot = perpendicular(d) * v[i].offset;
      for (const Stretch& s : drawn_once(std::move(on_line), kJoin)) {
        if (s.to - s.from < options.shortest) continue;
        out.push_back({foot + d * s.from, foot + d * s.to, s.visible, s.body});
      }
      i = end;
    }
  }
}

/// Where a circle of a scene is seen: half axes of the ellipse, u the longer one.
struct Ellipse {
  Vec2 centre;
  Vec2 u;
  Vec2 v;
  double angle(Vec2 p) const {
    const double whole = cross(u, v);
    return std::atan2(cross(u, p - centre) / whole, cross(p - centre, v) / whole);
  }
  auto key() const {
    const auto grid = [](double x) { return std::llround(x / kJoin); };
    return std::array{grid(centre.x), grid(centre.y), grid(u.x), grid(u.y), grid(v.x), grid(v.y)};
  }
};

Ellipse seen(const FacetCurve& curve, const ViewFrame& view) {
  const Vec2 centre = view.picture(curve.centre);
  Vec2 axis = view.picture(curve.axis);
  if (length(axis) < 1e-9) return {centre, {curve.radius, 0}, {0, curve.radius}};
  axis = normalized(axis);
  if (axis.y < -1e-9 || (axis.y < 1e-9 && axis.x < 0.0)) axis = axis * -1.0;
  const double lean = std::abs(dot(curve.axis, view.towards_eye()));
  return {centre, perpendicular(axis) * -curve.radius, axis * (curve.radius * lean)};
}

struct Chord {
  Ellipse ellipse;
  Stretch stretch;
};

/// The stretch of `ellipse` between two of its points, the short way, in one or two pieces of [0,
/// turn].
void add_chords(const Ellipse& ellipse, Vec2 a, Vec2 b, bool visible, int body,
                std::vector<Chord>& out) {
  double from = ellipse.angle(a);
  const double by = std::remainder(ellipse.angle(b) - from, kTurn);
  if (by < 0.0) from += by;
  if (from < 0.0) from += kTurn;
  if (from < 0.0 || from >= kTurn) from = 0.0;  // rounding
  const double to = from + std::abs(by);
  out.push_back({ellipse, {from, std::min(to, kTurn), visible, body}});
  if (to > kTurn + 1e-9) out.push_back({ellipse, {0.0, to - kTurn, visible, body}});
}

void join_arcs(std::vector<Chord> v, const DrawnOptions& options, std::vector<DrawnArc>& out) {
  std::ranges::stable_sort(
      v, [](const Chord& a, const Chord& b) { return a.ellipse.key() < b.ellipse.key(); });
  for (std::size_t i = 0; i < v.size();) {
    const Ellipse ellipse = v[i].ellipse;
    std::vector<Stretch> on_ellipse;
    for (; i < v.size() && v[i].ellipse.key() == ellipse.key(); ++i)
      on_ellipse.push_back(v[i].stretch);
    const double radius = length(ellipse.u);
    const double gap = 1e-6 + kJoin / radius;
    std::vector<Stretch> arcs = drawn_once(std::move(on_ellipse), gap);
    // The seam at angle 0 is ours, not the circle's: join across it.
    for (Stretch& last : arcs) {
      if (last.to < kTurn - gap) continue;
      for (Stretch& first : arcs) {
        if (&first == &last || first.from > gap || first.visible != last.visible ||
            first.body != last.body || first.to <= first.from) {
          continue;
        }
        last.to = kTurn + first.to;
        first.to = first.from;
      }
    }
    for (const Stretch& s : arcs) {
      if (s.to <= s.from || (s.to - s.from) * radius < options.shortest) continue;
      const bool full = s.to - s.from > kTurn - gap;
      out.push_back({ellipse.centre, ellipse.u, ellipse.v, full ? 0.0 : s.from, full ? kTurn : s.to,
                     s.visible, s.body});
    }
  }
}

}  // namespace

Drawn visible_lines(const std::vector<Facets>& bodies, const ViewFrame& view,
                    const DrawnOptions& options) {
  std::vector<Straight> lines;
  std::vector<Chord> chords;
  for (const EdgeSpan& span : visible_spans(bodies, view, options.hidden)) {
    const Facets& body = bodies[static_cast<std::size_t>(span.body)];
    const FacetEdge& edge = body.edges[static_cast<std::size_t>(span.edge)];
    const Vec3 along = edge.b - edge.a;
    const Vec2 a = view.picture(edge.a + along * span.from);
    const Vec2 b = view.picture(edge.a + along * span.to);
    if (edge.curve >= 0) {
      const FacetCurve& curve = body.curves[static_cast<std::size_t>(edge.curve)];
      if (std::abs(dot(curve.axis, view.towards_eye())) > kFlatCircle) {
        add_chords(seen(curve, view), a, b, span.visible, span.body, chords);
        continue;
      }
    }
    if (length(b - a) > 1e-7) lines.push_back(straight(a, b, span.visible, span.body));
  }
  Drawn drawn;
  join_lines(std::move(lines), options, drawn.lines);
  join_arcs(std::move(chords), options, drawn.arcs);
  return drawn;
}

}  // namespace ribbay
