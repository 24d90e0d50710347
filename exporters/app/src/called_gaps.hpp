#pragma once

#include "drawings/drawings.hpp"
#include "judgement/judgement.hpp"

#include <vector>

namespace ribbay::detail {

/// The gaps of a judgement that the drawing of the van's sides calls out: between modules, and between
/// a module and the van; in the judgement's order, as shop/gaps.csv.
std::vector<CalledGap> called_gaps(const Judgement& judgement);

}  // namespace ribbay::detail
