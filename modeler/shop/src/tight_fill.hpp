#pragma once

#include "instance.hpp"

#include <optional>

namespace ribbay::detail {

/// Bar after bar takes the longest piece that is left, and then those that leave the least of it,
/// found within a limited number of tries: of very many sizes it wastes little. What is on hand comes first, then bars of `preferred`. Nothing when a piece finds no bar.
std::optional<Solution> fill_tightly(const Instance& instance, std::size_t preferred,
                                     Effort& effort);

}  // namespace ribbay::detail
