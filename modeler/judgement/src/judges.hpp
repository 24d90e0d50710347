#pragma once

#include "chain.hpp"
#include "clearance/near.hpp"
#include "judgement/judgement.hpp"
#include "stacks.hpp"

#include <vector>

/// The three judgements, each a function of the layout and of what stands near each other.
namespace ribbay::detail {

/// Gaps below this are near, mm: common practice, no source.
inline constexpr double kNear = 10.0;
/// Hard parts no further apart may rattle, mm: common practice, no source.
inline constexpr double kRattle = 2.0;

/// A gap drawn as wide as a limit is within it, however its sum was rounded.
inline bool beyond(double distance, double limit) {
  return distance > limit + kSame;
}

inline bool of_van(const std::string& id) { return id.starts_with("vehicle/"); }
inline bool is_floor(const std::string& id) { return id.starts_with("vehicle/floor"); }

/// What of the van counts as one place: a wall, the roof, an arch; all ribs of one side, all bows.
std::string place_at_van(const std::string& body, Vec3 at);

/// The axis of the van that a direction is nearest to.
int main_axis(Vec3 way);

/// How far the survey may be wrong where a part faces the van, plus or minus, mm.
double survey_off(const Layout& layout, const NearPair& pair);

/// What matters further away than kNear: that which gaps or air are asked for around.
std::vector<NearFurther> further_than_near(const Layout& layout);

std::vector<JudgedGap> judge_gaps(const Layout& layout, const NearResult& near,
                                  const Chains& chains, const Stacks& stacks);
std::vector<VanFit> judge_van(const Layout& layout, const NearResult& near, const Chains& chains,
                              const Stacks& stacks);
std::vector<Rattle> judge_rattles(const Layout& layout, const NearResult& near,
                                  const Chains& chains);

}  // namespace ribbay::detail
