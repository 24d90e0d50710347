#pragma once

#include "instance.hpp"
#include "shop/bars.hpp"

#include <cstdint>
#include <vector>

namespace ribbay::detail {

/// An order in whole numbers, and the way back.
struct BarNumbers {
  Instance instance;
  std::vector<std::vector<std::size_t>> pieces_of;  ///< of each item: pieces of the order, singly
  std::int64_t length_unit = 1;                     ///< ticks
  std::int64_t cost_unit = 1;                       ///< hundredths
};

/// Precondition: that of plan_bars(); every piece fits one of the stocks.
BarNumbers in_whole_numbers(const BarOrder& order);

/// The longest piece that a stock can give, mm; negative when trims take all of it.
double usable_length(const BarStock& stock, const BarSaw& saw);

}  // namespace ribbay::detail
