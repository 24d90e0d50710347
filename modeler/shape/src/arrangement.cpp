#include "arrangement.hpp"

#include "base/tolerance.hpp"

#include <algorithm>
#include <array>
#include <map>

namespace ribbay::detail {
namespace {

/// A closed outline of the plan: the section's outer loop, one of its holes, or a cut.
struct Outline {
  std::vector<Side> sides;
  Rect box;
  int cut = -1;    ///< index of the cut, or -1 for a loop of the section
  int inside = 1;  ///< winding number of its inside: 1 or -1
};

Outline outline_of(const Loop& loop, int cut) {
  Outline outline{sides(loop), {}, cut};
  outline.box = bounds(outline.sides);
  double area = 0.0;
  for (const Side& side : outline.sides) area += moments(side).area;
  outline.inside = area < 0.0 ? -1 : 1;
  return outline;
}

/// Numbers points so that points closer than kSame become one: the first of them to come.
class PointIndex {
 public:
  explicit PointIndex(std::vector<Vec2>& points) : points_(points) {}

  int operator()(Vec2 p) {
    for (auto it = by_x_.lower_bound(p.x - kSame); it != by_x_.end() && it->first <= p.x + kSame;
         ++it)
      if (length(points_[static_cast<std::size_t>(it->second)] - p) <= kSame) return it->second;
    const int id = static_cast<int>(points_.size());
    points_.push_back(p);
    by_x_.emplace(p.x, id);
    return id;
  }

 private:
  std::vector<Vec2>& points_;
  std::multimap<double, int> by_x_;
};

/// An edge while the plan is being made: which outlines run along it, and in which direction.
struct Draft {
  int from = 0;
  int to = 0;
  Side side;
  std::vector<std::pair<int, int>> along;  ///< outline, +1 with the edge or -1 against it
};

/// The points at which each side is divided, in the order outline, side. Loops of the section do
/// not meet each other (fault() sees to that), nor does a loop meet itself.
std::vector<std::vector<std::vector<Vec2>>> division_points(const std::vector<Outline>& outlines) {
  std::vector<std::vector<std::vector<Vec2>>> points(outlines.size());
  for (std::size_t i = 0; i < outlines.size(); ++i) points[i].resize(outlines[i].sides.size());
  std::vector<Vec2> found;
  for (std::size_t i = 0; i < outlines.size(); ++i)
    for (std::size_t j = i + 1; j < outlines.size(); ++j) {
      if (outlines[i].cut < 0 && outlines[j].cut < 0) continue;
      if (!near(outlines[i].box, outlines[j].box, kSame)) continue;
      for (std::size_t s = 0; s < outlines[i].sides.size(); ++s) {
        const Rect box = bounds(outlines[i].sides[s]);
        if (!near(box, outlines[j].box, kSame)) continue;
        for (std::size_t t = 0; t < outlines[j].sides.size(); ++t) {
          if (!near(box, bounds(outlines[j].sides[t]), kSame)) continue;
          found.clear();
          add_contacts(outlines[i].sides[s], outlines[j].sides[t], found);
          points[i][s].insert(points[i][s].end(), found.begin(), found.end());
          points[j][t].insert(points[j][t].end(), found.begin(), found.end());
        }
      }
    }
  return points;
}

class Drafts {
 public:
  Drafts(const std::vector<Vec2>& points, std::vector<Draft>& drafts)
      : points_(points), drafts_(drafts) {}

  void add(int from, int to, const Side& whole, int outline) {
    Side side = whole;
    side.a = points_[static_cast<std::size_t>(from)];
    side.b = points_[static_cast<std::size_t>(to)];
    const Vec2 middle = point_at(side, 0.5);
    auto& same_ends = by_ends_[{std::min(from, to), std::max(from, to)}];
    for (const std::size_t i : same_ends) {
      Draft& draft = drafts_[i];
      if (length(point_at(draft.side, 0.5) - middle) > 4.0 * kSame) continue;
      draft.along.emplace_back(outline, draft.from == from ? 1 : -1);
      return;
    }
    same_ends.push_back(drafts_.size());
    drafts_.push_back({from, to, side, {{outline, 1}}});
  }

