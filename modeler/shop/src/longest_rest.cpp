#include "longest_rest.hpp"

#include "close_gap.hpp"
#include "coarse_bound.hpp"
#include "knapsack.hpp"
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

/// The bars cost nothing, and one of them, whichever it will be, is a stock of its own: the last.
Instance with_one_apart(const Instance& instance) {
  Instance apart = without_costs(instance);
  apart.stocks.push_back(apart.stocks.front());
  apart.stocks.back().available = 1;
  return apart;
}

class RestSearch {
 public:
  RestSearch(const Instance& instance, const Solution& solution,
             std::span<const Certificate> certificates, Effort& effort)
      : instance_(instance),
        effort_(effort),
        apart_(with_one_apart(instance)),
        master_(apart_, effort),
        knapsack_(instance),
        certificates_(certificates.begin(), certificates.end()),
        bars_(bars_taken(solution, instance)),
        result_{solution, longest_unused(instance, solution), true} {
    for (const auto& [pattern, times] : solution.bars) master_.add(pattern);
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
  enum class Answer { found, refuted, open };

  /// What all bars together have too much, and no more than one bar; what certificates allow.
  std::int64_t most_unused(std::size_t stock) {
    std::int64_t most = -size_wanted(instance_);
    for (std::size_t s = 0; s < bars_.size(); ++s) most += bars_[s] * instance_.stocks[s].capacity;
    most = std::min(most, instance_.stocks[stock].capacity);
    for (const Certificate& certificate : certificates_) {
      most = std::min(most, allowed_by(certificate, stock, most));
    }
    return most;
  }

  /// The shortened bar must hold what is worth as much as the others cannot. Gives `most` or less,
  /// and nothing below what is reached already.
  std::int64_t allowed_by(const Certificate& certificate, std::size_t stock, std::int64_t most) {
    std::int64_t open = certificate.wanted + certificate.most[stock];
    for (std::size_t s = 0; s < bars_.size(); ++s) open -= bars_[s] * certificate.most[s];
    const std::int64_t capacity = instance_.stocks[stock].capacity;
    if (open <= 0 || most <= result_.unused) return most;
    const auto least = knapsack_.least_size(certificate.worth, demand_of(instance_), open,
                                            capacity - result_.unused - 1, effort_);
    return least ? std::min(most, capacity - *least) : result_.unused;
  }

  /// A bar that costs nothing may turn out not to be needed.
  bool saved_a_bar() const { return bars_taken(result_.solution, instance_) != bars_; }

  void shorten(std::size_t stock) {
    std::int64_t most = most_unused(stock);
    bool lost = false;  // there was a question without an answer
    bool halving = false;
    while (result_.unused < most) {
      const std::int64_t by = halving ? (result_.unused + most + 1) / 2 : most;
      const Answer answer = attempt(stock, by);
      if (answer == Answer::found && saved_a_bar()) return;
      if (answer == Answer::found) continue;
      most = by - 1;
      lost = answer == Answer::open;
      halving = halving || lost;
      if (!lost) most = std::min(most, allowed_by(certificates_.back(), stock, most));
    }
    result_.proven = result_.proven && !lost;
  }

  Answer attempt(std::size_t stock, std::int64_t by) {
    apart_.stocks.back().capacity = instance_.stocks[stock].capacity - by;
    Counts bars = bars_;
    --bars[stock];
    bars.push_back(1);
    bool refuted = false;
    const auto filled = fill_bars(apart_, master_, bars, refuted, effort_);
    if (refuted) {
      certificates_.push_back(certificate_of(instance_, master_.certificate().worth, effort_));
    }
    if (!filled) return refuted ? Answer::refuted : Answer::open;
    Solution solution;
    for (const auto& [pattern, times] : filled->bars) {
      const bool is_apart = pattern.stock == bars_.size();
      add(solution, instance_, {is_apart ? stock : pattern.stock, pattern.cuts}, times);
    }
    result_.solution = solution;
    result_.unused = longest_unused(instance_, solution);
    return Answer::found;
  }

  const Instance& instance_;
  Effort& effort_;
  Instance apart_;  ///< its last stock changes
  Master master_;   ///< about apart_
  Knapsack knapsack_;
  std::vector<Certificate> certificates_;
  Counts bars_;  ///< of each stock
  LongestRest result_;
};

}  // namespace

LongestRest leave_longest_rest(const Instance& instance, const Solution& solution,
                               std::span<const Certificate> certificates, Effort& effort) {
  if (instance.items.size() > kMostSizes) {
    return {solution, longest_unused(instance, solution), false};
  }
  return RestSearch(instance, solution, certificates, effort).run();
}

}  // namespace ribbay::detail
