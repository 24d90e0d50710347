#include "van_lines.hpp"

#include "base/tolerance.hpp"
#include "base/wording.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

namespace ribbay::detail {

VanLine floor_outline(const Vehicle& van) {
  VanLine line;
  for (const Station& s : van.stations) {
    if (!s.left.empty()) line.push_back({s.x, s.left.front().half_width});
  }
  for (auto s = van.stations.rbegin(); s != van.stations.rend(); ++s) {
    if (!s->right.empty()) line.push_back({s->x, -s->right.front().half_width});
  }
  if (!line.empty()) line.push_back(line.front());
  return line;
}

VanLine side_outline(const Vehicle& van) {
  VanLine line;
  double floor = 0.0;
  for (const Station& s : van.stations) {
    if (!s.left.empty()) floor = s.left.front().z;
    line.push_back({s.x, floor});
  }
  for (auto s = van.stations.rbegin(); s != van.stations.rend(); ++s) {
    double roof = -std::numeric_limits<double>::infinity();
    for (const WallPoint& p : s->left) roof = std::max(roof, p.z);
    for (const WallPoint& p : s->right) roof = std::max(roof, p.z);
    if (std::isfinite(roof)) line.push_back({s->x, roof});
  }
  if (!line.empty()) line.push_back(line.front());
  return line;
}

VanLine rectangle_line(Vec2 lo, Vec2 hi) {
  return {lo, {hi.x, lo.y}, hi, {lo.x, hi.y}, lo};
}

void draw_line(Drawing& d, const ViewPlace& place, const VanLine& line, Pen pen) {
  for (std::size_t i = 1; i < line.size(); ++i) {
    add_line(d, {place.x.paper(line[i - 1].x), place.y.paper(line[i - 1].y)},
             {place.x.paper(line[i].x), place.y.paper(line[i].y)}, pen);
  }
}

void draw_arches(Drawing& d, const ViewPlace& place, const Vehicle& van) {
  double outer = 0.0;
  for (const Vec2 p : floor_outline(van)) outer = std::max(outer, std::abs(p.y));
  for (const WheelArch& arch : van.arches) {
    const double sign = arch.side == VanSide::left ? 1.0 : -1.0;
    const double y0 = std::min(sign * arch.half_width, sign * outer);
    const double y1 = std::max(sign * arch.half_width, sign * outer);
    draw_line(d, place, rectangle_line({arch.from, y0}, {arch.to, y1}), kGroup35.context());
  }
}

void add_forward(Drawing& d, const Rect& view, bool to_right) {
  const double way = to_right ? 1.0 : -1.0;
  const Vec2 tip{to_right ? view.hi.x - 6.0 : view.lo.x + 6.0, view.hi.y - 8.0};
  const Vec2 tail = tip - Vec2{22.0 * way, 0.0};
  const Rect box{{std::min(tip.x, tail.x) - 1.0, tip.y - 1.5},
                 {std::max(tip.x, tail.x) + 1.0, tip.y + 5.0}};
  if (!is_free(d, box, 1.0)) return;
  add_line(d, tail, tip, kGroup35.thin());
  add_arrow(d, tip, {way, 0});
  add_text(d, say("forward"), tip + Vec2{-12.0 * way, 1.2}, 2.5, Align::centre);
}

namespace {

/// Edges in one upright plane along the van.
class Wires {
 public:
  Wires(double y, Vec3 eye) : y_(y), eye_(eye) {}

  void line(Vec2 a, Vec2 b, int curve = -1) {
    made_.edges.push_back({point(a), point(b), eye_, eye_, false, curve});
  }
  void rectangle(Vec2 lo, Vec2 hi) { polyline(rectangle_line(lo, hi)); }
  void polyline(const VanLine& line_) {
    for (std::size_t i = 1; i < line_.size(); ++i) line(line_[i - 1], line_[i]);
  }
  /// A quarter of a circle from `start` on (radians, counter-clockwise seen with x to the right).
  void quarter(Vec2 centre, double radius, double start) {
    made_.curves.push_back({point(centre), {0, 1, 0}, radius});
    const auto at = [&](int i) {
      const double t = start + std::numbers::pi / 2 * i / kChords;
      return centre + Vec2{std::cos(t), std::sin(t)} * radius;
    };
    for (int i = 0; i < kChords; ++i)
      line(at(i), at(i + 1), static_cast<int>(made_.curves.size()) - 1);
  }
  Facets take() { return std::move(made_); }

 private:
  static constexpr int kChords = 12;
  Vec3 point(Vec2 p) const { return {p.x, y_, p.y}; }

  double y_;
  Vec3 eye_;
  Facets made_;
};

/// Height of the roof line at x.
double roof_at(const Vehicle& van, double x) {
  const auto top = [](const Station& s) {
    double z = 0.0;
    for (const auto* points : {&s.left, &s.right}) {
      for (const WallPoint& p : *points) z = std::max(z, p.z);
    }
    return z;
  };
  std::size_t i = 1;
  while (i + 1 < van.stations.size() && van.stations[i].x < x) ++i;
  const Station& a = van.stations[i - 1];
  const Station& b = van.stations[i];
  const double share = b.x > a.x ? std::clamp((x - a.x) / (b.x - a.x), 0.0, 1.0) : 0.0;
  return top(a) + (top(b) - top(a)) * share;
}

}  // namespace

Facets side_wires(const Vehicle& van, VanSide side, Vec3 eye) {
  constexpr double far_out = 1e4;
  Wires wires(-far_out * eye.y, eye);
  wires.polyline(side_outline(van));
  for (const Rib& rib : van.ribs) {
    if (rib.side == side)
      wires.rectangle({rib.x - rib.width / 2, rib.from}, {rib.x + rib.width / 2, rib.to});
  }
  for (const Bow& bow : van.bows) {
    const double top = roof_at(van, bow.x);
    wires.rectangle({bow.x - bow.width / 2, top - bow.depth}, {bow.x + bow.width / 2, top});
  }
  for (const Opening& opening : van.openings) {
    if (opening.kind != OpeningKind::rear && opening.side == side)
      wires.rectangle({opening.from, opening.bottom}, {opening.to, opening.top});
  }
  for (const WheelArch& arch : van.arches) {
    if (arch.side != side) continue;
    const double r = std::min({arch.radius, arch.height, (arch.to - arch.from) / 2});
    const double shoulder = arch.height - r;
    wires.line({arch.from, 0.0}, {arch.from, shoulder});
    wires.line({arch.to, 0.0}, {arch.to, shoulder});
    wires.line({arch.from + r, arch.height}, {arch.to - r, arch.height});
    if (r < kContact) continue;
    wires.quarter({arch.to - r, shoulder}, r, 0.0);
    wires.quarter({arch.from + r, shoulder}, r, std::numbers::pi / 2);
  }
  return wires.take();
}

}  // namespace ribbay::detail
