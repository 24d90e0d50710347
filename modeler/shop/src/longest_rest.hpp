#pragma once

#include "certificate.hpp"
#include "instance.hpp"

#include <span>

namespace ribbay::detail {

/// A plan with the longest rest in one bar.
struct LongestRest {
  Solution solution;
  std::int64_t unused = 0;  ///< of that bar's capacity
  bool proven = false;      ///< no plan from the same bars leaves more
};

/// Keeps the bars of `solution` and looks for the plan that leaves the most of one of them: can all
/// be cut when one bar is so much shorter? It asks for the most that no certificate refutes, those
/// in `certificates` and those that the answers bring. Of very many sizes it keeps the plan.
LongestRest leave_longest_rest(const Instance& instance, const Solution& solution,
                               std::span<const Certificate> certificates, Effort& effort);

}  // namespace ribbay::detail
