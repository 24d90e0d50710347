#include "lining_surface.hpp"

#include "base/tolerance.hpp"
#include "walls.hpp"

#include <algorithm>
#include <cmath>
#include <set>

namespace ribbay::detail {

namespace {

/// Places of a section lie no further apart than this, mm: an arc of 600 mm radius rises 0.005 mm
/// over half of it.
constexpr double kStep = 5.0;
/// The roof is looked at this often across the van, mm; between, it is taken as straight.
constexpr double kRoofStep = 10.0;
/// The end of a bow is drawn as a slope over this width, as a rib's is in walls.cpp.
constexpr double kEnd = 0.5;

Vehicle emptied(const Vehicle& vehicle) {
  Vehicle bare = vehicle;
  bare.ribs.clear();
  bare.bows.clear();
  bare.arches.clear();
  bare.openings.clear();
  return bare;
}

/// Points between, so that none lie far apart.
std::vector<RoomPoint> dense(const std::vector<RoomPoint>& line) {
  std::vector<RoomPoint> result;
  for (std::size_t i = 0; i < line.size(); ++i) {
    if (i > 0) {
      const RoomPoint& a = line[i - 1];
      const RoomPoint& b = line[i];
      const int parts = static_cast<int>(std::ceil((b.s - a.s) / kStep));
      for (int k = 1; k < parts; ++k) {
        const double t = static_cast<double>(k) / parts;
        result.push_back(
            {std::lerp(a.s, b.s, t), std::lerp(a.bare, b.bare, t), std::lerp(a.free, b.free, t)});
      }
    }
    result.push_back(line[i]);
  }
  return result;
}

/// Places y across the van where the roof over x0..x1 may bend: the surveyed points of both sides,
/// where they are at x0 and x1 and at the stations between, and the ends of bows.
void add_roof_breaks(const Vehicle& vehicle, double x0, double x1, std::set<double>& all) {
  const auto add_row = [&](const std::vector<WallPoint>& points, double sign) {
    for (const WallPoint& point : points) all.insert(sign * point.half_width);
  };
  const auto add_between = [&](const std::vector<WallPoint>& a, const std::vector<WallPoint>& b,
                               double t, double sign) {
    for (std::size_t i = 0; i < std::min(a.size(), b.size()); ++i)
      all.insert(sign * std::lerp(a[i].half_width, b[i].half_width, t));
  };
  for (std::size_t i = 0; i + 1 < vehicle.stations.size(); ++i) {
    const Station& a = vehicle.stations[i];
    const Station& b = vehicle.stations[i + 1];
    if (a.x > x1 || b.x < x0) continue;
    for (const Station* station : {&a, &b}) {
      add_row(station->left, 1.0);
      add_row(station->right, -1.0);
    }
    for (const double x : {x0, x1}) {
      const double t = std::clamp((x - a.x) / (b.x - a.x), 0.0, 1.0);
      add_between(a.left, b.left, t, 1.0);
      add_between(a.right, b.right, t, -1.0);
    }
  }
  for (const Bow& bow : vehicle.bows) {
    for (const double end : {bow.from, bow.to}) {
      for (const double by : {-kEnd, 0.0, kEnd}) all.insert(end + by);
    }
  }
}

}  // namespace

LinedSurface::LinedSurface(const ModuleRequest& request, bool roof)
    : r_{request},
      roof_{roof},
      side_{request.fields.text("faces") == "left" ? VanSide::right : VanSide::left},
      bare_{emptied(request.vehicle)} {}

Vec3 LinedSurface::in_module(double x, Vec2 section) const {
  if (roof_) return {x, r_.size.y - section.x, section.y};
  return {x, section.y, section.x};
}

Vec3 LinedSurface::direction(Vec2 section) const {
  if (roof_) return {0, -section.x, section.y};
  return {0, section.y, section.x};
}

double LinedSurface::along(double van) const {
  if (roof_) return r_.size.y - r_.from_van({0, van, 0}).y;
  return r_.from_van({0, 0, van}).z;
}

std::vector<double> LinedSurface::breaks(double x0, double x1) const {
  std::set<double> all;
  if (roof_) {
    add_roof_breaks(r_.vehicle, x0, x1, all);
    for (double s = kRoofStep; s < extent(); s += kRoofStep)
      all.insert(r_.to_van(in_module(0, {s, 0})).y);
  } else {
    const double z0 = r_.to_van(Vec3{}).z;
    for (const Vehicle* vehicle : {&r_.vehicle, &bare_}) {
      for (const WallHeight& height : wall_outline(*vehicle, x0, x1, z0, z0 + r_.size.z))
        all.insert(height.z);
    }
  }
  std::set<double> places{0.0, extent()};
  for (const double van : all) places.insert(along(van));
  std::vector<double> result;
  for (const double s : places) {
    if (s < 0.0 || s > extent()) continue;
    if (result.empty() || s - result.back() > kSame) result.push_back(s);
  }
  return result;
}

std::optional<double> LinedSurface::limit(const Vehicle& vehicle, double x0, double x1,
                                          double s) const {
  const Vec3 there = r_.to_van(in_module(0, {s, 0}));
  if (roof_) {
    const auto height = clear_height(vehicle, x0, x1, there.y, there.y);
    if (!height) return std::nullopt;
    return r_.from_van({0, 0, *height}).z;
  }
  const auto width = clear_width(vehicle, x0, x1, there.z, there.z);
  if (!width) return std::nullopt;
  return r_.from_van({0, side_ == VanSide::left ? width->left : width->right, 0}).y;
}

std::vector<RoomPoint> LinedSurface::line(double x0, double x1) const {
  const auto [from, to] = std::minmax({van_x(x0), van_x(x1)});
  std::vector<RoomPoint> line;
  for (const double s : breaks(from, to)) {
    const auto bare = limit(bare_, from, to, s);
    const auto free = limit(r_.vehicle, from, to, s);
    if (!bare || !free) return {};
    line.push_back({s, *bare, *free});
  }
  return dense(line);
}

std::optional<double> LinedSurface::free_at(double x, double s) const {
  return limit(r_.vehicle, van_x(x), van_x(x), s);
}

std::vector<Holder> LinedSurface::holders(double x0, double x1) const {
  std::vector<Holder> found;
  const auto add = [&](std::string id, double van_x, double width, double from, double to,
                       bool steel) {
    const double x = r_.from_van({van_x, 0, 0}).x;
    if (x + width / 2 < x0 || x - width / 2 > x1) return;
    const auto [first, last] = std::minmax({along(from), along(to)});
    found.push_back({std::move(id), x, width, first, last, steel});
  };
  if (roof_) {
    for (const Bow& bow : r_.vehicle.bows)
      add("vehicle/bow." + bow.name, bow.x, bow.width, bow.from, bow.to, bow.steel);
  } else {
    for (const Rib& rib : r_.vehicle.ribs) {
      if (rib.side != side_) continue;
      add("vehicle/rib." + rib.name, rib.x, rib.width, rib.from, rib.to, rib.steel);
    }
  }
  std::ranges::sort(found, {}, &Holder::x);
  return found;
}

}  // namespace ribbay::detail
