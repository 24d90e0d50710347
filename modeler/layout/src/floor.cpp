#include "floor.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace ribbay::detail {

namespace {

/// The shortest way out of a zone, for a hole of that radius.
std::pair<double, const char*> way_out(const NoDrill& zone, Vec2 at, double radius) {
  const std::array<std::pair<double, const char*>, 4> ways{{
      {at.x + radius - zone.from, "to the rear"},
      {zone.to - at.x + radius, "to the front"},
      {at.y + radius - zone.right, "to the right"},
      {zone.left - at.y + radius, "to the left"},
  }};
  return *std::ranges::min_element(ways, {}, &std::pair<double, const char*>::first);
}

}  // namespace

void check_floor_bolts(Layout& layout, Findings& findings) {
  for (FloorBolt& bolt : layout.floor_bolts) {
    const double radius = bolt.diameter / 2;
    const auto point = std::ranges::find_if(layout.vehicle->hard_points, [&](const HardPoint& p) {
      return length(p.at - bolt.at) <= radius;
    });
    if (point != layout.vehicle->hard_points.end()) {
      bolt.hard_point = point->name;
      continue;
    }
    const NoDrill* zone = no_drill_at(*layout.vehicle, bolt.at, radius);
    if (zone == nullptr) continue;
    const auto [distance, way] = way_out(*zone, bolt.at, radius);
    Finding finding;
    finding.code = "layout.floor_bolt_no_drill";
    finding.subjects = {bolt.id};
    finding.at = Vec3{bolt.at.x, bolt.at.y, 0.0};
    finding.with("zone", zone->name)
        .with("what", zone->what)
        .with("measured", distance, Unit::mm)
        .with("way", way);
    if (const Module* module = layout.module(bolt.id.substr(0, bolt.id.find('/')))) {
      finding.place = module->place;
    }
    findings.push_back(std::move(finding));
  }
}

}  // namespace ribbay::detail
