#pragma once

#include "instance.hpp"

#include <optional>

namespace ribbay::detail {

/// The best of first fit and best fit, long pieces first: what is on hand is filled first, then
/// bars of one stock after the other are opened. Nothing when the pieces do not fit in this way.
std::optional<Solution> best_greedy(const Instance& instance, const Counts& demand,
                                    const Counts& available, Effort& effort);

}  // namespace ribbay::detail
