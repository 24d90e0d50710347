#include "broad_phase.hpp"

#include <algorithm>
#include <numeric>

namespace ribbay::detail {

std::vector<IndexPair> near_pairs(const std::vector<Box>& boxes, double margin) {
  std::vector<std::size_t> order(boxes.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::sort(order, {}, [&](std::size_t i) { return std::pair(boxes[i].lo.x, i); });
  std::vector<IndexPair> pairs;
  for (auto i = order.begin(); i != order.end(); ++i) {
    for (auto k = i + 1; k != order.end(); ++k) {
      if (boxes[*k].lo.x > boxes[*i].hi.x + margin) break;
      if (near(boxes[*i], boxes[*k], margin)) pairs.emplace_back(std::minmax(*i, *k));
    }
  }
  std::ranges::sort(pairs);
  return pairs;
}

}  // namespace ribbay::detail
