#include "structure/turned_on.hpp"

#include "base/text.hpp"
#include "base/wording.hpp"
#include "structure/grips.hpp"

#include <map>
#include <utility>

namespace ribbay {

namespace {

constexpr std::string_view kSleeve = "on_bolt.sleeve";  // it stands in the floor

}  // namespace

std::vector<TurnedOn> turned_on(const Layout& layout) {
  std::map<std::pair<std::string, std::string>, int> counts;  // by title and module
  for (const Grip& grip : grips(layout)) {
    if (grip.thread.empty()) continue;
    const std::string& module = layout.find(grip.id)->module;
    const auto add = [&](std::string_view what, double thickness = 0.0) {
      const std::string title =
          say(what, {{"size", grip.thread},
                     {"thickness", value_text(thickness, Unit::mm, layout.project.show)}});
      const bool below = grip.under_floor && what != kSleeve;
      ++counts[{below ? say("on_bolt.under_floor", {{"what", title}}) : title, module}];
    };
    add(grip.riveted ? "on_bolt.rivet_nut" : "on_bolt.nut");
    for (const GripLayer& layer : grip.layers) {
      if (layer.what.starts_with("washer ")) add("on_bolt.washer");
      if (layer.what == kPlateBelow) add("on_bolt.plate", layer.thickness);
      if (layer.sleeve) add(kSleeve, layer.thickness);
    }
  }
  std::vector<TurnedOn> all;
  for (const auto& [key, count] : counts) all.push_back({key.first, key.second, count});
  return all;
}

}  // namespace ribbay
