#include "structure/wall_holes.hpp"

#include "structure/grips.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <tuple>

namespace ribbay {

namespace {

constexpr int kRoof = 2;

/// The rib or bow among the hosts: its name, and which place it belongs to.
std::optional<std::pair<std::string, int>> carrier(const Vehicle& van, const Part& screw) {
  for (const std::string& host : screw.hosts) {
    for (const Rib& rib : van.ribs) {
      if (host == "vehicle/rib." + rib.name)
        return std::pair{rib.name, rib.side == VanSide::left ? 0 : 1};
    }
    for (const Bow& bow : van.bows) {
      if (host == "vehicle/bow." + bow.name) return std::pair{bow.name, kRoof};
    }
  }
  return std::nullopt;
}

std::string held_by(const Layout& layout, const Part& screw) {
  for (const std::string& host : screw.hosts) {
    if (const Part* held = layout.find(host)) return held->title;
  }
  return {};
}

}  // namespace

std::vector<WallHole> wall_holes(const Layout& layout) {
  std::vector<WallHole> holes;
  if (!layout.vehicle || !layout.catalogue) return holes;
  for (const Grip& grip : grips(layout)) {
    const Part& part = *layout.find(grip.id);
    const auto in = carrier(*layout.vehicle, part);
    const auto bolt = layout.catalogue->bolts.find(part.stock.key);
    if (!in || bolt == layout.catalogue->bolts.end()) continue;
    holes.push_back({.name = {},
                     .module = part.module,
                     .place = in->second,
                     .at = part.frame.origin + part.frame.z * bolt->second.length,
                     .bolt = &bolt->second,
                     .deep = grip.held,
                     .into = in->first,
                     .held = held_by(layout, part),
                     .rivet_nut = grip.riveted ? grip.thread : std::string()});
  }
  std::ranges::stable_sort(holes, {}, [](const WallHole& h) {
    return std::tuple(h.place, std::lround(h.at.x), h.place == kRoof ? h.at.y : h.at.z);
  });
  for (std::size_t i = 0; i < holes.size(); ++i) holes[i].name = "W" + std::to_string(i + 1);
  return holes;
}

}  // namespace ribbay
