#pragma once

#include "base/box.hpp"

#include <utility>
#include <vector>

namespace ribbay::detail {

using IndexPair = std::pair<std::size_t, std::size_t>;

/// All pairs (i < k) of boxes closer than `margin` on every axis, sorted. By a tree of boxes: n log n
/// and the pairs found.
std::vector<IndexPair> near_pairs(const std::vector<Box>& boxes, double margin);

}  // namespace ribbay::detail
