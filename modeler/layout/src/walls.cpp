#include "walls.hpp"

#include "base/tolerance.hpp"

#include <algorithm>
#include <cmath>
#include <set>

namespace ribbay::detail {

namespace {

/// A step in the outline (the end of a rib) is drawn over this height.
constexpr double kStep = 0.5;
/// The walls are looked at this often along the van, mm.
constexpr double kAlong = 50.0;
/// Heights at which a rounded arch is sampled.
constexpr int kArchSteps = 24;

/// Heights where the outline may bend: surveyed heights, where the diagonals between two stations
/// cross x, ends of ribs and of doors that stand into the room, arches.
std::set<double> bends(const Vehicle& vehicle, double x0, double x1) {
  std::set<double> all;
  const auto add_rows = [&](const std::vector<WallPoint>& points, double fraction) {
    for (std::size_t i = 0; i < points.size(); ++i) {
      all.insert(points[i].z);
      if (i + 1 == points.size()) break;
      const double rise = points[i + 1].z - points[i].z;
      all.insert(points[i].z + fraction * rise);
      all.insert(points[i + 1].z - fraction * rise);
    }
  };
  for (std::size_t i = 0; i + 1 < vehicle.stations.size(); ++i) {
    const Station& a = vehicle.stations[i];
    const Station& b = vehicle.stations[i + 1];
    if (a.x > x1 || b.x < x0) continue;
    for (const double x : {x0, x1}) {
      const double fraction = std::clamp((x - a.x) / (b.x - a.x), 0.0, 1.0);
      for (const Station* station : {&a, &b}) {
        add_rows(station->left, fraction);
        add_rows(station->right, fraction);
      }
    }
  }
  const auto add_step = [&](double z) {
    all.insert(z - kStep);
    all.insert(z);
    all.insert(z + kStep);
  };
  for (const Rib& rib : vehicle.ribs) {
    if (rib.x + rib.width / 2 < x0 || rib.x - rib.width / 2 > x1) continue;
    add_step(rib.from);
    add_step(rib.to);
  }
  for (const WheelArch& arch : vehicle.arches) {
    if (arch.to < x0 || arch.from > x1) continue;
    for (int i = 0; i <= kArchSteps; ++i) all.insert(arch.height * i / kArchSteps);
    add_step(arch.height);
  }
  for (const Opening& opening : vehicle.openings) {
    if (opening.leaf.intrudes <= 0.0 || opening.kind == OpeningKind::rear) continue;
    if (opening.to < x0 || opening.from > x1) continue;
    add_step(opening.bottom);
    add_step(opening.top);
  }
  return all;
}

}  // namespace

std::vector<WallHeight> wall_outline(const Vehicle& vehicle, double x0, double x1, double z0,
                                     double z1, double air) {
  std::set<double> heights;
  for (const double z : bends(vehicle, x0, x1)) heights.insert({z - air, z, z + air});
  heights.insert(z0);
  heights.insert(z1);
  std::vector<WallHeight> outline;
  for (const double z : heights) {
    if (z < z0 || z > z1) continue;
    if (!outline.empty() && z - outline.back().z < kSame && z < z1) continue;
    const auto clear = clear_width(vehicle, x0, x1, std::max(z - air, z0), std::min(z + air, z1));
    if (!clear) return {};
    outline.push_back({z, *clear});
  }
  return outline;
}

bool straight(Vec2 a, Vec2 b, Vec2 c) {
  return std::abs(cross(b - a, c - b)) < kSame * std::max(length(c - a), 1.0);
}

std::optional<ClearWidth> widest_along(const Vehicle& vehicle, double x0, double x1, double z0,
                                       double z1) {
  std::set<double> places{x0, x1};
  for (double x = x0 + kAlong; x < x1; x += kAlong) places.insert(x);
  for (const Station& station : vehicle.stations) {
    if (station.x > x0 && station.x < x1) places.insert(station.x);
  }
  std::vector<WallHeight> all;
  for (const double x : places) {
    const auto clear = clear_width(vehicle, x, x, z0, z1);
    if (!clear) return std::nullopt;
    all.push_back({z0, *clear});
  }
  return widest(all);
}

std::optional<ClearWidth> widest(const std::vector<WallHeight>& outline) {
  if (outline.empty()) return std::nullopt;
  ClearWidth all = outline.front().clear;
  for (const WallHeight& height : outline) {
    all.left = std::max(all.left, height.clear.left);
    all.right = std::min(all.right, height.clear.right);
  }
  return all;
}

}  // namespace ribbay::detail
