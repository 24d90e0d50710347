#include "knapsack.hpp"

#include <algorithm>

namespace ribbay::detail {

void Knapsack::run(std::span<const std::int64_t> worth, const Counts& demand,
                   std::vector<Aim> aims, Effort& effort) {
  std::ranges::sort(aims, {}, [](const Aim& aim) { return std::pair(aim.capacity, aim.wanted); });
  const auto same = std::ranges::unique(aims, {}, &Aim::capacity);
  aims.erase(same.begin(), same.end());
  aims_ = std::move(aims);
  order_items(worth, demand);
  for (Aim& aim : aims_) {
    aim.wanted = std::max(aim.wanted, filled_by_order(worth, demand, aim.capacity));
  }
  fill(worth, demand, effort);
}

std::optional<std::int64_t> Knapsack::least_size(std::span<const std::int64_t> worth,
                                                 const Counts& demand, std::int64_t wanted,
                                                 std::int64_t longest, Effort& effort) {
  order_items(worth, demand);
  aims_ = {{longest, wanted}};
  fill(worth, demand, effort);
  const auto first = std::ranges::lower_bound(kept_, wanted, {}, &Partial::worth);
  return first == kept_.end() ? std::nullopt : std::optional(first->size);
}

void Knapsack::order_items(std::span<const std::int64_t> worth, const Counts& demand) {
  order_.clear();
  for (std::size_t i = 0; i < worth.size(); ++i) {
    if (worth[i] > 0 && demand[i] > 0) order_.push_back(i);
  }
  std::ranges::stable_sort(order_, [&](std::size_t a, std::size_t b) {
    return static_cast<__int128>(worth[a]) * instance_.items[b].size >
           static_cast<__int128>(worth[b]) * instance_.items[a].size;
  });
}

/// What a bar is worth that is filled item by item: not the best, and soon known.
std::int64_t Knapsack::filled_by_order(std::span<const std::int64_t> worth, const Counts& demand,
                                       std::int64_t capacity) const {
  std::int64_t total = 0;
  for (const std::size_t i : order_) {
    const std::int64_t size = instance_.items[i].size;
    const std::int64_t times = std::min<std::int64_t>(demand[i], capacity / size);
    capacity -= times * size;
    total += times * worth[i];
  }
  return total;
}

void Knapsack::fill(std::span<const std::int64_t> worth, const Counts& demand, Effort& effort) {
  steps_.assign(1, {});
  kept_.assign(1, {});
  if (aims_.empty()) return;
  for (const std::size_t i : order_) {
    const std::int64_t size = instance_.items[i].size;
    drop_hopeless(static_cast<double>(worth[i]) / static_cast<double>(size));
    effort.spent += static_cast<std::int64_t>(kept_.size() * (2 + aims_.size()));
    fresh_ = kept_;
    for (int copy = 0; copy < demand[i] && !fresh_.empty(); ++copy) {
      add_one(size, worth[i], aims_.back().capacity);
      // What one more copy beats is beaten with two more as well, so only survivors go on.
      merge_fresh(i);
      effort.spent += 4 * static_cast<std::int64_t>(kept_.size() + fresh_.size());
    }
  }
}

/// Nothing that is left is worth more than this for its size.
void Knapsack::drop_hopeless(double worth_of_size) {
  for (Aim& aim : aims_) {
    aim.wanted = std::max(aim.wanted, reached(aim.capacity));
  }
  std::erase_if(kept_, [&](const Partial& partial) {
    return std::ranges::none_of(aims_, [&](const Aim& aim) {
      const auto room = static_cast<double>(aim.capacity - partial.size);
      // What is told a little too large by rounding is kept, never dropped.
      return room >= 0.0 && static_cast<double>(partial.worth) + room * worth_of_size * (1 + 1e-9) +
                                    1.0 >= static_cast<double>(aim.wanted);
    });
  });
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

std::int64_t Knapsack::reached(std::int64_t capacity) const {
  const auto found = within(capacity);
  return found.empty() ? 0 : found.back().worth;
}

std::int64_t Knapsack::most_worth(const Aim& aim) const {
  return std::max(aim.wanted - 1, reached(aim.capacity));
}

std::vector<Cut> Knapsack::cuts(const Partial& partial) const {
  std::vector<Cut> cuts;
  for (std::uint32_t at = partial.made; at != 0; at = steps_[at].before) {
    if (!cuts.empty() && cuts.back().item == steps_[at].item) {
      ++cuts.back().times;
    } else {
      cuts.push_back({steps_[at].item, 1});
    }
  }
  std::ranges::sort(cuts, {}, &Cut::item);
  return cuts;
}

}  // namespace ribbay::detail
