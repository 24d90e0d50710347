#include "greedy.hpp"

#include "rooms.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

struct Rule {
  bool best_fit = false;      ///< into the fullest bar that has room, not into the first
  std::size_t preferred = 0;  ///< stock that a new bar is taken from
};

class Filling {
 public:
  Filling(const Instance& instance, const Counts& available, Rule rule)
      : instance_(instance), rule_(rule), rooms_(rule.best_fit) {
    open_what_is_on_hand(available);
  }

  /// A bar that takes one takes as many more as it can: it is still the first or fullest.
  bool place(std::size_t item, int count) {
    const std::int64_t size = instance_.items[item].size;
    while (count > 0) {
      std::optional<std::size_t> bar = rooms_.find(size);
      if (!bar) bar = open_for(size);
      if (!bar) return false;
      const auto times = static_cast<int>(std::min<std::int64_t>(count, rooms_.of(*bar) / size));
      rooms_.take(*bar, times * size);
      bars_[*bar].cuts.push_back({item, times});
      count -= times;
    }
    return true;
  }

  std::size_t bars() const { return bars_.size(); }

  Solution solution() const {
    Solution result;
    for (std::size_t bar = 0; bar < bars_.size(); ++bar) {
      if (bars_[bar].cuts.empty()) continue;
      add(result, instance_, in_cheapest_bar(bars_[bar], rooms_.of(bar)), 1);
    }
    return result;
  }

 private:
  std::int64_t capacity(std::size_t stock) const { return instance_.stocks[stock].capacity; }

  std::size_t open(std::size_t stock) {
    bars_.push_back({stock, {}});
    rooms_.add(capacity(stock));
    return bars_.size() - 1;
  }

  void open_what_is_on_hand(const Counts& available) {
    std::vector<std::size_t> limited;
    for (std::size_t s = 0; s < instance_.stocks.size(); ++s) {
      if (instance_.stocks[s].limited) limited.push_back(s);
    }
    std::ranges::stable_sort(limited, {}, [&](std::size_t s) { return capacity(s); });
    for (const std::size_t s : limited) {
      for (int bar = 0; bar < available[s]; ++bar) open(s);
    }
  }

  /// The cheapest stock to be bought that holds `size`; none when there is none.
  std::optional<std::size_t> cheapest(std::int64_t size) const {
    std::optional<std::size_t> found;
    for (std::size_t s = 0; s < instance_.stocks.size(); ++s) {
      if (instance_.stocks[s].limited || capacity(s) < size) continue;
      if (!found || instance_.stocks[s].cost < instance_.stocks[*found].cost) found = s;
    }
    return found;
  }

  std::optional<std::size_t> open_for(std::int64_t size) {
    if (!instance_.stocks[rule_.preferred].limited && capacity(rule_.preferred) >= size) {
      return open(rule_.preferred);
    }
    const auto stock = cheapest(size);
    return stock ? std::optional(open(*stock)) : std::nullopt;
  }

  Pattern in_cheapest_bar(Pattern pattern, std::int64_t room) const {
    const auto other = cheapest(capacity(pattern.stock) - room);
    if (other && instance_.stocks[*other].cost < instance_.stocks[pattern.stock].cost) {
      pattern.stock = *other;
    }
    return pattern;
  }

  const Instance& instance_;
  Rule rule_;
  std::vector<Pattern> bars_;
  Rooms rooms_;  ///< of the bars
};

std::optional<Solution> fill(const Instance& instance, const Counts& demand,
                             const Counts& available, Rule rule, Effort& effort) {
  Filling filling(instance, available, rule);
  bool placed = true;
  for (std::size_t i = 0; i < demand.size() && placed; ++i) placed = filling.place(i, demand[i]);
  effort.spent += 400 * static_cast<std::int64_t>(filling.bars());
  return placed ? std::optional(filling.solution()) : std::nullopt;
}

}  // namespace

std::optional<Solution> best_greedy(const Instance& instance, const Counts& demand,
                                    const Counts& available, Effort& effort) {
  std::optional<Solution> best;
  bool bought = false;
  for (std::size_t s = 0; s < instance.stocks.size(); ++s) {
    // Where all is on hand, no bar is opened later, and one preference is as good as another.
    const bool last = s + 1 == instance.stocks.size();
    if (instance.stocks[s].limited && (!last || bought)) continue;
    bought = bought || !instance.stocks[s].limited;
    for (const bool best_fit : {false, true}) {
      improve(best, fill(instance, demand, available, {best_fit, s}, effort));
    }
  }
  return best;
}

}  // namespace ribbay::detail
