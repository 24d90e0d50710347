#include "greedy.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

struct Rule {
  bool best_fit = false;      ///< into the fullest bar that has room, not into the first
  std::size_t preferred = 0;  ///< stock that a new bar is taken from
};

struct OpenBar {
  Pattern pattern;
  std::int64_t room = 0;
};

class Filling {
 public:
  Filling(const Instance& instance, const Counts& available, Rule rule)
      : instance_(instance), rule_(rule) {
    open_what_is_on_hand(available);
  }

  bool place(std::size_t item) {
    const std::int64_t size = instance_.items[item].size;
    OpenBar* bar = find_room(size);
    if (bar == nullptr) bar = open_for(size);
    if (bar == nullptr) return false;
    bar->room -= size;
    ++bar->pattern.cut[item];
    return true;
  }

  Solution solution() const {
    Solution result;
    for (const OpenBar& bar : bars_) {
      if (bar.room == capacity(bar.pattern.stock)) continue;
      add(result, instance_, in_cheapest_bar(bar), 1);
    }
    return result;
  }

 private:
  std::int64_t capacity(std::size_t stock) const { return instance_.stocks[stock].capacity; }

  OpenBar* open(std::size_t stock) {
    bars_.push_back({{stock, Counts(instance_.items.size(), 0)}, capacity(stock)});
    return &bars_.back();
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

  OpenBar* find_room(std::int64_t size) {
    OpenBar* found = nullptr;
    for (OpenBar& bar : bars_) {
      if (bar.room < size) continue;
      if (!rule_.best_fit) return &bar;
      if (found == nullptr || bar.room < found->room) found = &bar;
    }
    return found;
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

  OpenBar* open_for(std::int64_t size) {
    if (!instance_.stocks[rule_.preferred].limited && capacity(rule_.preferred) >= size) {
      return open(rule_.preferred);
    }
    const auto stock = cheapest(size);
    return stock ? open(*stock) : nullptr;
  }

  Pattern in_cheapest_bar(const OpenBar& bar) const {
    Pattern pattern = bar.pattern;
    const auto other = cheapest(capacity(pattern.stock) - bar.room);
    if (other && instance_.stocks[*other].cost < instance_.stocks[pattern.stock].cost) {
      pattern.stock = *other;
    }
    return pattern;
  }

  const Instance& instance_;
  Rule rule_;
  std::vector<OpenBar> bars_;
};

std::optional<Solution> fill(const Instance& instance, const Counts& demand,
                             const Counts& available, Rule rule) {
  Filling filling(instance, available, rule);
  for (std::size_t i = 0; i < demand.size(); ++i) {
    for (int piece = 0; piece < demand[i]; ++piece) {
      if (!filling.place(i)) return std::nullopt;
    }
  }
  return filling.solution();
}

}  // namespace

std::optional<Solution> best_greedy(const Instance& instance, const Counts& demand,
                                    const Counts& available) {
  std::optional<Solution> best;
  bool bought = false;
  for (std::size_t s = 0; s < instance.stocks.size(); ++s) {
    // Where all is on hand, no bar is opened later, and one preference is as good as another.
    const bool last = s + 1 == instance.stocks.size();
    if (instance.stocks[s].limited && (!last || bought)) continue;
    bought = bought || !instance.stocks[s].limited;
    for (const bool best_fit : {false, true}) {
      improve(best, fill(instance, demand, available, {best_fit, s}));
    }
  }
  return best;
}

}  // namespace ribbay::detail
