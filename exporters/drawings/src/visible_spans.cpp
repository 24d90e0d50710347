#include "base/tolerance.hpp"
#include "drawings/visible_lines.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>

namespace ribbay {

namespace {

constexpr double kEdgeOn =
    1e-9;  // a face whose normal leans less than this to the eye is seen edge on
constexpr double kPoint = 1e-4;      // edges shorter than this in the picture are points, mm
constexpr double kGridSlack = 1e-3;  // cells overlap by this, so that rounding never misses one, mm

struct Interval {
  double from;
  double to;
};

/// A face turned to the eye.
struct FrontFace {
  Vec3 normal;
  double offset = 0.0;                                        // of its plane along the normal
  double nearest = -std::numeric_limits<double>::infinity();  // to the eye
  Vec2 lo{std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()};
  Vec2 hi{-std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()};
  std::uint32_t first_point = 0;
  std::uint32_t first_loop = 0;
  std::uint32_t loops = 0;
};

/// Joins intervals that touch; the result rises.
void unite(std::vector<Interval>& v) {
  std::ranges::sort(v, [](const Interval& a, const Interval& b) {
    return a.from != b.from ? a.from < b.from : a.to < b.to;
  });
  std::size_t kept = 0;
  for (const Interval& i : v) {
    if (kept > 0 && i.from <= v[kept - 1].to + 1e-12) {
      v[kept - 1].to = std::max(v[kept - 1].to, i.to);
    } else {
      v[kept++] = i;
    }
  }
  v.resize(kept);
}

bool whole(const std::vector<Interval>& v) {
  return !v.empty() && v.back().from <= 1e-9 && v.back().to >= 1.0 - 1e-9;
}

/// The picture plane in cells, each with the faces that reach into it.
class Grid {
 public:
  void cover(Vec2 lo, Vec2 hi, std::size_t faces) {
    // About one face per cell, cells as square as the picture allows.
    const double aspect = std::sqrt(std::max(1e-3, (hi.x - lo.x) / std::max(1e-9, hi.y - lo.y)));
    const double side = std::sqrt(static_cast<double>(faces)) * 1.5 + 4.0;
    columns_ = std::clamp(static_cast<int>(side * aspect), 4, 512);
    rows_ = std::clamp(static_cast<int>(side / aspect), 4, 512);
    lo_ = lo - Vec2{1, 1};
    step_ = {(hi.x - lo.x + 2.0) / columns_, (hi.y - lo.y + 2.0) / rows_};
  }

  std::size_t cells() const {
    return static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_);
  }

  /// Calls `visit(cell)` for every cell that the polyline, or with `closed` the hull of its rows,
  /// reaches.
  template <class Visit>
  void walk(const Vec2* points, std::size_t count, bool closed, double y0, double y1,
            Visit&& visit) const {
    const int first = row(y0 - kGridSlack);
    const int last = row(y1 + kGridSlack);
    for (int r = first; r <= last; ++r) {
      const double below = lo_.y + r * step_.y - kGridSlack;
      const double above = below + step_.y + 2.0 * kGridSlack;
      double left = std::numeric_limits<double>::infinity();
      double right = -left;
      for (std::size_t i = 0; i < (closed ? count : count - 1); ++i) {
        Vec2 p = points[i];
        Vec2 q = points[(i + 1) % count];
        if (p.y > q.y) std::swap(p, q);
        if (q.y < below || p.y > above) continue;
        double xp = p.x;
        double xq = q.x;
        if (q.y - p.y > 1e-12) {
          const double slope = (q.x - p.x) / (q.y - p.y);
          if (p.y < below) xp = p.x + slope * (below - p.y);
          if (q.y > above) xq = p.x + slope * (above - p.y);
        }
        left = std::min({left, xp, xq});
        right = std::max({right, xp, xq});
      }
      if (left > right) continue;
      const int from = column(left - kGridSlack);
      const int to = column(right + kGridSlack);
      for (int c = from; c <= to; ++c) visit(static_cast<std::size_t>(r * columns_ + c));
    }
  }

 private:
  int row(double y) const {
    return std::clamp(static_cast<int>((y - lo_.y) / step_.y), 0, rows_ - 1);
  }
  int column(double x) const {
    return std::clamp(static_cast<int>((x - lo_.x) / step_.x), 0, columns_ - 1);
  }

  int columns_ = 1;
  int rows_ = 1;
  Vec2 lo_;
  Vec2 step_{1, 1};
};

/// All faces turned to the eye, ready to be asked what they hide.
class Scene {
 public:
  Scene(const std::vector<Facets>& bodies, const ViewFrame& view)
      : view_(view), towards_(view.towards_eye()) {
    for (const Facets& body : bodies) {
      for (const FacetFace& face : body.faces) add(face);
    }
    if (!faces_.empty()) fill_grid();
    seen_.assign(faces_.size(), 0);
  }

