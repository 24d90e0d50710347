#pragma once

#include "choices.hpp"
#include "instance.hpp"
#include "master.hpp"

#include <optional>
#include <vector>

namespace ribbay::detail {

/// Goes through the choices of bars that are cheaper than `best`, cheapest first. Each is refuted,
/// by a certificate that is there or by a new one, or filled, which ends the search, or stays
/// undecided. Gives the least cost that is not refuted: that of `best` when all is decided.
/// `master` lends its patterns.
std::int64_t close_gap(const Instance& instance, const Master& master, const Choices& choices,
                       std::int64_t bound, std::optional<Solution>& best,
                       std::vector<Certificate>& certificates, Effort& effort);

/// `instance` with bars that cost nothing and are all limited, for asking whether given bars are
/// enough.
Instance without_costs(const Instance& instance);

/// The pieces cut from exactly these bars: asks `master`, which is about without_costs(). Nothing
/// when they are not enough (then `refuted` is true) or no way was found.
std::optional<Solution> fill_bars(const Instance& costless, Master& master, const Counts& bars,
                                  bool& refuted, Effort& effort);

}  // namespace ribbay::detail
