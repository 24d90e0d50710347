#include "boundary.hpp"

#include "base/tolerance.hpp"
#include "polygon.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numeric>
#include <tuple>

namespace ribbay::detail {
namespace {

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

/// A straight edge of the plan, or one chord of an arc.
struct Chord {
  int from = 0;
  int to = 0;
  Slabs left;
  Slabs right;
  int circle = -1;  ///< index into Chords::circles, or -1
  Vec2 leaving;     ///< unit direction of the true outline at `from`
  Vec2 arriving;    ///< and at `to`
  int line = 0;     ///< collinear neighbours share the number: that of one of them
};

struct Circle {
  Vec2 centre;
  double radius = 0.0;
};

struct Chords {
  std::vector<Vec2> points;
  std::vector<Chord> chords;
  std::vector<Circle> circles;
};

int circle_number(std::vector<Circle>& circles, const Side& arc) {
  for (std::size_t i = 0; i < circles.size(); ++i)
    if (length(circles[i].centre - arc.centre) <= kSame &&
        std::abs(circles[i].radius - arc.radius) <= kSame)
      return static_cast<int>(i);
  circles.push_back({arc.centre, arc.radius});
  return static_cast<int>(circles.size()) - 1;
}

/// Whether `middle` lies on the line from `a` to `b`, between them.
bool straight(Vec2 a, Vec2 middle, Vec2 b) {
  const Vec2 line = b - a;
  return std::abs(cross(line, middle - a)) <= 2.0 * kSame * length(line) &&
         dot(middle - a, b - middle) > 0.0;
}

/// Gives collinear neighbours one number, so that their walls become one plane.
void number_lines(Chords& plan) {
  std::vector<std::vector<int>> meeting(plan.points.size());
  for (std::size_t i = 0; i < plan.chords.size(); ++i) {
    plan.chords[i].line = static_cast<int>(i);
    if (plan.chords[i].circle >= 0) continue;
    meeting[at(plan.chords[i].from)].push_back(static_cast<int>(i));
    meeting[at(plan.chords[i].to)].push_back(static_cast<int>(i));
  }
  const auto root = [&](int i) {
    while (plan.chords[at(i)].line != i) i = plan.chords[at(i)].line;
    return i;
  };
  for (std::size_t v = 0; v < plan.points.size(); ++v) {
    const auto far_end = [&](int i) {
      const Chord& chord = plan.chords[at(i)];
      return plan.points[at(chord.from == static_cast<int>(v) ? chord.to : chord.from)];
    };
    for (std::size_t i = 0; i < meeting[v].size(); ++i)
      for (std::size_t j = 0; j < i; ++j)
        if (straight(far_end(meeting[v][i]), plan.points[v], far_end(meeting[v][j]))) {
          const int a = root(meeting[v][i]);
          const int b = root(meeting[v][j]);
          plan.chords[at(std::max(a, b))].line = std::min(a, b);
        }
  }
  for (std::size_t i = 0; i < plan.chords.size(); ++i)
    plan.chords[i].line = root(static_cast<int>(i));
}

Chords chords_of(const Plan& plan, double chord) {
  Chords result;
  result.points = plan.points;
  for (const PlanEdge& edge : plan.edges) {
    const Side& side = edge.side;
    const int n = side.arc ? chords_for(side.radius, sweep(side), chord) : 1;
    const int circle = side.arc ? circle_number(result.circles, side) : -1;
    int from = edge.from;
    for (int i = 1; i <= n; ++i) {
      int to = edge.to;
      if (i < n) {
        to = static_cast<int>(result.points.size());
        result.points.push_back(point_at(side, static_cast<double>(i) / n));
      }
      result.chords.push_back({from, to, edge.left, edge.right, circle,
                               tangent(side, result.points[at(from)]),
                               tangent(side, result.points[at(to)])});
      from = to;
    }
  }
  number_lines(result);
  return result;
}

/// A plane of the boundary: a level seen from above or below, or the walls along one line.
struct Plane {
  bool wall = false;
  int index = 0;          ///< of the level or the line
  bool positive = false;  ///< faces up; a wall: faces right of the chord that names its line
  friend auto operator<=>(const Plane&, const Plane&) = default;
};

/// An edge of the solid between two planes. Walking from `from` to `to`, face `left` lies on the
/// left as seen from outside, and face `right` on the right.
struct SolidEdge {
  int from = 0;  ///< nodes: point of the plan * number of levels + level
  int to = 0;
  Plane left;
  Plane right;
  bool smooth = false;
  int circle = -1;
};

class Boundary {
 public:
  Boundary(const Plan& plan, double chord) : levels_(plan.levels), plan_(chords_of(plan, chord)) {}

