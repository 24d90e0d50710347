#include "plan_area.hpp"

#include "base/tolerance.hpp"
#include "features.hpp"

#include <boost/polygon/polygon.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ribbay::detail {

namespace {

namespace poly = boost::polygon;
using namespace boost::polygon::operators;

/// Areas on a grid of whole numbers, where unions and differences are exact.
using Area = poly::polygon_set_data<int>;
using Points = std::vector<poly::point_data<int>>;

constexpr int kThinnest = static_cast<int>(kContact / kGrid);
constexpr int kRoundSides = 48;  ///< of the polygon that stands for a round hole
/// Old threads bite that much further than the hole at most, mm: M16 has a pitch of 2 mm and a
/// thread 1.2 mm high on paper, of which a tapped hole has half outside its diameter (from memory).
constexpr double kThread = 1.0;
/// Chords leave an arc by less than a fifth of kContact.
constexpr double kSagitta = kContact / 5.0;

poly::point_data<int> on_grid(Vec2 at) {
  return {static_cast<int>(std::lround(at.x / kGrid)), static_cast<int>(std::lround(at.y / kGrid))};
}

void add_arc(Points& points, const Side& side) {
  const double from = std::atan2(side.a.y - side.centre.y, side.a.x - side.centre.x);
  double sweep = std::atan2(side.b.y - side.centre.y, side.b.x - side.centre.x) - from;
  const double whole = 2 * std::numbers::pi;
  if (side.counter_clockwise && sweep < 0) sweep += whole;
  if (!side.counter_clockwise && sweep > 0) sweep -= whole;
  const double step = 2 * std::acos(std::max(0.0, 1.0 - kSagitta / side.radius));
  const int chords = std::max(1, static_cast<int>(std::ceil(std::abs(sweep) / step)));
  for (int c = 0; c < chords; ++c) {
    const double angle = from + sweep * c / chords;
    points.push_back(on_grid(side.centre + Vec2{std::cos(angle), std::sin(angle)} * side.radius));
  }
}

Area area_of(const Points& points) {
  Area area;
  area.insert(poly::polygon_data<int>(points.begin(), points.end()));
  return area;
}

Area area_of(const Loop& loop) {
  Points points;
  for (const Side& side : sides(loop)) {
    if (side.arc)
      add_arc(points, side);
    else
      points.push_back(on_grid(side.a));
  }
  return area_of(points);
}

Area area_of(const Region& region) {
  Area area = area_of(region.outer);
  for (const Loop& hole : region.holes) area -= area_of(hole);
  return area;
}

Area area_of(const Box& box) {
  return area_of(rectangle({box.lo.x, box.lo.y}, {box.hi.x, box.hi.y}));
}

bool along_z(const Bore& bore) {
  return std::abs(bore.direction.z) > 1.0 - kSame;
}

/// A polygon around the hole or within it.
Area round_area(const Bore& bore, bool around) {
  const double part = std::numbers::pi / kRoundSides;
  const double thread = around && !bore.thread.empty() ? kThread : 0.0;
  const double radius = bore.diameter / 2 / (around ? std::cos(part) : 1.0) + thread;
  Points points;
  for (int side = 0; side < kRoundSides; ++side) {
    const double angle = (2 * side + 1) * part;
    points.push_back(
        on_grid(Vec2{bore.at.x, bore.at.y} + Vec2{std::cos(angle), std::sin(angle)} * radius));
  }
  return area_of(points);
}

/// Heights between which nothing changes.
std::vector<double> levels_of(const PartRecord& fresh, const PartRecord& old, double from,
                              double to) {
  std::vector<double> levels{from, to};
  for (const PartRecord* part : {&fresh, &old}) {
    for (const Cut& cut : part->cuts) {
      levels.push_back(cut.from);
      levels.push_back(cut.to);
    }
    for (const Bore& bore : part->bores) {
      const Box box = bounds_of(bore);
      levels.push_back(box.lo.z);
      levels.push_back(box.hi.z);
    }
  }
  std::erase_if(levels, [&](double level) { return level < from || level > to; });
  std::ranges::sort(levels);
  return levels;
}

/// The blank of a member counts as endless in plan: both have one section.
Area needed_at(const PartRecord& fresh, double middle, const Area& blank) {
  Area area = blank;
  for (const Cut& cut : fresh.cuts) {
    if (cut.from < middle && middle < cut.to) area -= area_of(cut.outline);
  }
  for (const Bore& bore : fresh.bores) {
    const Box box = bounds_of(bore);
    if (along_z(bore) && box.lo.z < middle && middle < box.hi.z) area -= round_area(bore, false);
  }
  return area;
}

Area there_at(const PartRecord& old, const std::vector<bool>& made, double middle,
              const Area& blank) {
  Area area = blank;
  for (const Cut& cut : old.cuts) {
    if (cut.from < middle && middle < cut.to) area -= area_of(cut.outline);
  }
  for (std::size_t b = 0; b < old.bores.size(); ++b) {
    const Box box = bounds_of(old.bores[b]);
    if (made[b] || box.lo.z >= middle || middle >= box.hi.z) continue;
    area -= along_z(old.bores[b]) ? round_area(old.bores[b], true) : area_of(box);
  }
  return area;
}

/// Whether nothing thicker than a sliver of `needed` lies outside of `there`.
bool covers(const Area& there, Area needed) {
  needed -= there;
  if (needed.empty()) return true;
  poly::shrink(needed, kThinnest / 2 + 1);
  return needed.empty();
}

}  // namespace

Box bounds_of(const Bore& bore) {
  const Vec3 end = bore.at + bore.direction * bore.depth;
  Box box;
  box.add(bore.at);
  box.add(end);
  // A disc of that diameter, square to the direction, reaches so far along each axis.
  for (int axis = 0; axis < 3; ++axis) {
    const double along = bore.direction[axis];
    const double reach = bore.diameter / 2 * std::sqrt(std::max(0.0, 1.0 - along * along));
    box.lo[axis] -= reach;
    box.hi[axis] += reach;
  }
  return box;
}

bool lies_inside(const PartRecord& fresh, const PartRecord& old, const std::vector<bool>& made) {
  const bool member = fresh.kind == PartKind::member;
  // Of members only the lengths lie beside each other: turns.cpp leaves them at z = 0.
  if (!member && fresh.height > old.height + kContact) return false;
  Box all;
  for (const PartRecord* part : {&fresh, &old}) {
    for (const Cut& cut : part->cuts) all.add(bounds_of(cut.outline));
    for (const Bore& bore : part->bores) all.add(bounds_of(bore));
  }
  const Area endless = member && !all.empty() ? area_of(grown(all, 1.0)) : Area();
  const Area needed = member ? endless : area_of(fresh.outline);
  const Area there = member ? endless : area_of(old.outline);
  if (!covers(there, needed)) return false;
  const std::vector<double> levels = levels_of(fresh, old, 0.0, fresh.height);
  for (std::size_t k = 0; k + 1 < levels.size(); ++k) {
    if (levels[k + 1] - levels[k] < kContact + kSame) continue;  // a mark, no hole
    const double middle = (levels[k] + levels[k + 1]) / 2;
    if (!covers(there_at(old, made, middle, there), needed_at(fresh, middle, needed))) return false;
  }
  return true;
}

}  // namespace ribbay::detail
