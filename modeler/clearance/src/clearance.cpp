#include "clearance/clearance.hpp"

#include "checks.hpp"

#include <algorithm>
#include <tuple>

namespace ribbay {

ClearanceResult check_clearance(const Layout& layout, int jobs, bool list_touching, Memo* memo) {
  const detail::Scene scene = detail::make_scene(layout, jobs, memo);
  ClearanceResult result;
  result.bodies = scene.bodies.size();
  for (const detail::Body& body : scene.bodies) result.pieces += body.pieces().size();
  const auto pairs = detail::check_pairs(scene, jobs, list_touching, result);
  detail::join_module_clashes(scene, result);
  detail::check_caught(scene, result);
  detail::check_whole(scene, jobs, result);
  detail::check_screws(scene, jobs, result);
  detail::check_room(scene, jobs, result);
  detail::check_held(scene, pairs, result);
  detail::check_gaps(scene, jobs, result);
  detail::check_zones(scene, jobs, result);
  detail::check_beds(scene, result);
  detail::check_scan(scene, jobs, result);
  detail::check_motions(scene, jobs, result);
  detail::check_motion_gaps(scene, jobs, result);
  detail::check_motion_pairs(scene, jobs, result);
  std::ranges::stable_sort(result.contacts, {},
                           [](const Contact& c) { return std::tie(c.a, c.b, c.verdict); });
  sort_findings(result.findings);
  return result;
}

}  // namespace ribbay
