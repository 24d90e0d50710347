#include "longest_rest.hpp"

#include "close_gap.hpp"
#include "master.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

std::int64_t longest_unused(const Instance& instance, const Solution& solution) {
  std::int64_t longest = 0;
  for (const auto& [pattern, times] : solution.bars) {
    longest =
        std::max(longest, instance.stocks[pattern.stock].capacity - size_of(pattern, instance));
  }
  return longest;
}

/// One bar of `stock` becomes a stock of its own, the last, and shorter.
Instance with_shorter_bar(const Instance& instance, std::size_t stock, std::int64_t by) {
  Instance shorter = without_costs(instance);
  Stock last = shorter.stocks[stock];
  last.capacity -= by;
  last.available = 1;
  shorter.stocks.push_back(last);
  return shorter;
}

class RestSearch {
 public:
  RestSearch(const Instance& instance, const Solution& solution, Effort& effort)
      : instance_(instance),
        effort_(effort),
        bars_(bars_taken(solution, instance)),
        result_{solution, longest_unused(instance, solution), true} {
    for (const auto& [pattern, times] : solution.bars) known_.push_back(pattern);
  }

  LongestRest run() {
    for (std::size_t s = 0; s < bars_.size(); ++s) {
      if (bars_[s] > 0) shorten(s);
      if (!saved_a_bar()) continue;
      // Then all begins again with the bars that are needed.
      bars_ = bars_taken(result_.solution, instance_);
      result_.proven = true;
      return run();
    }
    return result_;
  }

 private:
  /// What all bars together have too much, and no more than one bar.
  std::int64_t most_unused(std::size_t stock) const {
    std::int64_t total = -size_wanted(instance_);
    for (std::size_t s = 0; s < bars_.size(); ++s) {
      total += bars_[s] * instance_.stocks[s].capacity;
    }
    return std::min(total, instance_.stocks[stock].capacity);
  }

  /// A bar that costs nothing may turn out not to be needed.
  bool saved_a_bar() const { return bars_taken(result_.solution, instance_) != bars_; }

  void shorten(std::size_t stock) {
    std::int64_t impossible = most_unused(stock) + 1;
    std::int64_t not_found = impossible;
    while (result_.unused + 1 < not_found) {
      const std::int64_t by = (result_.unused + not_found) / 2;
      bool refuted = false;
      if (attempt(stock, by, refuted)) {
        if (saved_a_bar()) return;
        continue;
      }
      not_found = by;
      if (refuted) impossible = by;
    }
    result_.proven = result_.proven && impossible <= result_.unused + 1;
  }

  bool attempt(std::size_t stock, std::int64_t by, bool& refuted) {
    const Instance shorter = with_shorter_bar(instance_, stock, by);
    Counts bars = bars_;
    --bars[stock];
    bars.push_back(1);
    Master master(shorter, effort_);
    for (const Pattern& pattern : known_) master.add(pattern);
    const auto filled = fill_bars(shorter, master, bars, refuted, effort_);
    if (known_.size() < kMostKnown) keep_patterns(master);
    if (!filled) return false;
    Solution solution;
    for (const auto& [pattern, times] : filled->bars) {
      const bool is_shorter = pattern.stock == bars_.size();
      add(solution, instance_, {is_shorter ? stock : pattern.stock, pattern.cut}, times);
    }
    result_.solution = solution;
    result_.unused = longest_unused(instance_, solution);
    return true;
  }

  void keep_patterns(const Master& master) {
    known_.clear();
    for (const Pattern& pattern : master.patterns()) {
      if (pattern.stock < bars_.size()) known_.push_back(pattern);
    }
  }

  static constexpr std::size_t kMostKnown = 400;

  const Instance& instance_;
  Effort& effort_;
  Counts bars_;  ///< of each stock
  std::vector<Pattern> known_;
  LongestRest result_;
};

}  // namespace

LongestRest leave_longest_rest(const Instance& instance, const Solution& solution, Effort& effort) {
  return RestSearch(instance, solution, effort).run();
}

}  // namespace ribbay::detail
