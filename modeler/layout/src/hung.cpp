#include "hung.hpp"

#include "base/tolerance.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

constexpr double kGravity = 9.80665;  ///< m/s2: standard gravity, ISO 80000-3

}  // namespace

void judge_hung(ModuleParts& made) {
  for (Hung& hung : made.hung) {
    const auto part = std::ranges::find(made.parts, hung.part, &Part::id);
    const double weight = part->mass_kg * kGravity;
    if (hung.held >= weight - kSame) continue;
    hung.finding.with("measured", hung.held, Unit::newton)
        .with("required", weight, Unit::newton);
    made.judged.push_back(std::move(hung.finding));
  }
}

}  // namespace ribbay::detail
