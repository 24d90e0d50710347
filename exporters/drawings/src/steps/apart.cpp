#include "assembly/doings.hpp"
#include "base/tolerance.hpp"
#include "box_sight.hpp"
#include "drawings/steps.hpp"
#include "scene.hpp"
#include "steps/looks.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <string>

namespace ribbay {

namespace {

constexpr double kGapShare = 0.08;  // of the largest size of the unit: between things drawn apart
constexpr double kLeastGap = 20.0;  // mm
constexpr double kRim = 12.0;       // mm that neighbours may overlap across their way: tongues
constexpr double kSeen = 0.6;       // share of a thing that should be in sight
constexpr std::size_t kMostRows = 33;    // of the table beside a picture, on an A3
constexpr std::size_t kRowLetters = 48;  // about
constexpr int kTries = 12;  // distances between the nearest clear one and the plan's travel

Box shifted(const Box& box, Vec3 by) {
  return {box.lo + by, box.hi + by};
}

bool overlap(const Box& a, const Box& b) {
  for (int axis = 0; axis < 3; ++axis) {
    if (a.lo[axis] >= b.hi[axis] || b.lo[axis] >= a.hi[axis]) return false;
  }
  return true;
}

/// How far `box` may have gone along the unit vector `way` where it leaves `other`; nothing when it
/// never meets it.
std::optional<double> leaves(const Box& box, Vec3 way, const Box& other) {
  double from = 0.0;
  double to = 1e300;
  for (int axis = 0; axis < 3; ++axis) {
    const double slope = way[axis];
    const double lo = other.lo[axis] - box.hi[axis];
    const double hi = other.hi[axis] - box.lo[axis];
    if (std::abs(slope) < 1e-9) {
      if (lo >= 0.0 || hi <= 0.0) return std::nullopt;
      continue;
    }
    from = std::max(from, std::min(lo / slope, hi / slope));
    to = std::min(to, std::max(lo / slope, hi / slope));
  }
  return from < to ? std::optional(to) : std::nullopt;
}

/// The box without its rims across `way`: a tongue in its groove slides along its neighbour, and
/// the two do not hide each other.
Box core(Box box, Vec3 way) {
  for (int axis = 0; axis < 3; ++axis) {
    if (std::abs(way[axis]) > 0.5) continue;
    const double rim = std::min(kRim, (box.hi[axis] - box.lo[axis]) / 4.0);
    box.lo[axis] += rim;
    box.hi[axis] -= rim;
  }
  return box;
}

/// Rows that lines of words take in the table, about.
std::size_t rows_of(const std::vector<std::string>& lines) {
  std::size_t rows = 0;
  for (const std::string& line : lines) rows += 1 + line.size() / kRowLetters;
  return rows;
}

/// Rows that each step of a unit takes, about; alike ones in a row share theirs.
std::vector<std::size_t> rows_of_steps(const Layout& layout, const Names& names,
                                       const AssemblyPlan& plan, const AssemblyUnit& unit) {
  const Doings doings(layout, names, unit);
  std::vector<std::size_t> rows;
  std::vector<std::string> last;
  for (const AssemblyStep& step : unit.steps) {
    std::vector<std::string> told = doings.before(step);
    std::ranges::move(doings.after(step), std::back_inserter(told));
    rows.push_back(told == last ? 0 : std::max<std::size_t>(rows_of(told), 1));
    last = std::move(told);
  }
  if (rows.empty()) return rows;
  rows.front() += rows_of(doings.of_all());
  rows[doings.squared_after() - 1] += rows_of(doings.squaring(plan));
  rows.back() += rows_of(doings.in_place());
  return rows;
}

/// One unit's things and when they come.
class Apart {
 public:
  Apart(const Layout& layout, const AssemblyUnit& unit, std::size_t index)
      : layout_(layout), unit_(unit), index_(index) {
    for (std::size_t i = 0; i < layout.parts.size(); ++i) by_id_[layout.parts[i].id] = i;
    Box all;
    for (const AssemblyStep& step : unit.steps) {
      Thing thing;
      const auto take = [&](const std::string& id) {
        const auto found = by_id_.find(id);
        if (found != by_id_.end()) thing.parts.push_back(found->second);
      };
      std::ranges::for_each(step.parts, take);
      for (const std::size_t i : thing.parts) thing.box.add(bounds(layout.parts[i]));
      std::ranges::for_each(step.with, take);
      std::ranges::for_each(step.halves, take);
      std::ranges::for_each(step.hardware, take);
      for (const Driven& each : step.fasteners) take(each.id);
      for (const NutRun& run : step.nuts) std::ranges::for_each(run.nuts, take);
      // A step with nothing straight is drawn apart upwards: one sees it best so.
      thing.way = Vec3{0, 0, 1};
      if (step.straight && length(step.direction) > 0.5)
        thing.way = length(step.first) > 0.5 ? -step.first : -step.direction;
      all.add(thing.box);
      things_.push_back(std::move(thing));
    }
    const Vec3 s = all.size();
    gap_ = std::max(kLeastGap, kGapShare * std::max({s.x, s.y, s.z}));
  }