  /// The stretches of `edge` (0 to 1) that faces hide on both of its sides.
  const std::vector<Interval>& hidden(const FacetEdge& edge) {
    hidden_.clear();
    if (faces_.empty()) return hidden_;
    const Vec2 ends[2] = {view_.picture(edge.a), view_.picture(edge.b)};
    const double farthest = std::min(dot(edge.a, towards_), dot(edge.b, towards_));
    left_.clear();
    right_.clear();
    ++tick_;
    bool all = false;
    grid_.walk(ends, 2, false, std::min(ends[0].y, ends[1].y), std::max(ends[0].y, ends[1].y),
               [&](std::size_t cell) {
                 for (std::uint32_t k = start_[cell]; !all && k < start_[cell + 1]; ++k) {
                   const std::uint32_t index = in_cell_[k];
                   const FrontFace& face = faces_[index];
                   if (face.nearest <= farthest + kSame)
                     break;  // near ones first: none of the rest hides
                   if (seen_[index] == tick_) continue;
                   seen_[index] = tick_;
                   clip(edge, ends[0], ends[1], face);
                   all = whole(left_) && whole(right_);
                 }
               });
    unite(left_);
    unite(right_);
    for (std::size_t i = 0, j = 0; i < left_.size() && j < right_.size();) {
      const Interval both{std::max(left_[i].from, right_[j].from),
                          std::min(left_[i].to, right_[j].to)};
      if (both.to - both.from > 1e-9) hidden_.push_back(both);
      if (left_[i].to < right_[j].to)
        ++i;
      else
        ++j;
    }
    return hidden_;
  }

 private:
  void add(const FacetFace& face) {
    if (dot(face.normal, towards_) <= kEdgeOn || face.loops.empty() || face.loops.front().empty())
      return;
    FrontFace front;
    front.normal = face.normal;
    front.offset = dot(face.normal, face.loops.front().front());
    front.first_point = static_cast<std::uint32_t>(points_.size());
    front.first_loop = static_cast<std::uint32_t>(loop_ends_.size());
    front.loops = static_cast<std::uint32_t>(face.loops.size());
    for (const auto& loop : face.loops) {
      for (const Vec3 p : loop) {
        const Vec2 at = view_.picture(p);
        points_.push_back(at);
        front.nearest = std::max(front.nearest, dot(p, towards_));
        front.lo = {std::min(front.lo.x, at.x), std::min(front.lo.y, at.y)};
        front.hi = {std::max(front.hi.x, at.x), std::max(front.hi.y, at.y)};
      }
      loop_ends_.push_back(static_cast<std::uint32_t>(points_.size()));
    }
    faces_.push_back(front);
  }

  void fill_grid() {
    Vec2 lo = faces_.front().lo;
    Vec2 hi = faces_.front().hi;
    for (const FrontFace& f : faces_) {
      lo = {std::min(lo.x, f.lo.x), std::min(lo.y, f.lo.y)};
      hi = {std::max(hi.x, f.hi.x), std::max(hi.y, f.hi.y)};
    }
    grid_.cover(lo, hi, faces_.size());
    start_.assign(grid_.cells() + 1, 0);
    const auto each = [&](auto&& visit) {
      for (std::uint32_t i = 0; i < faces_.size(); ++i) {
        // The outer loop alone decides where a face reaches.
        const FrontFace& f = faces_[i];
        grid_.walk(&points_[f.first_point], loop_ends_[f.first_loop] - f.first_point, true, f.lo.y,
                   f.hi.y, [&](std::size_t cell) { visit(cell, i); });
      }
    };
    each([&](std::size_t cell, std::uint32_t) { ++start_[cell + 1]; });
    for (std::size_t c = 0; c + 1 < start_.size(); ++c) start_[c + 1] += start_[c];
    in_cell_.resize(start_.back());
    std::vector<std::uint32_t> next(start_.begin(), start_.end() - 1);
    each([&](std::size_t cell, std::uint32_t face) { in_cell_[next[cell]++] = face; });
    for (std::size_t c = 0; c + 1 < start_.size(); ++c) {
      std::sort(in_cell_.begin() + start_[c], in_cell_.begin() + start_[c + 1],
                [&](std::uint32_t a, std::uint32_t b) {
                  return faces_[a].nearest != faces_[b].nearest
                             ? faces_[a].nearest > faces_[b].nearest
                             : a < b;
                });
    }
  }

