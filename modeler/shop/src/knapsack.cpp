#include "knapsack.hpp"

#include <algorithm>

namespace ribbay::detail {

void Knapsack::run(std::span<const std::int64_t> worth, const Counts& demand, std::int64_t capacity,
                   Effort& effort) {
  steps_.assign(1, {});
  kept_.assign(1, {});
  for (std::size_t i = 0; i < worth.size(); ++i) {
    if (worth[i] <= 0) continue;
    fresh_ = kept_;
    for (int copy = 0; copy < demand[i] && !fresh_.empty(); ++copy) {
      add_one(instance_.items[i].size, worth[i], capacity);
      // What one more copy beats is beaten with two more as well, so only survivors go on.
      merge_fresh(i);
      effort.spent += 4 * static_cast<std::int64_t>(kept_.size() + fresh_.size());
    }
  }
}

void Knapsack::add_one(std::int64_t size, std::int64_t worth, std::int64_t capacity) {
  while (!fresh_.empty() && fresh_.back().size + size > capacity) fresh_.pop_back();
  for (Partial& partial : fresh_) {
    partial.size += size;
    partial.worth += worth;
  }
}

void Knapsack::merge_fresh(std::size_t item) {
  merged_.clear();
  survivors_.clear();
  auto old = kept_.begin();
  auto next = fresh_.begin();
  std::int64_t worth = -1;
  while (old != kept_.end() || next != fresh_.end()) {
    const bool take_old =
        next == fresh_.end() ||
        (old != kept_.end() &&
         (old->size < next->size || (old->size == next->size && old->worth >= next->worth)));
    Partial partial = take_old ? *old++ : *next++;
    if (partial.worth <= worth) continue;
    worth = partial.worth;
    if (!take_old) {
      steps_.push_back({partial.made, static_cast<std::uint32_t>(item)});
      partial.made = static_cast<std::uint32_t>(steps_.size() - 1);
      survivors_.push_back(partial);
    }
    merged_.push_back(partial);
  }
  kept_.swap(merged_);
  fresh_.swap(survivors_);
}

std::span<const Knapsack::Partial> Knapsack::within(std::int64_t capacity) const {
  const auto end = std::ranges::upper_bound(kept_, capacity, {}, &Partial::size);
  return {kept_.begin(), end};
}

Counts Knapsack::cut(const Partial& partial) const {
  Counts counts(instance_.items.size(), 0);
  for (std::uint32_t at = partial.made; at != 0; at = steps_[at].before) ++counts[steps_[at].item];
  return counts;
}

}  // namespace ribbay::detail