  /// `rows`: that each of its steps takes in the table.
  std::vector<ApartGroup> groups(const std::vector<std::size_t>& rows) {
    std::vector<ApartGroup> out;
    if (!worth_drawing()) return out;
    std::size_t from = 0;
    for (const std::size_t end : ends_of_pages(rows)) {
      out.push_back(group(from, end));
      from = end;
    }
    return out;
  }

 private:
  /// Where pages end that hold at most so many steps, and whose tables are not too long.
  static std::vector<std::size_t> ends_of_pages(const std::vector<std::size_t>& rows,
                                                std::size_t most_steps) {
    std::vector<std::size_t> ends;
    std::size_t from = 0;
    std::size_t sum = 0;
    for (std::size_t i = 0; i < rows.size(); ++i) {
      if (i > from && (sum + rows[i] > kMostRows || i - from == most_steps)) {
        ends.push_back(i);
        from = i;
        sum = 0;
      }
      sum += rows[i];
    }
    ends.push_back(rows.size());
    return ends;
  }

  /// The fewest pages, and as few steps on each as these leave.
  static std::vector<std::size_t> ends_of_pages(const std::vector<std::size_t>& rows) {
    const std::vector<std::size_t> fewest = ends_of_pages(rows, kMostApart);
    for (std::size_t most = rows.size() / fewest.size(); most < kMostApart; ++most) {
      auto ends = ends_of_pages(rows, std::max<std::size_t>(most, 1));
      if (ends.size() == fewest.size()) return ends;
    }
    return fewest;
  }

  /// One thing alone is drawn for the hardware that goes with it.
  bool worth_drawing() const {
    if (things_.size() != 1) return !things_.empty();
    const AssemblyStep& only = unit_.steps.front();
    return !unit_.fixings.empty() || !unit_.put_up.empty() || !only.with.empty() ||
           !only.hardware.empty() || !only.fasteners.empty();
  }

  struct Thing {
    std::vector<std::size_t> parts;
    Vec3 way;  ///< out
    Box box;   ///< of what is no hardware, in its place
  };

  ApartGroup group(std::size_t from, std::size_t to) const {
    ApartGroup group{index_, {}, {}};
    std::vector<Box> standing;
    for (std::size_t i = 0; i < from; ++i) {
      for (const std::size_t part : things_[i].parts) {
        group.standing.push_back(part);
        if (layout_.parts[part].kind != PartKind::hardware)
          standing.push_back(bounds(layout_.parts[part]));
      }
    }
    std::ranges::sort(group.standing);
    for (std::size_t i = from; i < to; ++i) {
      const double far = distance(i, standing, group.steps);
      const Vec3 shift = things_[i].way * far;
      group.steps.push_back({i, things_[i].parts, shift, shifted(things_[i].box, shift)});
    }
    return group;
  }

