#include "door_ways.hpp"

namespace ribbay::detail {

void add_door_ways(Layout& layout) {
  std::vector<std::string> walked_on;
  for (const Module& module : layout.modules) {
    if (module.kind == "floor") walked_on.push_back(module.name);
  }
  for (const Opening& opening : layout.vehicle->openings) {
    const auto way = clear_way(*layout.vehicle, opening);
    if (!way) continue;
    layout.zones.push_back({.id = "vehicle/way." + opening.name,
                            .title = "way in at " + opening.name,
                            .kind = ZoneKind::keep_clear,
                            .shape = box_shape(way->lo, way->hi),
                            .frame = {},
                            .owner = "vehicle/opening." + opening.name,
                            .allowed = walked_on});
  }
}

}  // namespace ribbay::detail
