#include "structure/supports.hpp"

#include "base/tolerance.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay {

namespace {

/// How far `box` must go, along the axis that the joist counts on, until the joist's middle runs
/// below it; 0: it does. Nullopt: the joist ends before it gets there.
std::optional<double> way_to(const Joist& joist, const Box& box) {
  const auto [low, high] = joist.across ? std::pair(box.lo.x, box.hi.x)
                                        : std::pair(box.lo.y, box.hi.y);
  const auto [from, to] = joist.across ? std::pair(box.lo.y, box.hi.y)
                                       : std::pair(box.lo.x, box.hi.x);
  if (std::min(to, joist.to) - std::max(from, joist.from) < kContact) return std::nullopt;
  if (joist.at > high) return joist.at - high;
  if (joist.at < low) return joist.at - low;
  return 0.0;
}

/// Bolts of the module that reach structure stand before and behind the point.
bool bolted_around(const Layout& layout, const Module& module, Vec3 point) {
  bool before = false;
  bool behind = false;
  for (const FloorBolt& bolt : layout.floor_bolts) {
    const bool bears = bolt.over_joist || !bolt.hard_point.empty();
    if (!bears || !bolt.id.starts_with(module.name + "/")) continue;
    (bolt.at.x > point.x ? before : behind) = true;
  }
  return before && behind;
}

bool stands_in_bolted_module(const Layout& layout, const Box& box) {
  const Vec3 middle = (box.lo + box.hi) * 0.5;
  return std::ranges::any_of(layout.modules, [&](const Module& module) {
    const Box& room = module.envelope;
    const bool inside = room.lo.x <= middle.x && middle.x <= room.hi.x && room.lo.y <= middle.y &&
                        middle.y <= room.hi.y;
    return inside && bolted_around(layout, module, middle);
  });
}

const char* way_word(const Joist& joist, double way) {
  if (joist.across) return way > 0 ? "to the front" : "to the rear";
  return way > 0 ? "to the left" : "to the right";
}

/// What is wrong with where it stands, or nullopt.
std::optional<Finding> judge(const Layout& layout, const Part& part) {
  const Box box = bounds(part);
  const Joist* nearest = nullptr;
  double least = 0.0;
  for (const Joist& joist : layout.vehicle->joists) {
    const std::optional<double> way = way_to(joist, box);
    if (!way) continue;
    if (*way == 0.0) return std::nullopt;
    if (nearest == nullptr || std::abs(*way) < std::abs(least)) {
      nearest = &joist;
      least = *way;
    }
  }
  if (stands_in_bolted_module(layout, box)) return std::nullopt;
  Finding finding;
  finding.code = nearest == nullptr ? "support.off_joists" : "support.between_joists";
  finding.severity = Severity::warning;
  finding.subjects = {part.id};
  finding.at = Vec3{(box.lo.x + box.hi.x) / 2, (box.lo.y + box.hi.y) / 2, 0.0};
  finding.with("mass", part.mass_kg, Unit::kg);
  if (nearest != nullptr) {
    finding.with("measured", std::abs(least), Unit::mm).with("way", way_word(*nearest, least));
  }
  if (const Module* module = layout.module(part.module)) finding.place = module->place;
  return finding;
}

}  // namespace

Findings check_supports(const Layout& layout) {
  Findings findings;
  if (!layout.vehicle) return findings;
  for (const Part& part : layout.parts) {
    if (part.kind != PartKind::equipment || part.mass_kg < kHeavy) continue;
    if (layout.vehicle->joists.empty()) {
      Finding finding;
      finding.code = "support.no_joists";
      finding.severity = Severity::note;
      finding.subjects = {part.id};
      return {std::move(finding).with("mass", part.mass_kg, Unit::kg)};
    }
    if (auto finding = judge(layout, part)) findings.push_back(std::move(*finding));
  }
  return findings;
}

}  // namespace ribbay
