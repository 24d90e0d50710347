#pragma once

#include "instance.hpp"
#include "master.hpp"

#include <optional>

namespace ribbay::detail {

/// The best way to cut the demand with the patterns that `master` knows, found by the integer
/// solver within a limited number of nodes (`thoroughness` times the usual). Better than `best`
/// when it finds one; stops at a cost of `target`.
std::optional<Solution> search_columns(const Instance& instance, const Master& master,
                                       const Counts& demand, const Counts& available,
                                       const std::optional<Solution>& best, std::int64_t target,
                                       int thoroughness, Effort& effort);

}  // namespace ribbay::detail
