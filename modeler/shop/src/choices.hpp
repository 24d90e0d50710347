#pragma once

#include "certificate.hpp"
#include "instance.hpp"

#include <cstdint>
#include <optional>
#include <vector>

namespace ribbay::detail {

/// Walks through choices of bars (how many of each stock) by their cost, leaving out what a few
/// certificates refute. For each of these it knows the greatest worth that a cost can buy, so that
/// whole branches fall at once.
class Choices {
 public:
  /// Knows choices that cost at most `dearest`. Of more than `kMostChoices` at one cost none are
  /// told.
  static constexpr std::size_t kMostChoices = 100'000;
  Choices(const Instance& instance, std::vector<Certificate> certificates, std::int64_t dearest,
          Effort& effort);

  /// False when the tables would be too large; then nothing else may be asked.
  bool manageable() const { return manageable_; }

  /// The least cost, at least `from`, at which no certificate refutes everything.
  std::optional<std::int64_t> next_cost(std::int64_t from) const;

  /// The choices of this cost, those with the longest bars together first; nothing when there are
  /// too many.
  std::optional<std::vector<Counts>> at(std::int64_t cost) const;

 private:
  /// For stocks s and later: the greatest worth that exactly this cost buys; -1 when nothing
  /// costs that.
  using Reach = std::vector<std::vector<std::int64_t>>;

  Reach reach_of(const Certificate& certificate) const;
  void walk(std::size_t stock, std::int64_t cost, std::vector<std::int64_t> worth, Counts& counts,
            std::vector<Counts>& found) const;
  bool refuted(std::size_t stock, std::int64_t cost, const std::vector<std::int64_t>& worth) const;

  const Instance& instance_;
  std::vector<Certificate> certificates_;
  std::int64_t dearest_ = 0;
  Effort& effort_;
  bool manageable_ = false;
  std::vector<Reach> reaches_;  ///< of the certificates
};

}  // namespace ribbay::detail
