#include "floor.hpp"

#include "base/tolerance.hpp"

#include <algorithm>
#include <array>
#include <cmath>
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

/// A drain that reaches below the floor goes through it.
void add_pipes(Layout& layout) {
  for (const Part& part : layout.parts) {
    if (part.kind != PartKind::hardware) continue;
    const auto fitting = layout.catalogue->fittings.find(part.stock.key);
    if (fitting == layout.catalogue->fittings.end() || fitting->second.use != "drain") continue;
    const Box box = bounds(part);
    if (box.lo.z > -kContact || box.hi.z < 0.0) continue;
    const Vec3 middle = (box.lo + box.hi) * 0.5;
    layout.floor_bolts.push_back({.id = part.id,
                                  .at = {middle.x, middle.y},
                                  .diameter = fitting->second.cut_out,
                                  .over_joist = false,
                                  .hard_point = {},
                                  .pipe = true});
  }
}

Finding about(const char* code, const Layout& layout, const FloorBolt& bolt) {
  Finding finding;
  finding.code = code;
  finding.subjects = {bolt.id};
  finding.at = Vec3{bolt.at.x, bolt.at.y, 0.0};
  if (const Module* module = layout.module(bolt.id.substr(0, bolt.id.find('/'))))
    finding.place = module->place;
  return finding;
}

const char* way_beside(const Joist& joist, bool up) {
  return joist.across ? (up ? "to the front" : "to the rear") : (up ? "to the left" : "to the right");
}

/// Reports the joist that is in a pipe's way.
void check_joists(const Layout& layout, const FloorBolt& pipe, Findings& findings) {
  const double radius = pipe.diameter / 2;
  for (const Joist& joist : layout.vehicle->joists) {
    const double beside = (joist.across ? pipe.at.x : pipe.at.y) - joist.at;
    const double along = joist.across ? pipe.at.y : pipe.at.x;
    const double short_of = joist.width / 2 + radius - std::abs(beside);
    if (short_of < kContact || along + radius < joist.from || along - radius > joist.to) continue;
    Finding finding = about("layout.pipe_in_joist", layout, pipe);
    finding.with("joist", joist.name)
        .with("measured", short_of, Unit::mm)
        .with("way", way_beside(joist, beside >= 0));
    findings.push_back(std::move(finding));
  }
}

/// Reports a bolt through the floor that meets a joist too near to its edge: it would tear out, and
/// the hole weakens the flange. What ends within the floor meets none.
void check_edges(const Layout& layout, const FloorBolt& bolt, Findings& findings) {
  const double tip = bounds(*layout.find(bolt.id)).lo.z;
  if (bolt.over_joist || tip > -layout.vehicle->floor_thickness - kContact) return;
  for (const Joist& joist : layout.vehicle->joists) {
    const double beside = (joist.across ? bolt.at.x : bolt.at.y) - joist.at;
    const double along = joist.across ? bolt.at.y : bolt.at.x;
    // How far its middle lies within the joist: from its sides, and from its ends.
    const double to_side = joist.width / 2 - std::abs(beside);
    const double to_end = std::min(along - joist.from, joist.to - along);
    const double edge = std::min(to_side, to_end);
    if (edge < -bolt.diameter / 2 + kContact) continue;  // it passes by
    const bool by_side = to_side <= to_end;
    const bool to_start = along - joist.from < joist.to - along;
    Finding finding = about("layout.floor_bolt_joist_edge", layout, bolt);
    finding.severity = Severity::warning;
    finding.source = "common practice, no source";
    finding.with("joist", joist.name)
        .with("measured", std::max(edge, 0.0), Unit::mm)
        .with("required", bolt.diameter, Unit::mm)
        .with("move", bolt.diameter - edge, Unit::mm)
        .with("way", by_side ? way_beside(joist, beside < 0)
              : joist.across ? (to_start ? "to the left" : "to the right")
                             : (to_start ? "to the front" : "to the rear"));
    findings.push_back(std::move(finding));
  }
}

}  // namespace

void check_floor_bolts(Layout& layout, Findings& findings) {
  add_pipes(layout);
  std::ranges::sort(layout.floor_bolts, {}, &FloorBolt::id);
  for (FloorBolt& bolt : layout.floor_bolts) {
    if (bolt.pipe) check_joists(layout, bolt, findings);
    const double radius = bolt.diameter / 2;
    const auto point = std::ranges::find_if(layout.vehicle->hard_points, [&](const HardPoint& p) {
      return length(p.at - bolt.at) <= radius;
    });
    if (point != layout.vehicle->hard_points.end()) {
      bolt.hard_point = point->name;
      continue;
    }
    if (!bolt.pipe) check_edges(layout, bolt, findings);
    const NoDrill* zone = no_drill_at(*layout.vehicle, bolt.at, radius);
    if (zone == nullptr) continue;
    const auto [distance, way] = way_out(*zone, bolt.at, radius);
    Finding finding = about("layout.floor_bolt_no_drill", layout, bolt);
    finding.with("zone", zone->name)
        .with("what", zone->what)
        .with("measured", distance, Unit::mm)
        .with("way", way);
    findings.push_back(std::move(finding));
  }
}

}  // namespace ribbay::detail
