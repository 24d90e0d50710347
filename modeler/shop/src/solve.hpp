#pragma once

#include "certificate.hpp"
#include "instance.hpp"

#include <optional>
#include <vector>

namespace ribbay::detail {

/// The cheapest plan found and what is known about cheaper ones.
struct Solved {
  std::optional<Solution> best;
  std::int64_t bound = 0;                 ///< no plan costs less; kImpossible: there is none at all
  std::vector<Certificate> certificates;  ///< refute every choice of bars cheaper than `bound`
};

/// Greedy, linear relaxation, dive, and then choice by choice of bars until the gap is closed or
/// the effort spent. Precondition: every item fits one of the stocks.
Solved solve(const Instance& instance, Effort& effort);

}  // namespace ribbay::detail
