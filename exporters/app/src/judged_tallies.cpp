#include "judged_tallies.hpp"

#include <algorithm>

namespace ribbay::detail {

std::vector<CheckTally> judged_tallies(const Judgement& judgement) {
  CheckTally gaps{.name = "gaps in the worst case"};
  for (const JudgedGap& gap : judgement.gaps) {
    if (!gap.left_to_van) ++(gap.fits() ? gaps.passed : gaps.failed);
  }
  CheckTally van{.name = "fits to the van"};
  for (const VanFit& fit : judgement.van)
    ++(fit.verdict == FitVerdict::measure ? van.not_proven : van.passed);
  return {gaps, van};
}

}  // namespace ribbay::detail