  double distance(std::size_t index, const std::vector<Box>& standing,
                  const std::vector<ApartStep>& before) const {
    const Thing& thing = things_[index];
    if (standing.empty() && before.empty()) return 0.0;  // the rest comes to it
    std::vector<const Box*> others;
    for (const Box& box : standing) others.push_back(&box);
    for (const ApartStep& step : before) others.push_back(&step.box);
    // Along its way the plan has found it free of all that stands in its place, and of what has
    // gone the same way no further. What has gone another way must be kept clear of.
    const Box middle = core(thing.box, thing.way);
    const double least = least_distance(thing, before);
    double farthest = std::max(least, unit_.steps[index].travel + gap_);
    for (const Box* box : others) {
      const auto past = leaves(middle, thing.way, *box);
      if (past) farthest = std::max(farthest, *past + gap_ / 2.0);
    }
    for (const ApartStep& step : before) {
      const auto past = leaves(thing.box, thing.way, step.box);
      if (past && !same_way(step, thing)) farthest = std::max(farthest, *past + gap_ / 2.0);
    }
    const auto clear = [&](double at) {
      return std::ranges::none_of(others,
                                  [&](const Box* o) { return meets(middle, thing, at, *o); }) &&
             std::ranges::none_of(before, [&](const ApartStep& step) {
               return !same_way(step, thing) && meets(thing.box, thing, at, step.box);
             });
    };
    double best = farthest;
    double most = -1.0;
    for (int i = 0; i <= kTries; ++i) {
      const double at = least + (farthest - least) * i / kTries;
      if (!clear(at)) continue;
      const double seen = seen_at(thing, thing.way * at, others);
      if (seen > most + 0.05) {
        most = seen;
        best = at;
      }
      if (most >= kSeen) break;
    }
    return best;
  }

  bool same_way(const ApartStep& step, const Thing& thing) const {
    return dot(things_[step.step].way, thing.way) > 0.99;
  }

  /// What came before along the same way stays nearer to its place; what stood beside it is passed
  /// by half a gap, so that the two do not look like one.
  double least_distance(const Thing& thing, const std::vector<ApartStep>& before) const {
    double least = gap_;
    for (const ApartStep& step : before) {
      if (!same_way(step, thing)) continue;
      if (const auto past = leaves(core(thing.box, thing.way), thing.way, step.box)) {
        least = std::max(least, *past + gap_ / 2.0);
      } else if (leaves(grown(thing.box, gap_ / 4.0), thing.way, step.box)) {
        least = std::max(least, length(step.shift) + gap_ / 2.0);
      }
    }
    return least;
  }

  /// True when `box` of a thing, `at` along its way, has no air before or behind it.
  bool meets(const Box& box, const Thing& thing, double at, const Box& other) const {
    Box there = shifted(box, thing.way * (at - gap_ / 8.0));
    there.add(shifted(box, thing.way * (at + gap_ / 8.0)));
    return overlap(grown(there, -kContact), other);
  }

  /// From the corner that sees most of it.
  static double seen_at(const Thing& thing, Vec3 shift, const std::vector<const Box*>& others) {
    double most = 0.0;
    for (const Vec3 eye : detail::upper_corners()) {
      const auto [seen, turned] = detail::sight_of(shifted(thing.box, shift), eye, others);
      most = std::max(most, seen / turned);
    }
    return most;
  }

  const Layout& layout_;
  const AssemblyUnit& unit_;
  std::size_t index_;
  std::map<std::string, std::size_t> by_id_;
  std::vector<Thing> things_;
  double gap_ = kLeastGap;
};

}  // namespace

std::vector<ApartGroup> taken_apart(const Layout& layout, const AssemblyPlan& plan) {
  std::vector<ApartGroup> out;
  const Names names(layout);
  for (std::size_t i = 0; i < plan.units.size(); ++i) {
    const auto rows = rows_of_steps(layout, names, plan, plan.units[i]);
    std::ranges::move(Apart(layout, plan.units[i], i).groups(rows), std::back_inserter(out));
  }
  return out;
}

}  // namespace ribbay
