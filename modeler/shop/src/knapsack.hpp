#pragma once

#include "instance.hpp"

#include <cstdint>
#include <span>
#include <vector>

namespace ribbay::detail {

/// The patterns of greatest worth, exactly: item by item it keeps the partial patterns that no
/// other beats in size and worth at once. Their number does not grow with the fineness of the
/// sizes, as a table over all sizes would.
class Knapsack {
 public:
  struct Partial {
    std::int64_t size = 0;
    std::int64_t worth = 0;
    std::uint32_t made = 0;  ///< how: index into `steps_`
  };

  explicit Knapsack(const Instance& instance) : instance_(instance) {}

  /// `worth` of each item, none negative. Patterns cut no item more often than `demand` and are no
  /// longer than `capacity`.
  void run(std::span<const std::int64_t> worth, const Counts& demand, std::int64_t capacity,
           Effort& effort);

  /// Results of run() no longer than `capacity`, rising in size and in worth; the first is empty.
  std::span<const Partial> within(std::int64_t capacity) const;
  std::int64_t best_worth(std::int64_t capacity) const { return within(capacity).back().worth; }
  Counts cut(const Partial& partial) const;

 private:
  struct Step {
    std::uint32_t before = 0;
    std::uint32_t item = 0;
  };
  void add_one(std::int64_t size, std::int64_t worth, std::int64_t capacity);
  void merge_fresh(std::size_t item);

  const Instance& instance_;
  std::vector<Step> steps_;
  std::vector<Partial> kept_;
  std::vector<Partial> fresh_;  ///< with one more of the item in hand
  std::vector<Partial> merged_;
  std::vector<Partial> survivors_;
};

}  // namespace ribbay::detail
