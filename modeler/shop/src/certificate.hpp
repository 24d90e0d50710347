#pragma once

#include "instance.hpp"

#include <cstdint>
#include <limits>
#include <vector>

namespace ribbay::detail {

/// Told instead of a cost where no bars of any cost are enough.
inline constexpr std::int64_t kImpossible = std::numeric_limits<std::int64_t>::max();

/// A worth for each item, and the greatest worth of what one bar of each stock can hold. Bars whose
/// greatest worths add up to less than `wanted` cannot give all items (see BarsProof).
struct Certificate {
  std::vector<std::int64_t> worth;
  std::vector<std::int64_t> most;
  std::int64_t wanted = 0;  ///< worth of all items together

  bool refutes(const Counts& bars) const;
};

/// With `most` computed anew, over all patterns of all stocks.
Certificate certificate_of(const Instance& instance, std::vector<std::int64_t> worth,
                           Effort& effort);

/// The one that says that bars must be as long together as the items.
Certificate length_certificate(const Instance& instance);

/// Least cost of bars, fractions of bars allowed and then rounded up, that `certificate` does not
/// refute; kImpossible when `available` is not enough.
std::int64_t cost_bound(const Certificate& certificate, const Instance& instance,
                        const Counts& available);

}  // namespace ribbay::detail
