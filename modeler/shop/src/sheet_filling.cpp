#include "sheet_filling.hpp"

#include <algorithm>
#include <limits>

namespace ribbay::detail {

namespace {

/// So many sheets at once are looked through for a place: of more, the fullest is done with.
constexpr std::size_t kMostOpen = 64;

class Filling {
 public:
  Filling(const SheetNumbers& numbers, const Recipe& recipe, std::int64_t dearest, Effort& effort)
      : numbers_(numbers),
        recipe_(recipe),
        dearest_(dearest),
        effort_(effort),
        left_(numbers.kinds.size()) {
    for (std::size_t k = 0; k < left_.size(); ++k) left_[k] = numbers.kinds[k].available;
  }

  std::optional<Filled> run() {
    for (const Turn& turn : recipe_.turns) {
      std::optional<Spot> spot = best_spot(turn);
      if (!spot) spot = on_new_sheet(turn);
      if (!spot) return std::nullopt;
      sheets_[spot->sheet].put(spot->node, turn.item, spot->turned, spot->length, spot->width,
                               spot->rip_first);
    }
    Filled filled{std::move(sheets_), cost_, std::numeric_limits<std::int64_t>::max()};
    for (const CutTree& sheet : filled.sheets) {
      filled.least_used = std::min(filled.least_used, sheet.used_area());
    }
    return filled;
  }

 private:
  struct Spot {
    std::size_t sheet = 0;
    std::size_t node = 0;
    bool turned = false;
    std::int64_t length = 0;  ///< along x
    std::int64_t width = 0;
    bool rip_first = false;
    double rest = std::numeric_limits<double>::infinity();  ///< by recipe_.choice, less is better
  };

  bool allowed(const CutNode& node, const Spot& spot, bool rip_first) const {
    return CutTree::last_stage(node, spot.length, spot.width, rip_first) <= numbers_.stages;
  }

  bool wants_rip_first(const CutNode& node, const Spot& spot) const {
    const std::int64_t along = node.length - spot.length;
    const std::int64_t across = node.width - spot.width;
    switch (recipe_.first_cut) {
      case FirstCut::larger_rest:
        return across * node.length >= along * node.width;
      case FirstCut::shorter_rest:
        return across > along;
      case FirstCut::longer_rest:
        return across <= along;
      case FirstCut::rip:
        return true;
      case FirstCut::cross:
        break;
    }
    return false;
  }

  double rest_of(const CutNode& node, const Spot& spot) const {
    const auto along = static_cast<double>(node.length - spot.length);
    const auto across = static_cast<double>(node.width - spot.width);
    switch (recipe_.choice) {
      case Choice::shorter_side:
        return std::min(along, across);
      case Choice::longer_side:
        return std::max(along, across);
      case Choice::least_area:
      case Choice::first_sheet:
        break;
    }
    return static_cast<double>(node.length) * static_cast<double>(node.width) -
           static_cast<double>(spot.length) * static_cast<double>(spot.width);
  }

  static bool takes(const FreeRoom& room, const SheetItem& item) {
    return (item.length <= room.length && item.width <= room.width) ||
           (item.turnable && item.width <= room.length && item.length <= room.width);
  }

  /// The piece in this free node, either way round, when that is better than `best`.
  void consider(std::size_t sheet, std::size_t at, const Turn& turn, std::optional<Spot>& best) {
    const CutNode& node = sheets_[sheet].nodes()[at];
    const SheetItem& item = numbers_.items[turn.item];
    for (const bool turned : {false, true}) {
      if (turned && !item.turnable) continue;
      Spot spot{sheet, at, turned, turned ? item.width : item.length,
                turned ? item.length : item.width};
      if (spot.length > node.length || spot.width > node.width) continue;
      spot.rip_first = wants_rip_first(node, spot);
      if (!allowed(node, spot, spot.rip_first)) spot.rip_first = !spot.rip_first;
      if (!allowed(node, spot, spot.rip_first)) continue;
      spot.rest = rest_of(node, spot);
      // The other way round counts only when it is clearly better.
      if (item.turnable && turned != turn.turned) spot.rest = spot.rest * 1.02 + 10.0;
      if (!best || spot.rest < best->rest) best = spot;
    }
  }

  std::optional<Spot> best_spot(const Turn& turn) {
    std::optional<Spot> best;
    const SheetItem& item = numbers_.items[turn.item];
    for (const std::size_t s : open_) {
      const CutTree& sheet = sheets_[s];
      effort_.spent += static_cast<std::int64_t>(2 * sheet.nodes().size());
      for (const FreeRoom& room : sheet.free()) {
        if (takes(room, item)) consider(s, room.node, turn, best);
      }
      if (best && recipe_.choice == Choice::first_sheet) break;
    }
    return best;
  }

  bool can_open(std::size_t kind, const Turn& turn) const {
    const SheetKind& size = numbers_.kinds[kind];
    const SheetItem& item = numbers_.items[turn.item];
    return left_[kind] > 0 && cost_ + size.cost <= dearest_ &&
           (fits(item, size, false) || fits(item, size, true));
  }

  /// On hand, the smallest first; the preferred kind; the cheapest.
  std::optional<std::size_t> kind_for(const Turn& turn) const {
    const auto rank = [&](std::size_t k) {
      const SheetKind& kind = numbers_.kinds[k];
      const bool on_hand = kind.limited && recipe_.on_hand_first;
      const int group = on_hand ? 0 : k == recipe_.preferred ? 1 : 2;
      return std::pair(group, group == 0 ? kind.length * kind.width : kind.cost);
    };
    std::optional<std::size_t> best;
    for (std::size_t k = 0; k < left_.size(); ++k) {
      if (can_open(k, turn) && (!best || rank(k) < rank(*best))) best = k;
    }
    return best;
  }

  /// But for the one that was opened last.
  void close_fullest() {
    const auto free_area = [&](std::size_t s) {
      const CutNode& sheet = sheets_[s].nodes().front();
      return sheet.length * sheet.width - sheets_[s].used_area();
    };
    open_.erase(std::ranges::min_element(open_.begin(), open_.end() - 1, {}, free_area));
  }

  std::optional<Spot> on_new_sheet(const Turn& turn) {
    const auto kind = kind_for(turn);
    if (!kind) return std::nullopt;
    --left_[*kind];
    cost_ += numbers_.kinds[*kind].cost;
    sheets_.emplace_back(*kind, numbers_.kinds[*kind]);
    open_.push_back(sheets_.size() - 1);
    if (open_.size() > kMostOpen) close_fullest();
    std::optional<Spot> spot;
    consider(sheets_.size() - 1, 0, turn, spot);
    return spot;
  }

  const SheetNumbers& numbers_;
  const Recipe& recipe_;
  std::int64_t dearest_ = 0;
  Effort& effort_;
  std::vector<int> left_;  ///< sheets of each kind
  std::vector<CutTree> sheets_;
  std::vector<std::size_t> open_;  ///< sheets that pieces are still put into, rising
  std::int64_t cost_ = 0;
};

}  // namespace

std::optional<Filled> fill_sheets(const SheetNumbers& numbers, const Recipe& recipe,
                                  std::int64_t dearest, Effort& effort) {
  return Filling(numbers, recipe, dearest, effort).run();
}

}  // namespace ribbay::detail
