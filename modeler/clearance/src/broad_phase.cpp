#include "broad_phase.hpp"

#include <algorithm>
#include <numeric>

namespace ribbay::detail {

BoxTree::BoxTree(std::vector<Box> boxes) : boxes_{std::move(boxes)}, order_(boxes_.size()) {
  std::iota(order_.begin(), order_.end(), std::size_t{0});
  if (!boxes_.empty()) build(0, boxes_.size());
}

std::vector<std::size_t> BoxTree::near(const Box& box, double margin) const {
  std::vector<std::size_t> found;
  for_near(box, margin, [&](std::size_t k) { found.push_back(k); });
  std::ranges::sort(found);
  return found;
}

void BoxTree::build(std::size_t from, std::size_t to) {
  const std::size_t n = nodes_.size();
  nodes_.emplace_back();
  Box box;
  Box middles;
  for (std::size_t i = from; i < to; ++i) {
    box.add(boxes_[order_[i]]);
    middles.add(boxes_[order_[i]].centre());
  }
  nodes_[n].box = box;
  if (to - from <= kFew) {
    nodes_[n].from = from;
    nodes_[n].to = to;
  } else {
    const Vec3 size = middles.size();
    const int axis = size.x >= size.y && size.x >= size.z ? 0 : size.y >= size.z ? 1 : 2;
    const std::size_t half = (from + to) / 2;
    const auto at = [&](std::size_t i) { return order_.begin() + static_cast<std::ptrdiff_t>(i); };
    std::ranges::nth_element(at(from), at(half), at(to), {}, [&](std::size_t i) {
      return std::pair(boxes_[i].centre()[axis], i);
    });
    build(from, half);
    build(half, to);
  }
  nodes_[n].next = nodes_.size();
}

std::vector<IndexPair> near_pairs(const std::vector<Box>& boxes, double margin) {
  const BoxTree tree(boxes);
  std::vector<IndexPair> pairs;
  for (std::size_t i = 0; i < boxes.size(); ++i) {
    tree.for_near(boxes[i], margin, [&](std::size_t k) {
      if (k > i) pairs.emplace_back(i, k);
    });
  }
  std::ranges::sort(pairs);
  return pairs;
}

}  // namespace ribbay::detail
