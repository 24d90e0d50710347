#include "instance.hpp"

#include <algorithm>

namespace ribbay::detail {

Counts demand_of(const Instance& instance) {
  Counts demand;
  for (const Item& item : instance.items) demand.push_back(item.demand);
  return demand;
}

Counts available_of(const Instance& instance) {
  Counts available;
  for (const Stock& stock : instance.stocks) available.push_back(stock.available);
  return available;
}

std::int64_t size_wanted(const Instance& instance) {
  std::int64_t total = 0;
  for (const Item& item : instance.items) total += item.size * item.demand;
  return total;
}

std::int64_t size_of(const Pattern& pattern, const Instance& instance) {
  std::int64_t total = 0;
  for (std::size_t i = 0; i < pattern.cut.size(); ++i) {
    total += pattern.cut[i] * instance.items[i].size;
  }
  return total;
}

std::int64_t longest_capacity(const Instance& instance, const Counts& available) {
  std::int64_t longest = 0;
  for (std::size_t s = 0; s < instance.stocks.size(); ++s) {
    if (available[s] > 0) longest = std::max(longest, instance.stocks[s].capacity);
  }
  return longest;
}

void add(Solution& solution, const Instance& instance, const Pattern& pattern, int times) {
  solution.cost += times * instance.stocks[pattern.stock].cost;
  solution.bars[pattern] += times;
}

bool improve(std::optional<Solution>& best, const std::optional<Solution>& other) {
  if (!other || (best && best->cost <= other->cost)) return false;
  best = other;
  return true;
}

int times_possible(const Pattern& pattern, const Counts& demand, const Counts& available) {
  int times = available[pattern.stock];
  for (std::size_t i = 0; i < demand.size(); ++i) {
    if (pattern.cut[i] > 0) times = std::min(times, demand[i] / pattern.cut[i]);
  }
  return std::max(0, times);
}

Counts bars_taken(const Solution& solution, const Instance& instance) {
  Counts taken(instance.stocks.size(), 0);
  for (const auto& [pattern, times] : solution.bars) taken[pattern.stock] += times;
  return taken;
}

bool valid(const Solution& solution, const Instance& instance, const Counts& available) {
  Counts missing = demand_of(instance);
  std::int64_t cost = 0;
  for (const auto& [pattern, times] : solution.bars) {
    if (size_of(pattern, instance) > instance.stocks[pattern.stock].capacity) return false;
    for (std::size_t i = 0; i < missing.size(); ++i) missing[i] -= pattern.cut[i] * times;
    cost += times * instance.stocks[pattern.stock].cost;
  }
  const Counts taken = bars_taken(solution, instance);
  for (std::size_t s = 0; s < taken.size(); ++s) {
    if (taken[s] > available[s]) return false;
  }
  return cost == solution.cost && std::ranges::all_of(missing, [](int m) { return m <= 0; });
}

Solution without_surplus(const Solution& solution, const Instance& instance) {
  Counts missing = demand_of(instance);
  Solution exact;
  for (const auto& [pattern, times] : solution.bars) {
    for (int bar = 0; bar < times; ++bar) {
      Pattern kept = pattern;
      for (std::size_t i = 0; i < missing.size(); ++i) {
        kept.cut[i] = std::min(kept.cut[i], missing[i]);
        missing[i] -= kept.cut[i];
      }
      if (size_of(kept, instance) > 0) add(exact, instance, kept, 1);
    }
  }
  return exact;
}

}  // namespace ribbay::detail