  Facets build() {
    add_level_edges();
    add_upright_edges();
    find_joints();
    add_faces();
    add_edges();
    return std::move(facets_);
  }

 private:
  int level_count() const { return static_cast<int>(levels_.size()); }
  int node(int point, int level) const { return point * level_count() + level; }
  Vec2 point(int i) const { return plan_.points[at(i)]; }
  Vec3 position(int node) const {
    const Vec2 p = point(node / level_count());
    return {p.x, p.y, levels_[at(node % level_count())]};
  }
  Vec2 along(const Chord& chord) const { return point(chord.to) - point(chord.from); }

  Plane wall(const Chord& chord, bool faces_right) const {
    const Chord& name_giver = plan_.chords[at(chord.line)];
    const bool same_way = dot(along(chord), along(name_giver)) > 0.0;
    return {true, chord.line, faces_right == same_way};
  }

  Vec3 normal(const Plane& plane) const {
    const double sign = plane.positive ? 1.0 : -1.0;
    if (!plane.wall) return {0.0, 0.0, sign};
    const Vec2 d = normalized(along(plan_.chords[at(plane.index)]));
    return Vec3{d.y, -d.x, 0.0} * sign;
  }

  /// Around an edge of the plan at a level stand four quarters: left below, left above, right
  /// above, right below. Each run of solid quarters has a face at either end; they make an edge
  /// unless the run is half the round, when they are one plane.
  void add_level_edges() {
    for (const Chord& chord : plan_.chords)
      for (int k = 0; k < level_count(); ++k) {
        const auto solid = [&](const Slabs& slabs, int slab) {
          return slab >= 0 && slab + 1 < level_count() && slabs[at(slab)];
        };
        const std::array<bool, 4> quarter{solid(chord.left, k - 1), solid(chord.left, k),
                                          solid(chord.right, k), solid(chord.right, k - 1)};
        // The face that closes quarter i towards the next one, and the one that opens it.
        const auto closing = [&](std::size_t i) {
          switch (i) {
            case 0:
              return Plane{false, k, true};
            case 1:
              return wall(chord, true);
            case 2:
              return Plane{false, k, false};
            default:
              return wall(chord, false);
          }
        };
        const auto opening = [&](std::size_t i) {
          switch (i) {
            case 0:
              return wall(chord, true);
            case 1:
              return Plane{false, k, false};
            case 2:
              return wall(chord, false);
            default:
              return Plane{false, k, true};
          }
        };
        for (std::size_t first = 0; first < 4; ++first) {
          if (!quarter[first] || quarter[(first + 3) % 4]) continue;
          std::size_t run = 1;
          while (quarter[(first + run) % 4]) ++run;
          if (run == 2) continue;
          const std::size_t last = (first + run - 1) % 4;
          edges_.push_back({node(chord.from, k), node(chord.to, k), closing(last), opening(first),
                            false, chord.circle});
        }
      }
  }

  /// A wall as it leaves a point of the plan.
  struct Leaving {
    double angle = 0.0;
    const Chord* chord = nullptr;
    bool outward = true;  ///< the chord begins here
    Vec2 tangent;         ///< of the true outline, away from the point
  };

  std::vector<Leaving> leaving(int p, const std::vector<int>& chords) const {
    std::vector<Leaving> result;
    for (const int i : chords) {
      const Chord& chord = plan_.chords[at(i)];
      const bool outward = chord.from == p;
      const Vec2 d = outward ? along(chord) : along(chord) * -1.0;
      result.push_back(
          {std::atan2(d.y, d.x), &chord, outward, outward ? chord.leaving : chord.arriving * -1.0});
    }
    std::ranges::sort(result, {}, &Leaving::angle);
    return result;
  }

  void add_upright_edges() {
    std::vector<std::vector<int>> meeting(plan_.points.size());
    for (std::size_t i = 0; i < plan_.chords.size(); ++i) {
      meeting[at(plan_.chords[i].from)].push_back(static_cast<int>(i));
      meeting[at(plan_.chords[i].to)].push_back(static_cast<int>(i));
    }
    for (int p = 0; p < static_cast<int>(plan_.points.size()); ++p) {
      const std::vector<Leaving> all = leaving(p, meeting[at(p)]);
      for (int slab = 0; slab + 1 < level_count(); ++slab) add_upright_edges(p, slab, all);
    }
  }

