#pragma once

#include <cstdint>
#include <optional>
#include <set>
#include <vector>

namespace ribbay::detail {

/// How much is left in each of many bars, and quickly one that has enough.
class Rooms {
 public:
  /// With `tightest` find() gives the bar with the least room that is enough, else the first.
  explicit Rooms(bool tightest) : tightest_(tightest) {}

  void add(std::int64_t room);
  void take(std::size_t bar, std::int64_t size);
  std::int64_t of(std::size_t bar) const { return rooms_[bar]; }
  std::optional<std::size_t> find(std::int64_t size) const;

 private:
  void set_leaf(std::size_t bar);

  bool tightest_ = false;
  std::vector<std::int64_t> rooms_;
  std::set<std::pair<std::int64_t, std::size_t>> by_room_;  ///< when tightest_
  /// Else: a tree of which each node holds the most of the two below it; the leaves are the rooms.
  std::vector<std::int64_t> most_;
  std::size_t leaves_ = 0;
};

}  // namespace ribbay::detail
