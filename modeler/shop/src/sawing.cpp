#include "sawing.hpp"

#include "base/tolerance.hpp"

#include <algorithm>

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
    open_.push_back({trimmed(), 0});
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
  SheetCut& saw(std::size_t part, bool rip, double fence, int stage) {
    const SheetPart whole = layout_.parts[part];
    SheetCut cut{part, rip, fence, stage, layout_.parts.size()};
    SheetPart first = whole;
    (rip ? first.width : first.length) = fence;
    layout_.parts.push_back(first);
    const double behind = fence + in_mm(numbers_.kerf);
    SheetPart rest = whole;
    (rip ? rest.y : rest.x) += behind;
    (rip ? rest.width : rest.length) -= behind;
    if ((rip ? rest.width : rest.length) > kSame) {
      cut.rest = layout_.parts.size();
      layout_.parts.push_back(rest);
    }
    layout_.cuts.push_back(cut);
    return layout_.cuts.back();
  }

  /// Takes the trim off all four edges; gives what is left.
  std::size_t trimmed() {
    std::size_t sheet = 0;
    if (numbers_.trim == 0) return sheet;
    for (const bool rip : {true, false}) {
      sheet = *saw(sheet, rip, in_mm(numbers_.trim - numbers_.kerf), 0).rest;
      const CutNode& usable = tree_.nodes()[0];
      sheet = saw(sheet, rip, in_mm((rip ? usable.width : usable.length) - numbers_.kerf), 0).first;
    }
    return sheet;
  }

  void name_piece(const Open& open) {
    const CutNode& node = tree_.nodes()[open.node];
    if (node.state != CutNode::State::piece) return;
    layout_.parts[open.part].piece = next_piece_(node.item);
    layout_.parts[open.part].turned = node.turned;
  }

  /// Stage of the next cut of what lies ready; 0 where there is none.
  int next_stage(const Open& open) const {
    const CutNode& node = tree_.nodes()[open.node];
    if (node.state != CutNode::State::cut) return 0;
    return open.stage == 0 || open.by_rip != node.rip ? open.stage + 1 : open.stage;
  }

  /// Of what lies ready, the first that is cut in the earliest stage.
  void cut_next() {
    const auto next =
        std::ranges::min_element(open_, {}, [&](const Open& open) { return next_stage(open); });
    const Open open = *next;
    open_.erase(next);
    name_piece(open);
    const CutNode& node = tree_.nodes()[open.node];
    if (node.state != CutNode::State::cut) return;
    const CutNode& first = tree_.nodes()[node.first];
    const double fence = at_fence(numbers_, node.rip ? first.width : first.length);
    const SheetPart& part = layout_.parts[open.part];
    if ((node.rip ? part.width : part.length) - fence < kSawn - kSame)
      return open_.push_back({open.part, node.first, open.stage, open.by_rip});
    const int stage = next_stage(open);
    const SheetCut cut = saw(open.part, node.rip, fence, stage);
    open_.push_back({cut.first, node.first, stage, node.rip});
    if (cut.rest) open_.push_back({*cut.rest, node.rest, stage, node.rip});
  }

  const CutTree& tree_;
  const SheetNumbers& numbers_;
  const NextPiece& next_piece_;
  SheetLayout layout_;
  std::vector<Open> open_;
};

}  // namespace

SheetLayout sawn(const CutTree& tree, const SheetNumbers& numbers, const SheetStock& gross,
                 const NextPiece& next_piece) {
  return Sawing(tree, numbers, next_piece).run(gross);
}

}  // namespace ribbay::detail
