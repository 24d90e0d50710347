#include "sawing.hpp"

#include "base/tolerance.hpp"

#include <algorithm>
#include <limits>
#include <map>
#include <ranges>

namespace ribbay::detail {

namespace {

double in_mm(std::int64_t ticks) {
  return static_cast<double>(ticks) * kCut;
}

class Sawing {
 public:
  Sawing(const CutTree& tree, const SheetNumbers& numbers, const NextPiece& next_piece)
      : tree_(tree), numbers_(numbers), next_piece_(next_piece) {}

  SheetLayout run(const SheetStock& gross) {
    layout_.stock = tree_.kind();
    layout_.parts.push_back({0.0, 0.0, gross.length, gross.width});
    lay_ready({trimmed(), 0});
    while (!open_.empty()) cut_next();
    return std::move(layout_);
  }

 private:
  struct Open {
    std::size_t part = 0;  ///< of the layout
    std::size_t node = 0;  ///< of the tree
    int stage = 0;         ///< of the cut that made it, as sawn
    bool by_rip = false;
  };

  /// Cuts `part`, so that `fence` mm of it stay at the fence.
  SheetCut& saw(std::size_t part, bool rip, double fence, int stage, bool turned = false) {
    const SheetPart whole = layout_.parts[part];
    SheetCut cut{part, rip, fence, stage, layout_.parts.size(), {}, turned};
    const double behind = (rip ? whole.width : whole.length) - fence - in_mm(numbers_.kerf);
    const auto cut_off = [&](double size, bool upper) {
      SheetPart made = whole;
      double& at = rip ? made.y : made.x;
      double& across = rip ? made.width : made.length;
      if (upper) at += across - size;
      across = size;
      layout_.parts.push_back(made);
    };
    cut_off(fence, turned);
    if (behind > kSame) {
      cut.rest = layout_.parts.size();
      cut_off(behind, !turned);
    }
    layout_.cuts.push_back(cut);
    return layout_.cuts.back();
  }

  /// Takes the trim off all four edges; gives what is left. What stays lies at the fence each time:
  /// first with the raw edge opposite, then with the edge that was just sawn.
  std::size_t trimmed() {
    std::size_t sheet = 0;
    if (numbers_.trim == 0) return sheet;
    const CutNode& usable = tree_.nodes()[0];
    for (const bool rip : {true, false}) {
      const SheetPart& gross = layout_.parts[sheet];
      const double stays = (rip ? gross.width : gross.length) - in_mm(numbers_.trim);
      sheet = saw(sheet, rip, stays, 0, true).first;
      sheet = saw(sheet, rip, in_mm((rip ? usable.width : usable.length) - numbers_.kerf), 0).first;
    }
    return sheet;
  }

  /// What the fence is set to where a node is cut, as a length of the tree.
  std::int64_t setting(const CutNode& node) const {
    const CutNode& first = tree_.nodes()[node.first];
    return node.rip ? first.width : first.length;
  }

  double fence(const CutNode& node) const { return at_fence(numbers_, setting(node)); }

  /// A piece is named, a rest forgotten; what is cut further lies ready, past cuts that would take
  /// off less than a saw can.
  void lay_ready(Open open) {
    const SheetPart& part = layout_.parts[open.part];
    const CutNode* node = &tree_.nodes()[open.node];
    while (node->state == CutNode::State::cut &&
           (node->rip ? part.width : part.length) - fence(*node) < kSawn - kSame) {
      open.node = node->first;
      node = &tree_.nodes()[open.node];
    }
    if (node->state == CutNode::State::cut) open_.push_back(open);
    if (node->state != CutNode::State::piece) return;
    layout_.parts[open.part].piece = next_piece_(node->item);
    layout_.parts[open.part].turned = node->turned;
  }

  /// Stage of the next cut of what lies ready.
  int next_stage(const Open& open) const {
    const bool rip = tree_.nodes()[open.node].rip;
    return open.stage == 0 || open.by_rip != rip ? open.stage + 1 : open.stage;
  }

  /// Of the cuts of a stage that are still to come, how many there are at each setting that wait
  /// for one at another.
  std::map<std::int64_t, int> waiting(int stage) const {
    struct Below {
      std::size_t node = 0;
      bool rip = false;
      std::int64_t before = 0;  ///< setting of the cut that makes it
      bool waits = false;       ///< and that cut waits itself
    };
    std::vector<Below> below;
    for (const Open& open : open_) {
      const CutNode& node = tree_.nodes()[open.node];
      if (next_stage(open) == stage) below.push_back({open.node, node.rip, setting(node), false});
    }
    std::map<std::int64_t, int> counts;
    while (!below.empty()) {
      const Below each = below.back();
      below.pop_back();
      const CutNode& node = tree_.nodes()[each.node];
      if (node.state != CutNode::State::cut || node.rip != each.rip) continue;
      const bool waits = each.waits || setting(node) != each.before;
      if (waits) ++counts[setting(node)];
      for (const std::size_t next : {node.first, node.rest})
        below.push_back({next, each.rip, setting(node), waits});
    }
    return counts;
  }

  /// Of what lies ready for the earliest stage: what is cut at the setting that the fence stands
  /// at, else at the one for which the fewest others wait; of several the first.
  std::size_t next_open() const {
    const int stage = std::ranges::min(
        open_ | std::views::transform([&](const Open& open) { return next_stage(open); }));
    const auto first_ready = [&](const auto& wanted) {
      return std::ranges::find_if(open_, [&](const Open& open) {
        return next_stage(open) == stage && wanted(setting(tree_.nodes()[open.node]));
      });
    };
    auto found = first_ready([&](std::int64_t at) { return stage == stage_ && at == setting_; });
    if (found == open_.end()) {
      std::map<std::int64_t, int> counts = waiting(stage);
      int fewest = std::numeric_limits<int>::max();
      first_ready([&](std::int64_t at) {
        fewest = std::min(fewest, counts[at]);
        return false;
      });
      found = first_ready([&](std::int64_t at) { return counts[at] == fewest; });
    }
    return static_cast<std::size_t>(found - open_.begin());
  }

  void cut_next() {
    const std::size_t next = next_open();
    const Open open = open_[next];
    stage_ = next_stage(open);
    open_.erase(open_.begin() + static_cast<std::ptrdiff_t>(next));
    const CutNode& node = tree_.nodes()[open.node];
    setting_ = setting(node);
    const SheetCut cut = saw(open.part, node.rip, fence(node), stage_);
    lay_ready({cut.first, node.first, stage_, node.rip});
    if (cut.rest) lay_ready({*cut.rest, node.rest, stage_, node.rip});
  }

  const CutTree& tree_;
  const SheetNumbers& numbers_;
  const NextPiece& next_piece_;
  SheetLayout layout_;
  std::vector<Open> open_;  ///< what is cut further
  int stage_ = 0;           ///< of the cut before
  std::int64_t setting_ = 0;
};

}  // namespace

SheetLayout sawn(const CutTree& tree, const SheetNumbers& numbers, const SheetStock& gross,
                 const NextPiece& next_piece) {
  return Sawing(tree, numbers, next_piece).run(gross);
}

}  // namespace ribbay::detail
