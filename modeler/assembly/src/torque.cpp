#include "assembly/torque.hpp"

#include "catalogue/threads.hpp"
#include "structure/grips.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>
#include <string_view>

namespace ribbay {

namespace {

struct Strength {
  std::string_view name;
  double yield_mpa;
};
/// Proof strength as VDI 2230 takes it from ISO 898-1, up to M16.
constexpr std::array<Strength, 3> kStrengths{{{"8.8", 640}, {"10.9", 940}, {"12.9", 1100}}};

}  // namespace

Tightening tightening(const ThreadSizes& sizes, double yield_mpa, double friction) {
  constexpr double pi = std::numbers::pi;
  // ISO 724: pitch and minor diameter of the basic profile of ISO 68-1.
  const double d2 = sizes.diameter - 0.649519 * sizes.pitch;
  const double d3 = sizes.diameter - 1.226869 * sizes.pitch;
  const double d0 = (d2 + d3) / 2;
  const double area = pi / 4 * d0 * d0;
  const double twist = 1.5 * (d2 / d0) * (sizes.pitch / (pi * d2) + 1.155 * friction);
  const double preload = 0.9 * yield_mpa * area / std::sqrt(1 + 3 * twist * twist);
  const double mean_head = (sizes.head + sizes.hole) / 2;
  return {preload,
          preload * (0.159 * sizes.pitch + 0.577 * friction * d2 + friction * mean_head / 2)};
}

std::optional<Tightening> tightening(const Bolt& bolt) {
  const auto strength = std::ranges::find(kStrengths, bolt.strength_class, &Strength::name);
  const auto thread = coarse_thread(bolt.diameter);
  if (bolt.kind != BoltKind::machine || strength == kStrengths.end() || !thread)
    return std::nullopt;
  return tightening({bolt.diameter, thread->pitch, bolt.head_diameter, bolt.clearance_hole},
                    strength->yield_mpa);
}

std::optional<Tightening> tightening(const Bolt& bolt, const Nut& nut) {
  const auto full = tightening(bolt);
  if (!full || nut.pull_out_n <= 0.0) return std::nullopt;
  const double share = std::min(1.0, nut.pull_out_n / full->preload_n);
  return Tightening{full->preload_n * share, full->torque_n_mm * share};
}

std::vector<SlotBolts> slot_bolts(const Layout& layout, const AssemblyUnit& unit) {
  std::map<std::pair<std::string, std::string>, SlotBolts> kinds;
  std::vector<std::string> bolts;  // that may have a nut which is no part
  const auto add = [&](const Driven& each) {
    const Part* bolt = layout.find(each.id);
    for (const std::string& host : bolt->hosts) {
      const Part* nut = layout.find(host);
      if (nut == nullptr) continue;
      const auto kind = layout.catalogue->nuts.find(nut->stock.key);
      if (kind == layout.catalogue->nuts.end()) continue;
      const Bolt& type = layout.catalogue->bolts.find(bolt->stock.key)->second;
      kinds[{type.title, kind->second.title}] = {type.title, kind->second.title,
                                                 tightening(type, kind->second)};
    }
    const auto type = layout.catalogue->bolts.find(bolt->stock.key);
    if (type != layout.catalogue->bolts.end() && type->second.kind == BoltKind::machine)
      bolts.push_back(bolt->id);
  };
  for (const AssemblyStep& step : unit.steps) std::ranges::for_each(step.fasteners, add);
  std::ranges::for_each(unit.fixings, add);
  for (const Grip& grip : grips(layout, bolts)) {
    const Bolt& type = layout.catalogue->bolts.at(layout.find(grip.id)->stock.key);
    if (grip.thread.empty() || grip.riveted) continue;
    const std::string nut = "nut " + grip.thread + (grip.under_floor ? " under the floor" : "");
    kinds[{type.title, nut}] = {type.title, nut, tightening(type)};
  }
  std::vector<SlotBolts> all;
  for (auto& [titles, kind] : kinds) all.push_back(std::move(kind));
  return all;
}

}  // namespace ribbay
