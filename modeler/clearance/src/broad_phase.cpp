#include "broad_phase.hpp"

#include <algorithm>
#include <numeric>

namespace ribbay::detail {

namespace {

/// Boxes in a tree: each half of a node's boxes, split across its longest side, in a node of its own.
class BoxTree {
 public:
  explicit BoxTree(const std::vector<Box>& boxes) : boxes_{boxes}, order_(boxes.size()) {
    std::iota(order_.begin(), order_.end(), std::size_t{0});
    if (!boxes.empty()) build(0, boxes.size());
  }

  /// Calls use(k) for each box closer than `margin` on every axis.
  template <class Use>
  void for_near(const Box& box, double margin, Use use) const {
    for (std::size_t n = 0; n < nodes_.size();) {
      const Node& node = nodes_[n];
      if (!near(node.box, box, margin)) {
        n = node.next;
        continue;
      }
      for (std::size_t i = node.from; i < node.to; ++i) {
        if (near(boxes_[order_[i]], box, margin)) use(order_[i]);
      }
      ++n;
    }
  }

 private:
  static constexpr std::size_t kFew = 4;
  struct Node {
    Box box;
    std::size_t from = 0;  ///< of a leaf: its boxes order_[from..to)
    std::size_t to = 0;
    std::size_t next = 0;  ///< the first node that is not below this one
  };

  void build(std::size_t from, std::size_t to) {
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

  const std::vector<Box>& boxes_;
  std::vector<std::size_t> order_;
  std::vector<Node> nodes_;
};

}  // namespace

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
