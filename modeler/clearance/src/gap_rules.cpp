#include "gap_rules.hpp"

#include <algorithm>

namespace ribbay::detail {

bool in_gap_set(const std::string& name, const Body& body) {
  const bool is_floor = body.of_vehicle() && body.id.starts_with("vehicle/floor");
  return means(name, body) && !(name == "vehicle" && is_floor);
}

bool is_between(const Gap& gap, const Body& a, const Body& b) {
  return (in_gap_set(gap.a, a) && in_gap_set(gap.b, b)) ||
         (in_gap_set(gap.a, b) && in_gap_set(gap.b, a));
}

bool watches_narrow_gap(const Scene& scene, const Body& a, const Body& b) {
  const bool apart = a.of_vehicle() || b.of_vehicle() || a.part->module != b.part->module;
  return (apart || a.equipment() || b.equipment()) && !joined(a, b) &&
         std::ranges::none_of(scene.layout->gaps,
                              [&](const Gap& gap) { return is_between(gap, a, b); });
}

}  // namespace ribbay::detail
