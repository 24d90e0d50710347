#pragma once

#include "instance.hpp"
#include "master.hpp"

#include <optional>

namespace ribbay::detail {

/// A question to the search: cut `demand` from `available` for less than `best`, best of all for
/// `target`.
struct Hunt {
  const Instance& instance;
  Master& master;
  const Counts& demand;
  const Counts& available;
  std::optional<Solution>& best;
  std::int64_t target = 0;

  bool done() const { return best && best->cost <= target; }
};

/// How far a dive leaves the way that the linear program suggests.
struct DiveRules {
  int discrepancies = 0;    ///< suggestions passed over on one way
  int branching_depth = 0;  ///< below it only the first suggestion is followed
  int nodes = 0;
};

/// Rounds the linear program's patterns down, takes one more, solves again for what is left
/// (generating patterns for it), and so on; with discrepancies it comes back and takes the second
/// suggestion.
void dive(const Hunt& hunt, DiveRules rules, Effort& effort);

/// Dives of growing freedom, then the integer solver on all patterns met, until the hunt is done.
/// `thoroughness` 1 or more.
void search(const Hunt& hunt, int thoroughness, Effort& effort);

}  // namespace ribbay::detail
