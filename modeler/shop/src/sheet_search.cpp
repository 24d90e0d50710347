#include "sheet_search.hpp"

#include <algorithm>
#include <limits>
#include <random>
#include <utility>

namespace ribbay::detail {

namespace {

constexpr unsigned kSeed = 7;
constexpr int kFreshStarts = 48;  ///< before the first change to a good one
constexpr int kPlainStarts = 16;  ///< sequences by size without noise
constexpr int kFirstCuts = 5;
constexpr int kChoices = 4;
constexpr double kNoise = 0.25;  ///< of a size in a noisy sequence
/// Of very many pieces not all large ones come first: what they leave would be out of sight when
/// the small ones come.
constexpr std::size_t kMostAtOnce = 1000;
constexpr std::size_t kHeap = 250;

class Search {
 public:
  Search(const SheetNumbers& numbers, std::int64_t target, Effort& effort)
      : numbers_(numbers), target_(target), effort_(effort) {
    for (std::size_t i = 0; i < numbers.items.size(); ++i) {
      all_.insert(all_.end(), numbers.items[i].pieces.size(), {i, false});
    }
    if (all_.size() <= kMostAtOnce) return;
    for (std::size_t i = all_.size(); i-- > 1;) std::swap(all_[i], all_[below(i + 1)]);
  }

  std::optional<Filled> run() {
    for (int start = 0; !effort_.over() && !(best_ && best_->cost <= target_); ++start) {
      effort_.spent += 50 * static_cast<std::int64_t>(all_.size());
      const bool fresh = !best_ || start < kFreshStarts || below(4) == 0;
      try_out(fresh ? fresh_recipe(start) : changed_recipe());
    }
    return std::move(best_);
  }

 private:
  std::size_t below(std::size_t limit) { return random_() % limit; }

  void try_out(Recipe recipe) {
    const std::int64_t dearest = best_ ? best_->cost : std::numeric_limits<std::int64_t>::max();
    auto filled = fill_sheets(numbers_, recipe, dearest, effort_);
    if (!filled) return;
    if (best_ &&
        std::pair(best_->cost, best_->least_used) < std::pair(filled->cost, filled->least_used)) {
      return;
    }
    best_ = std::move(filled);
    recipe_ = std::move(recipe);
  }

  double size_by(int measure, const SheetItem& item) const {
    const auto length = static_cast<double>(item.length);
    const auto width = static_cast<double>(item.width);
    switch (measure) {
      case 0:
        return length * width;
      case 1:
        return std::max(length, width);
      case 2:
        return width * 1e4 + length;
      default:
        return length * 1e4 + width;
    }
  }

  std::size_t heap_of(std::size_t piece) const {
    return all_.size() <= kMostAtOnce ? 0 : piece / kHeap;
  }

  /// All pieces, large ones first by one of four measures, heap by heap.
  Recipe fresh_recipe(int start) {
    const double noise = start < kPlainStarts ? 0.0 : kNoise;
    struct Keyed {
      std::size_t heap = 0;
      double size = 0.0;
      Turn turn;
    };
    std::vector<Keyed> keyed;
    for (Turn turn : all_) {
      const double factor = 1.0 + noise * (static_cast<double>(below(1000)) / 500.0 - 1.0);
      turn.turned = below(3) == 0;
      keyed.push_back({heap_of(keyed.size()), size_by(start % 4, numbers_.items[turn.item]) * factor,
                       turn});
    }
    std::ranges::stable_sort(keyed, [](const Keyed& a, const Keyed& b) {
      return std::pair(a.heap, -a.size) < std::pair(b.heap, -b.size);
    });
    Recipe recipe;
    for (const Keyed& each : keyed) recipe.turns.push_back(each.turn);
    choose_rules(recipe);
    return recipe;
  }

  void choose_rules(Recipe& recipe) {
    recipe.first_cut = static_cast<FirstCut>(below(kFirstCuts));
    recipe.choice = static_cast<Choice>(below(kChoices));
    recipe.preferred = below(numbers_.kinds.size());
    recipe.on_hand_first = below(4) > 0;
  }

  /// The best recipe with up to three pieces exchanged or moved.
  Recipe changed_recipe() {
    Recipe recipe = recipe_;
    auto& turns = recipe.turns;
    for (std::size_t changes = 1 + below(3); changes > 0; --changes) {
      const std::size_t a = below(turns.size());
      const std::size_t b = below(turns.size());
      if (below(2) == 0) {
        std::swap(turns[a], turns[b]);
      } else {
        const Turn moved = turns[a];
        turns.erase(turns.begin() + static_cast<std::ptrdiff_t>(a));
        turns.insert(turns.begin() + static_cast<std::ptrdiff_t>(std::min(b, turns.size())), moved);
      }
      if (below(3) == 0) turns[a].turned = !turns[a].turned;
    }
    if (below(10) == 0) choose_rules(recipe);
    return recipe;
  }

  const SheetNumbers& numbers_;
  std::int64_t target_ = 0;
  Effort& effort_;
  std::vector<Turn> all_;
  std::mt19937 random_{kSeed};
  std::optional<Filled> best_;
  Recipe recipe_;  ///< of best_
};

}  // namespace

std::optional<Filled> search_sheets(const SheetNumbers& numbers, std::int64_t target,
                                    Effort& effort) {
  return Search(numbers, target, effort).run();
}

}  // namespace ribbay::detail