  /// Adds what `face` hides of the edge to left_ and right_.
  void clip(const FacetEdge& edge, Vec2 a, Vec2 b, const FrontFace& face) {
    if (face.hi.x < std::min(a.x, b.x) - kSame || face.lo.x > std::max(a.x, b.x) + kSame ||
        face.hi.y < std::min(a.y, b.y) - kSame || face.lo.y > std::max(a.y, b.y) + kSame) {
      return;
    }
    // Only the stretch behind the face's plane can be hidden by it.
    const double behind_a = dot(face.normal, edge.a) - face.offset;
    const double behind_b = dot(face.normal, edge.b) - face.offset;
    if (behind_a >= -kSame && behind_b >= -kSame) return;
    Interval behind{0.0, 1.0};
    if (behind_a >= -kSame) {
      behind.from = (-kSame - behind_a) / (behind_b - behind_a);
    } else if (behind_b >= -kSame) {
      behind.to = (-kSame - behind_a) / (behind_b - behind_a);
    }
    const auto add_inside = [&](std::vector<Interval>& to) {
      std::ranges::sort(crossings_);
      for (std::size_t i = 0; i + 1 < crossings_.size(); i += 2) {
        const Interval inside{std::max(crossings_[i], behind.from),
                              std::min(crossings_[i + 1], behind.to)};
        if (inside.to > inside.from) to.push_back(inside);
      }
    };
    const bool corner_on_line = cross_outline(a, b, face, false);
    add_inside(left_);
    if (corner_on_line) cross_outline(a, b, face, true);  // only then do the two sides differ
    add_inside(right_);
  }

  /// Collects where the line a-b crosses the outline of `face`. Corners on the line count as lying
  /// to its right, or with `as_left` to its left. Returns whether there were such corners.
  bool cross_outline(Vec2 a, Vec2 b, const FrontFace& face, bool as_left) {
    const Vec2 d = b - a;
    const double square = dot(d, d);
    const double on_line = kSame * std::sqrt(square);
    bool corner_on_line = false;
    const auto distance = [&](Vec2 p) {
      const double s = cross(d, p - a);
      if (std::abs(s) >= on_line) return s;
      corner_on_line = true;
      return 0.0;
    };
    const auto left = [&](double s) { return as_left ? s >= 0.0 : s > 0.0; };
    crossings_.clear();
    std::uint32_t first = face.first_point;
    for (std::uint32_t loop = face.first_loop; loop < face.first_loop + face.loops; ++loop) {
      const std::uint32_t end = loop_ends_[loop];
      Vec2 p = points_[end - 1];
      double sp = distance(p);
      for (std::uint32_t i = first; i < end; ++i) {
        const Vec2 q = points_[i];
        const double sq = distance(q);
        if (left(sp) != left(sq)) {
          const double tp = dot(p - a, d) / square;
          const double tq = dot(q - a, d) / square;
          crossings_.push_back(tp + (tq - tp) * sp / (sp - sq));
        }
        p = q;
        sp = sq;
      }
      first = end;
    }
    return corner_on_line;
  }

  ViewFrame view_;
  Vec3 towards_;
  std::vector<FrontFace> faces_;
  std::vector<Vec2> points_;
  std::vector<std::uint32_t> loop_ends_;
  Grid grid_;
  std::vector<std::uint32_t> start_;    // of each cell in in_cell_
  std::vector<std::uint32_t> in_cell_;  // face indices, nearest first
  // Work space of hidden().
  std::vector<std::uint32_t> seen_;
  std::uint32_t tick_ = 0;
  std::vector<Interval> left_;
  std::vector<Interval> right_;
  std::vector<Interval> hidden_;
  std::vector<double> crossings_;
};

}  // namespace

std::vector<EdgeSpan> visible_spans(const std::vector<Facets>& bodies, const ViewFrame& view,
                                    bool hidden) {
  Scene scene(bodies, view);
  const Vec3 towards = view.towards_eye();
  std::vector<EdgeSpan> spans;
  for (std::size_t body = 0; body < bodies.size(); ++body) {
    for (std::size_t index = 0; index < bodies[body].edges.size(); ++index) {
      const FacetEdge& edge = bodies[body].edges[index];
      const double lean1 = dot(edge.n1, towards);
      const double lean2 = dot(edge.n2, towards);
      if (edge.smooth && (lean1 > kEdgeOn) == (lean2 > kEdgeOn)) continue;
      const double size = length(view.picture(edge.b - edge.a));
      if (size < kPoint) continue;
      const auto add = [&](double from, double to, bool visible) {
        if (visible || hidden) {
          spans.push_back({static_cast<int>(body), static_cast<int>(index), from, to, visible});
        }
      };
      if (lean1 < -kEdgeOn && lean2 < -kEdgeOn) {
        add(0.0, 1.0, false);
        continue;
      }
      const double shortest = kPoint / size;
      double at = 0.0;
      for (const auto& h : scene.hidden(edge)) {
        if (h.from - at > shortest) add(at, h.from, true);
        add(h.from, h.to, false);
        at = std::max(at, h.to);
      }
      if (1.0 - at > shortest) add(at, 1.0, true);
    }
  }
  return spans;
}

}  // namespace ribbay