  /// Going around a point, material begins at one wall and ends at the next.
  void add_upright_edges(int p, int slab, const std::vector<Leaving>& all) {
    std::vector<Leaving> walls;
    for (const Leaving& l : all)
      if (l.chord->left[at(slab)] != l.chord->right[at(slab)]) walls.push_back(l);
    for (std::size_t i = 0; i < walls.size(); ++i) {
      const Leaving& a = walls[i];
      const Leaving& b = walls[(i + 1) % walls.size()];
      const bool solid_between = a.outward ? a.chord->left[at(slab)] : a.chord->right[at(slab)];
      if (!solid_between || a.chord->line == b.chord->line) continue;
      const bool round = a.chord->circle >= 0 || b.chord->circle >= 0;
      const bool smooth = round && dot(a.tangent, b.tangent) < -1.0 + 1e-6;
      edges_.push_back({node(p, slab), node(p, slab + 1), wall(*b.chord, !b.outward),
                        wall(*a.chord, a.outward), smooth});
    }
  }

  /// A node that only divides a straight edge between two faces is no corner.
  void find_joints() {
    ends_.resize(plan_.points.size() * levels_.size());
    for (std::size_t i = 0; i < edges_.size(); ++i) {
      ends_[at(edges_[i].from)].push_back(static_cast<int>(i));
      ends_[at(edges_[i].to)].push_back(static_cast<int>(i));
    }
    joint_.assign(ends_.size(), false);
    for (std::size_t i = 0; i < ends_.size(); ++i) {
      if (ends_[i].size() != 2) continue;
      const SolidEdge& a = edges_[at(ends_[i][0])];
      const SolidEdge& b = edges_[at(ends_[i][1])];
      joint_[i] = std::minmax(a.left, a.right) == std::minmax(b.left, b.right);
    }
  }

  using Nodes = std::vector<int>;

  /// A face's loops as it is walked with its inside on the left.
  std::vector<Nodes> trace(const Plane& plane, std::vector<std::pair<int, int>> steps) const {
    const Vec3 n = normal(plane);
    const Vec3 u = plane.wall ? cross(Vec3{0, 0, 1}, n) : Vec3{n.z, 0, 0};
    const Vec3 v = cross(n, u);
    std::ranges::sort(steps);
    std::vector<bool> used(steps.size(), false);
    const auto angle = [&](int from, int to) {
      const Vec3 d = position(to) - position(from);
      return std::atan2(dot(d, v), dot(d, u));
    };
    // Where loops touch, the next step is the first one clockwise from the way back: it bounds the
    // same corner of the face.
    const auto next_step = [&](const std::pair<int, int>& step) {
      const auto [from, here] = step;
      const double back = angle(here, from);
      std::size_t best = steps.size();
      double least = 10.0;
      for (auto i = static_cast<std::size_t>(std::ranges::lower_bound(steps, std::pair{here, -1}) -
                                             steps.begin());
           i < steps.size() && steps[i].first == here; ++i) {
        if (used[i]) continue;
        double turn = back - angle(here, steps[i].second);
        while (turn <= 1e-9) turn += 6.283185307179586;
        if (turn < least) {
          least = turn;
          best = i;
        }
      }
      return best;
    };
    std::vector<Nodes> loops;
    for (std::size_t start = 0; start < steps.size(); ++start) {
      if (used[start]) continue;
      Nodes loop;
      for (std::size_t i = start; i < steps.size(); i = next_step(steps[i])) {
        used[i] = true;
        if (!joint_[at(steps[i].first)]) loop.push_back(steps[i].first);
        if (steps[i].second == steps[start].first) break;
      }
      if (loop.size() >= 3) loops.push_back(std::move(loop));
    }
    return loops;
  }

  std::vector<Vec3> positions(const Nodes& nodes) const {
    std::vector<Vec3> result;
    for (const int n : nodes) result.push_back(position(n));
    return result;
  }

