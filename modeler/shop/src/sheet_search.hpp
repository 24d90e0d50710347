#pragma once

#include "sheet_filling.hpp"

#include <optional>

namespace ribbay::detail {

/// The cheapest of many fillings: sequences by size with some noise, then small changes to the best
/// one, with a fixed seed. Among equally cheap ones that whose emptiest sheet is emptier. Ends at
/// a cost of `target` or when the effort is spent.
std::optional<Filled> search_sheets(const SheetNumbers& numbers, std::int64_t target,
                                    Effort& effort);

}  // namespace ribbay::detail
