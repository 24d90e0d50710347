#include "cut_tree.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

int stage_after(int stage, bool made_by_rip, bool rip) {
  return stage == 0 || made_by_rip != rip ? stage + 1 : stage;
}

}  // namespace

CutTree::CutTree(std::size_t kind, const SheetKind& size) : kind_(kind), nodes_(1) {
  nodes_[0].length = size.length;
  nodes_[0].width = size.width;
  free_.push_back({0, size.length, size.width});
}

int CutTree::last_stage(const CutNode& node, std::int64_t length, std::int64_t width,
                        bool rip_first) {
  int stage = node.stage;
  bool made_by_rip = node.made_by_rip;
  for (const bool rip : {rip_first, !rip_first}) {
    if (rip ? width == node.width : length == node.length) continue;
    stage = stage_after(stage, made_by_rip, rip);
    made_by_rip = rip;
  }
  return stage;
}

/// The part at the fence, not free any more; the node itself when there is nothing to cut off.
std::size_t CutTree::cut(std::size_t node, bool rip, std::int64_t at) {
  CutNode& whole = nodes_[node];
  if (at == (rip ? whole.width : whole.length)) return node;
  CutNode first = whole;
  first.stage = stage_after(whole.stage, whole.made_by_rip, rip);
  first.made_by_rip = rip;
  CutNode rest = first;
  (rip ? first.width : first.length) = at;
  (rip ? rest.width : rest.length) -= at;
  (rip ? rest.y : rest.x) += at;
  whole.state = CutNode::State::cut;
  whole.rip = rip;
  whole.first = nodes_.size();
  whole.rest = nodes_.size() + 1;
  nodes_.push_back(first);
  nodes_.push_back(rest);
  free_.push_back({nodes_.size() - 1, rest.length, rest.width});
  return nodes_.size() - 2;
}

void CutTree::put(std::size_t node, std::size_t item, bool turned, std::int64_t length,
                  std::int64_t width, bool rip_first) {
  free_.erase(std::ranges::lower_bound(free_, node, {}, &FreeRoom::node));
  for (const bool rip : {rip_first, !rip_first}) node = cut(node, rip, rip ? width : length);
  nodes_[node].state = CutNode::State::piece;
  nodes_[node].item = item;
  nodes_[node].turned = turned;
  used_area_ += length * width;
}

}  // namespace ribbay::detail
