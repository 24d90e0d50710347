#pragma once

#include "instance.hpp"

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace ribbay::detail {

/// The patterns of greatest worth, exactly: item by item, those worth most for their size first, it
/// keeps the partial patterns that no other beats in size and worth at once, and of these the ones
/// that what is left can still make good enough. Their number does not grow with the fineness of
/// the sizes, as a table over all sizes would.
class Knapsack {
 public:
  struct Partial {
    std::int64_t size = 0;
    std::int64_t worth = 0;
    std::uint32_t made = 0;  ///< how: index into `steps_`
  };

  /// A bar, and the worth from which on a pattern for it is of interest.
  struct Aim {
    std::int64_t capacity = 0;
    std::int64_t wanted = 0;
  };

  explicit Knapsack(const Instance& instance) : instance_(instance) {}

  /// `worth` of each item, none negative. Patterns cut no item more often than `demand`. For each
  /// aim the best pattern is found, and some that are not as good, if it is worth what is wanted.
  void run(std::span<const std::int64_t> worth, const Counts& demand, std::vector<Aim> aims,
           Effort& effort);

  /// Results of run() no longer than the capacity of an aim, rising in size and in worth.
  std::span<const Partial> within(std::int64_t capacity) const;
  std::vector<Cut> cuts(const Partial& partial) const;
  /// No pattern is worth more, `aim` being one of those that run() was given.
  std::int64_t most_worth(const Aim& aim) const;

  /// The shortest pattern worth `wanted` or more; nothing when none is as short as `longest`.
  std::optional<std::int64_t> least_size(std::span<const std::int64_t> worth, const Counts& demand,
                                         std::int64_t wanted, std::int64_t longest, Effort& effort);

 private:
  struct Step {
    std::uint32_t before = 0;
    std::uint32_t item = 0;
  };
  void order_items(std::span<const std::int64_t> worth, const Counts& demand);
  std::int64_t filled_by_order(std::span<const std::int64_t> worth, const Counts& demand,
                               std::int64_t capacity) const;
  void fill(std::span<const std::int64_t> worth, const Counts& demand, Effort& effort);
  std::int64_t reached(std::int64_t capacity) const;
  void drop_hopeless(double worth_of_size);
  void add_one(std::int64_t size, std::int64_t worth, std::int64_t capacity);
  void merge_fresh(std::size_t item);

  const Instance& instance_;
  std::vector<std::size_t> order_;
  std::vector<Aim> aims_;  ///< capacities rising, each once; wanted is raised by what is found
  std::vector<Step> steps_;
  std::vector<Partial> kept_;
  std::vector<Partial> fresh_;  ///< with one more of the item in hand
  std::vector<Partial> merged_;
  std::vector<Partial> survivors_;
};

}  // namespace ribbay::detail