  void add_faces() {
    std::map<Plane, std::vector<std::pair<int, int>>> steps;
    for (const SolidEdge& edge : edges_) {
      steps[edge.left].emplace_back(edge.from, edge.to);
      steps[edge.right].emplace_back(edge.to, edge.from);
    }
    for (const auto& [plane, around] : steps) {
      const Vec3 n = normal(plane);
      std::vector<FacetFace> faces;
      std::vector<std::vector<Vec3>> holes;
      for (const Nodes& nodes : trace(plane, around)) {
        std::vector<Vec3> loop = positions(nodes);
        if (loop_area(loop, n) > 0.0) {
          faces.push_back({{std::move(loop)}, n});
        } else {
          holes.push_back(std::move(loop));
        }
      }
      for (std::vector<Vec3>& hole : holes)
        if (FacetFace* face = face_around(faces, hole)) face->loops.push_back(std::move(hole));
      std::ranges::move(faces, std::back_inserter(facets_.faces));
    }
  }

  /// Positive when the loop runs counter-clockwise seen against `normal`.
  static double loop_area(const std::vector<Vec3>& loop, Vec3 normal) {
    Vec3 sum;
    for (std::size_t i = 0; i < loop.size(); ++i)
      sum = sum + cross(loop[i] - loop[0], loop[(i + 1) % loop.size()] - loop[0]);
    return dot(sum, normal) / 2.0;
  }

  /// The smallest face whose outer loop holds the hole.
  static FacetFace* face_around(std::vector<FacetFace>& faces, const std::vector<Vec3>& hole) {
    FacetFace* best = nullptr;
    double least = 0.0;
    for (FacetFace& face : faces) {
      // A corner of the hole may touch the outer loop; the middle of a side does not.
      if (!inside_loop(face.loops[0], (hole[0] + hole[1]) * 0.5, face.normal)) continue;
      const double size = loop_area(face.loops[0], face.normal);
      if (best == nullptr || size < least) {
        best = &face;
        least = size;
      }
    }
    return best;
  }

  static bool inside_loop(const std::vector<Vec3>& loop, Vec3 p, Vec3 n) {
    const Vec3 u = std::abs(n.z) > 0.5 ? Vec3{1, 0, 0} : cross(Vec3{0, 0, 1}, n);
    const Vec3 v = cross(n, u);
    const auto flat = [&](Vec3 q) { return Vec2{dot(q - p, u), dot(q - p, v)}; };
    bool in = false;
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const Vec2 a = flat(loop[i]);
      const Vec2 b = flat(loop[(i + 1) % loop.size()]);
      if ((a.y <= 0.0) == (b.y <= 0.0)) continue;
      if ((cross(a, b) > 0.0) == (b.y > a.y)) in = !in;
    }
    return in;
  }

  /// The edge onwards from `node` until a corner comes; marks what it passes.
  int run_to_corner(int node_at, std::size_t edge, std::vector<bool>& done) const {
    while (joint_[at(node_at)]) {
      const auto& both = ends_[at(node_at)];
      edge = at(at(both[0]) == edge ? both[1] : both[0]);
      if (done[edge]) break;
      done[edge] = true;
      node_at = edges_[edge].from == node_at ? edges_[edge].to : edges_[edge].from;
    }
    return node_at;
  }

  void add_edges() {
    std::map<std::pair<int, int>, int> curves;
    std::vector<bool> done(edges_.size(), false);
    for (std::size_t i = 0; i < edges_.size(); ++i) {
      if (done[i]) continue;
      done[i] = true;
      const SolidEdge& edge = edges_[i];
      const int from = run_to_corner(edge.from, i, done);
      const int to = run_to_corner(edge.to, i, done);
      int curve = -1;
      if (edge.circle >= 0) {
        const int level = edge.from % level_count();
        const auto [found, fresh] =
            curves.try_emplace({edge.circle, level}, static_cast<int>(facets_.curves.size()));
        if (fresh) {
          const Circle& c = plan_.circles[at(edge.circle)];
          facets_.curves.push_back(
              {{c.centre.x, c.centre.y, levels_[at(level)]}, {0, 0, 1}, c.radius});
        }
        curve = found->second;
      }
      facets_.edges.push_back({position(from), position(to), normal(edge.left), normal(edge.right),
                               edge.smooth, curve});
    }
  }

  std::vector<double> levels_;
  Chords plan_;
  std::vector<SolidEdge> edges_;
  std::vector<std::vector<int>> ends_;  ///< edges that end at each node
  std::vector<bool> joint_;
  Facets facets_;
};

}  // namespace

Facets boundary_of(const Plan& plan, double chord) {
  if (plan.edges.empty()) return {};
  return Boundary(plan, chord).build();
}

}  // namespace ribbay::detail
