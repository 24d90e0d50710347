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
  for (const Cut& cut : pattern.cuts) total += cut.times * instance.items[cut.item].size;
  return total;
}

bool fits(const Pattern& pattern, const Instance& instance) {
  return size_of(pattern, instance) <= instance.stocks[pattern.stock].capacity;
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
  for (const Cut& cut : pattern.cuts) times = std::min(times, demand[cut.item] / cut.times);
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
    if (!fits(pattern, instance)) return false;
    for (const Cut& cut : pattern.cuts) missing[cut.item] -= cut.times * times;
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
      Pattern kept{pattern.stock, {}};
      for (const Cut& cut : pattern.cuts) {
        const int wanted = std::min(cut.times, missing[cut.item]);
        missing[cut.item] -= wanted;
        if (wanted > 0) kept.cuts.push_back({cut.item, wanted});
      }
      if (!kept.cuts.empty()) add(exact, instance, kept, 1);
    }
  }
  return exact;
}

}  // namespace ribbay::detail
