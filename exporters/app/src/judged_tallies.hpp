#pragma once

#include "judgement/judgement.hpp"
#include "report/report.hpp"

#include <vector>

namespace ribbay::detail {

/// How the gaps came out in the worst case, and the places at the van.
std::vector<CheckTally> judged_tallies(const Judgement& judgement);

}  // namespace ribbay::detail
