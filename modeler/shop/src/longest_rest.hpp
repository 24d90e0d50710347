#pragma once

#include "instance.hpp"

namespace ribbay::detail {

/// A plan with the longest rest in one bar.
struct LongestRest {
  Solution solution;
  std::int64_t unused = 0;  ///< of that bar's capacity
  bool proven = false;      ///< no plan from the same bars leaves more
};

/// Keeps the bars of `solution` and looks for the plan that leaves the most of one of them, by
/// halving: can all be cut when one bar is so much shorter?
LongestRest leave_longest_rest(const Instance& instance, const Solution& solution, Effort& effort);

}  // namespace ribbay::detail
