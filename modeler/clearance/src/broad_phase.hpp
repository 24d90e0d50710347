#pragma once

#include "base/box.hpp"

#include <utility>
#include <vector>

namespace ribbay::detail {

using IndexPair = std::pair<std::size_t, std::size_t>;

/// Boxes in a tree: each half of a node's boxes, split across its longest side, in a node of its own.
class BoxTree {
 public:
  explicit BoxTree(std::vector<Box> boxes);

  /// Those closer than `margin` on every axis, rising. In about the time of what is found.
  std::vector<std::size_t> near(const Box& box, double margin) const;

  /// Calls use(k) for each of them, in the order of the tree.
  template <class Use>
  void for_near(const Box& box, double margin, Use use) const {
    for (std::size_t n = 0; n < nodes_.size();) {
      const Node& node = nodes_[n];
      if (!ribbay::near(node.box, box, margin)) {
        n = node.next;
        continue;
      }
      for (std::size_t i = node.from; i < node.to; ++i) {
        if (ribbay::near(boxes_[order_[i]], box, margin)) use(order_[i]);
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

  void build(std::size_t from, std::size_t to);

  std::vector<Box> boxes_;
  std::vector<std::size_t> order_;
  std::vector<Node> nodes_;
};

/// All pairs (i < k) of boxes closer than `margin` on every axis, sorted: n log n
/// and the pairs found.
std::vector<IndexPair> near_pairs(const std::vector<Box>& boxes, double margin);

}  // namespace ribbay::detail
