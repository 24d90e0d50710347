#include "structure/turned_on.hpp"

#include "base/text.hpp"
#include "base/wording.hpp"
#include "catalogue/far_end.hpp"
#include "catalogue/threads.hpp"

#include <algorithm>
#include <map>
#include <utility>

namespace ribbay {

namespace {

constexpr std::string_view kSleeve = "on_bolt.sleeve";  // it stands in the floor

/// A bolt that the deck alone takes, with no plate below it.
bool wants_spreading(const Layout& layout, const Grip& grip) {
  const auto bolt = std::ranges::find(layout.floor_bolts, grip.id, &FloorBolt::id);
  return grip.under_floor && layout.vehicle->floor_backing <= 0.0 &&
         bolt != layout.floor_bolts.end() && !bolt->over_joist;
}

/// Diameters of the holes of a fitting that no fastener of the layout goes through: all of them
/// when nothing holds it, else the far end of a stay.
std::vector<double> own_holes(const Layout& layout, const Part& part) {
  std::vector<double> diameters;
  const auto fitting = layout.catalogue->fittings.find(part.stock.key);
  if (fitting == layout.catalogue->fittings.end()) return diameters;
  const bool own = fixed_by_own_holes(layout, part);
  for (const FixingHole& hole : fitting->second.holes) {
    if (own || is_far_end(hole)) diameters.push_back(hole.diameter);
  }
  return diameters;
}

}  // namespace

bool fixed_by_own_holes(const Layout& layout, const Part& part) {
  if (!layout.catalogue) return false;
  const auto fitting = layout.catalogue->fittings.find(part.stock.key);
  return fitting != layout.catalogue->fittings.end() && !fitting->second.holes.empty() &&
         std::ranges::none_of(layout.parts, [&](const Part& other) {
           return std::ranges::find(other.hosts, part.id) != other.hosts.end();
         });
}

std::vector<OnBolt> on_bolt(const Layout& layout, const Grip& grip) {
  std::vector<OnBolt> all;
  if (grip.thread.empty()) return all;
  const auto add = [&](std::string_view what, double thickness = 0.0) -> OnBolt& {
    const std::string title =
        say(what, {{"size", grip.thread},
                   {"thickness", value_text(thickness, Unit::mm, layout.project.show)}});
    const bool below = grip.under_floor && what != kSleeve;
    return all.emplace_back(
        OnBolt{.title = below ? say("on_bolt.under_floor", {{"what", title}}) : title});
  };
  for (const GripLayer& layer : grip.layers) {
    if (layer.sleeve) add(kSleeve, layer.thickness);
    if (layer.what == kPlateBelow) add("on_bolt.plate", layer.thickness);
    if (layer.what.starts_with("washer "))
      add(wants_spreading(layout, grip) ? "on_bolt.large_washer" : "on_bolt.washer");
  }
  if (grip.riveted) {
    add("on_bolt.rivet_nut");
  } else {
    const auto bolt = layout.catalogue->bolts.find(layout.find(grip.id)->stock.key);
    const auto thread =
        bolt == layout.catalogue->bolts.end() ? std::nullopt : coarse_thread(bolt->second.diameter);
    add("on_bolt.nut").spanner = thread ? thread->flats : 0.0;
  }
  return all;
}

std::vector<TurnedOn> turned_on(const Layout& layout) {
  std::map<std::pair<std::string, std::string>, int> counts;  // by title and module
  for (const Grip& grip : grips(layout)) {
    for (const OnBolt& on : on_bolt(layout, grip))
      ++counts[{on.title, layout.find(grip.id)->module}];
  }
  for (const Part& part : layout.parts) {
    if (!layout.catalogue) break;
    for (const double diameter : own_holes(layout, part)) {
      const std::string size = length_text(diameter, layout.project.show);
      ++counts[{say("on_bolt.own_hole", {{"diameter", "Ø" + size}}), part.module}];
    }
  }
  std::vector<TurnedOn> all;
  for (const auto& [key, count] : counts) all.push_back({key.first, key.second, count});
  return all;
}

}  // namespace ribbay
