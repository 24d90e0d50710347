#pragma once

#include "clearance/clearance.hpp"
#include "report/report.hpp"

#include <vector>

namespace ribbay::detail {

/// How many checks of each family passed, failed and stayed open.
std::vector<CheckTally> clearance_tallies(const Layout& layout, const ClearanceResult& result);

}  // namespace ribbay::detail