 private:
  const std::vector<Vec2>& points_;
  std::vector<Draft>& drafts_;
  std::map<std::pair<int, int>, std::vector<std::size_t>> by_ends_;
};

std::vector<Draft> divide(const std::vector<Outline>& outlines, std::vector<Vec2>& points) {
  const auto division = division_points(outlines);
  PointIndex index(points);
  // Corners first: where a contact comes close to one, the corner is the truth.
  for (const Outline& outline : outlines)
    for (const Side& side : outline.sides) index(side.a);

  std::vector<Draft> result;
  Drafts drafts(points, result);
  std::vector<std::pair<double, int>> stops;
  for (std::size_t i = 0; i < outlines.size(); ++i)
    for (std::size_t s = 0; s < outlines[i].sides.size(); ++s) {
      const Side& side = outlines[i].sides[s];
      const int first = index(side.a);
      const int last = index(side.b);
      stops.clear();
      for (const Vec2 p : division[i][s]) {
        const int id = index(p);
        if (id != first && id != last) stops.emplace_back(position(side, p), id);
      }
      std::ranges::sort(stops);
      int from = first;
      for (const auto& [where, id] : stops) {
        if (id == from) continue;
        drafts.add(from, id, side, static_cast<int>(i));
        from = id;
      }
      if (from != last) drafts.add(from, last, side, static_cast<int>(i));
    }
  return result;
}

/// The levels at which cuts begin or end, from 0 to `height`.
std::vector<double> levels_of(double height, const std::vector<Cut>& cuts) {
  std::vector<double> all{0.0, height};
  for (const Cut& cut : cuts)
    for (const double z : {cut.from, cut.to})
      if (z > kSame && z < height - kSame) all.push_back(z);
  std::ranges::sort(all);
  std::vector<double> levels;
  for (const double z : all)
    if (levels.empty() || z > levels.back() + kSame) levels.push_back(z);
  return levels;
}

bool inside(const Outline& outline, Vec2 p) {
  return contains(outline.box, p) && winding(outline.sides, p) != 0;
}

/// For each outline, whether the left and the right of `draft` lie inside it. What runs along the
/// edge is decided by its direction, the rest by the middle of the edge, which no other outline can
/// pass through.
std::array<std::vector<bool>, 2> insides(const Draft& draft, const std::vector<Outline>& outlines) {
  std::array<std::vector<bool>, 2> result;
  std::vector<int> turns(outlines.size(), 0);
  std::vector<bool> touched(outlines.size(), false);
  for (const auto& [outline, direction] : draft.along) {
    turns[static_cast<std::size_t>(outline)] += direction;
    touched[static_cast<std::size_t>(outline)] = true;
  }
  const Vec2 middle = point_at(draft.side, 0.5);
  for (std::size_t i = 0; i < outlines.size(); ++i) {
    if (touched[i]) {
      result[0].push_back(turns[i] * outlines[i].inside > 0);
      result[1].push_back(turns[i] * outlines[i].inside < 0);
    } else {
      const bool in = inside(outlines[i], middle);
      result[0].push_back(in);
      result[1].push_back(in);
    }
  }
  return result;
}

Slabs material(const std::vector<bool>& in, const std::vector<Outline>& outlines,
               const std::vector<Cut>& cuts, const std::vector<double>& levels) {
  Slabs slabs(levels.size() - 1, in[0]);
  for (std::size_t i = 1; i < outlines.size(); ++i) {
    if (!in[i]) continue;
    if (outlines[i].cut < 0) return Slabs(levels.size() - 1, false);
    const Cut& cut = cuts[static_cast<std::size_t>(outlines[i].cut)];
    for (std::size_t k = 0; k + 1 < levels.size(); ++k) {
      const double middle = (levels[k] + levels[k + 1]) / 2.0;
      if (cut.from < middle && middle < cut.to) slabs[k] = false;
    }
  }
  return slabs;
}

}  // namespace

Plan plan_of(const Region& section, double height, const std::vector<Cut>& cuts) {
  Plan plan;
  if (!(height > kSame) || section.outer.size() < 3) return plan;

  std::vector<Outline> outlines{outline_of(section.outer, -1)};
  for (const Loop& hole : section.holes) outlines.push_back(outline_of(hole, -1));
  for (std::size_t i = 0; i < cuts.size(); ++i) {
    const bool reaches =
        cuts[i].to > kSame && cuts[i].from < height - kSame && cuts[i].to > cuts[i].from + kSame;
    if (!reaches) continue;
    Outline outline = outline_of(cuts[i].outline, static_cast<int>(i));
    if (near(outline.box, outlines[0].box, 0.0)) outlines.push_back(std::move(outline));
  }
  plan.levels = levels_of(height, cuts);

  for (Draft& draft : divide(outlines, plan.points)) {
    const auto in = insides(draft, outlines);
    PlanEdge edge{draft.from, draft.to, draft.side, material(in[0], outlines, cuts, plan.levels),
                  material(in[1], outlines, cuts, plan.levels)};
    if (edge.left != edge.right) plan.edges.push_back(std::move(edge));
  }
  return plan;
}

}  // namespace ribbay::detail
