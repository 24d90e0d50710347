#include "floor_plan.hpp"

#include "base/tolerance.hpp"

#include <algorithm>
#include <cmath>
#include <set>

namespace ribbay::detail {

namespace {

/// A step in the plan (the end of an arch) is drawn over this length.
constexpr double kStep = 0.5;
/// The walls are looked at this often along the van, mm; between, they are taken as straight. On a
/// room that narrows by 20 mm from station to station that leaves out under 0.1 mm.
constexpr double kAlong = 50.0;

/// Places x in the van where the plan may bend.
std::set<double> bends(const Vehicle& vehicle, double x0, double x1) {
  std::set<double> all{x0, x1};
  for (double x = x0 + kAlong; x < x1; x += kAlong) all.insert(x);
  for (const Station& station : vehicle.stations) all.insert(station.x);
  const auto add_steps = [&](double from, double to) {
    for (const double end : {from, to}) all.insert({end - kStep, end, end + kStep});
  };
  for (const Rib& rib : vehicle.ribs) add_steps(rib.x - rib.width / 2, rib.x + rib.width / 2);
  for (const WheelArch& arch : vehicle.arches) add_steps(arch.from, arch.to);
  for (const Opening& opening : vehicle.openings) {
    if (opening.kind != OpeningKind::rear) add_steps(opening.from, opening.to);
  }
  return all;
}

}  // namespace

FloorPlan::FloorPlan(const ModuleRequest& request, double gap) : r_{request}, gap_{gap} {
  Box van;
  van.add(r_.to_van({0, 0, 0}));
  van.add(r_.to_van(r_.size));
  std::set<double> places;
  for (const double x : bends(r_.vehicle, van.lo.x, van.hi.x)) {
    for (const double there : {x - gap_, x, x + gap_}) {
      if (there >= van.lo.x && there <= van.hi.x) places.insert(there);
    }
  }
  for (const double x : places) {
    const auto limits = free(x, x);
    if (!limits) {
      rows_.clear();
      return;
    }
    rows_.push_back({r_.from_van({x, 0, 0}).y, limits->x, limits->y});
  }
  std::ranges::sort(rows_, {}, &WallRow::z);
}

std::optional<Vec2> FloorPlan::free(double van_x0, double van_x1) const {
  const auto [from, to] = std::minmax({van_x0, van_x1});
  const double z = r_.to_van(Vec3{}).z;
  const auto clear = clear_width(r_.vehicle, std::max(from - gap_, r_.vehicle.x_min()),
                                 std::min(to + gap_, r_.vehicle.x_max()), z, z + r_.size.z);
  if (!clear) return std::nullopt;
  const auto [low, high] =
      std::minmax({r_.from_van({0, clear->left, 0}).x, r_.from_van({0, clear->right, 0}).x});
  return Vec2{std::max(low + gap_, 0.0), std::min(high - gap_, r_.size.x)};
}

std::optional<Vec2> FloorPlan::strip(double y0, double y1) const {
  const auto limits = free(r_.to_van({0, y0, 0}).x, r_.to_van({0, y1, 0}).x);
  if (!limits || limits->y - limits->x < kGrid) return std::nullopt;
  return limits;
}

std::vector<Vec2> cut_at_passes(Vec2 strip, double y0, double y1,
                                const std::vector<FloorPass>& passes, double beside) {
  std::vector<Vec2> left{strip};
  for (const FloorPass& pass : passes) {
    const double radius = pass.diameter / 2;
    const bool touches = pass.at.y + radius > y0 && pass.at.y - radius < y1;
    if (!touches || std::min(pass.at.y - radius - y0, y1 - pass.at.y - radius) >= beside) continue;
    std::vector<Vec2> cut;
    for (const Vec2 part : left) {
      if (pass.at.x + radius <= part.x || pass.at.x - radius >= part.y) {
        cut.push_back(part);
        continue;
      }
      if (pass.at.x - radius > part.x) cut.push_back({part.x, pass.at.x - radius});
      if (pass.at.x + radius < part.y) cut.push_back({pass.at.x + radius, part.y});
    }
    left = std::move(cut);
  }
  return left;
}

}  // namespace ribbay::detail
