#include "base/parallel.hpp"
#include "base/tolerance.hpp"
#include "body_pair.hpp"
#include "checks.hpp"
#include "forerunners.hpp"
#include "gap_rules.hpp"
#include "motion_findings.hpp"
#include "way_gap.hpp"

#include <algorithm>
#include <map>
#include <optional>

/// Gaps on the way of what opens: narrower there than shut, and too narrow.
namespace ribbay::detail {

namespace {

/// A distance that is asked for between two bodies; `gap` null: what is less is tight.
struct Limit {
  const Gap* gap = nullptr;
  double required = 0.0;
};

std::vector<Limit> limits_between(const Scene& scene, const Body& a, const Body& b) {
  std::vector<Limit> limits;
  const double tight = scene.layout->tight;
  if (tight > kContact && watches_narrow_gap(scene, a, b)) limits.push_back({nullptr, tight});
  for (const Gap& gap : scene.layout->gaps) {
    if (is_between(gap, a, b)) limits.push_back({&gap, gap.required});
  }
  return limits;
}

double widest_limit(const Layout& layout) {
  double widest = layout.tight;
  for (const Gap& gap : layout.gaps) widest = std::max(widest, gap.required);
  return widest;
}

NarrowWay narrow_way(const Body& mover, const Body& obstacle, const WayGap& found) {
  const NearestOnWay& nearest = found.nearest;
  return {mover.id, obstacle.id, nearest.distance, nearest.travel, (nearest.on_a + nearest.on_b) * 0.5};
}

/// What touches where the motion begins is what it runs on or shuts against; what is as near there
/// is told by the check of what stands still.
std::optional<WayGap> narrower_than_shut(const Body& mover, const Body& obstacle,
                                         const Motion& motion, double travel, double required) {
  const Measured shut = measure(mover, obstacle, required);
  if (shut.least <= kContact) return std::nullopt;
  const auto found = way_gap(mover, obstacle, motion, travel, required);
  const bool narrow = found && found->nearest.distance > kContact && found->most < required - kSame &&
                      found->nearest.distance < shut.least - kOnWay;
  return narrow ? found : std::nullopt;
}

/// For each limit the least gap on the way of one motion, as far as it must open.
Findings narrow_ways(const Scene& laid_out, std::size_t index, const ClearanceResult& before) {
  const Motion& stated = laid_out.layout->motions[index];
  const MotionResult& alone = before.motions[index];
  const auto told = [&](const Motion& motion) -> const MotionResult& {
    return *std::ranges::find(before.motions, motion.id, &MotionResult::motion);
  };
  if (alone.blocked) return {};
  const Start start =
      start_of(laid_out, stated, [&](const Motion& first) { return told(first).opens; });
  const Scene& scene = start.scene(laid_out);
  Motion motion = start.motion;
  motion.travel = std::min(motion.required, alone.opens);
  const Movers movers = movers_of(scene, motion);
  if (movers.bodies.empty()) return {};
  std::map<const Gap*, std::pair<double, NarrowWay>> narrowest;  // looked up, never walked
  for (const std::size_t k : scene.near(movers.box, widest_limit(*scene.layout))) {
    if (std::ranges::binary_search(movers.bodies, k)) continue;
    for (std::size_t m = 0; m < movers.bodies.size(); ++m) {
      const Body& mover = scene.bodies[movers.bodies[m]];
      const Body& obstacle = scene.bodies[k];
      if (!near(movers.boxes[m], obstacle.box, widest_limit(*scene.layout)) ||
          exempt(scene, movers.bodies[m], k))
        continue;
      for (const auto& [gap, required] : limits_between(scene, mover, obstacle)) {
        const auto known = narrowest.find(gap);
        const double limit = known == narrowest.end() ? required : known->second.first;
        const auto found = narrower_than_shut(mover, obstacle, motion, motion.travel, limit);
        if (found) narrowest.insert_or_assign(gap, std::pair(found->most, narrow_way(mover, obstacle, *found)));
      }
    }
  }
  Findings findings;
  if (const auto tight = narrowest.find(nullptr); tight != narrowest.end())
    findings.push_back(tight_way_finding(motion, tight->second.second, scene.layout->tight));
  for (const Gap& gap : scene.layout->gaps) {
    if (const auto found = narrowest.find(&gap); found != narrowest.end())
      findings.push_back(gap_way_finding(motion, found->second.second, gap));
  }
  return findings;
}

}  // namespace

void check_motion_gaps(const Scene& scene, int jobs, ClearanceResult& result) {
  const std::vector<Motion>& motions = scene.layout->motions;
  if (widest_limit(*scene.layout) <= kContact) return;
  std::vector<Findings> slots(motions.size());
  for_each_slot(slots.size(), jobs,
                [&](std::size_t i) { slots[i] = narrow_ways(scene, i, result); });
  for (Findings& found : slots) std::ranges::move(found, std::back_inserter(result.findings));
}

}  // namespace ribbay::detail
