#pragma once

#include "shop/bars.hpp"

#include <cstdint>
#include <map>
#include <optional>
#include <vector>

namespace ribbay::detail {

/// One number for each item, or one for each stock.
using Counts = std::vector<int>;

/// Pieces of one size. A piece takes its length and one saw cut; a bar is longer by one saw cut
/// instead, so that the cut which the last piece does not need costs nothing.
struct Item {
  std::int64_t size = 0;
  int demand = 0;
};

struct Stock {
  std::int64_t capacity = 0;
  std::int64_t cost = 0;
  int available = 0;     ///< never more than there are pieces
  bool limited = false;  ///< `available` is a limit and no mere upper bound
};

/// An order in whole numbers: sizes in units of their greatest common divisor, costs too.
struct Instance {
  std::vector<Item> items;  ///< long ones first, no two of the same size
  std::vector<Stock> stocks;
};

/// So many pieces of one item.
struct Cut {
  std::size_t item = 0;
  int times = 0;
  friend bool operator==(const Cut&, const Cut&) = default;
  /// Long pieces count more, and items count up as pieces get shorter.
  friend auto operator<=>(const Cut& a, const Cut& b) {
    const auto longer = b.item <=> a.item;
    return longer != 0 ? longer : a.times <=> b.times;
  }
};

/// What one bar is cut into.
struct Pattern {
  std::size_t stock = 0;
  std::vector<Cut> cuts;  ///< items rising, each more than no times
  friend auto operator<=>(const Pattern&, const Pattern&) = default;
};

/// Bars with how often each is cut.
struct Solution {
  std::int64_t cost = 0;
  std::map<Pattern, int> bars;
};

/// Work done, in steps of roughly a nanosecond, so that plans end and repeat on every machine.
struct Effort {
  std::int64_t spent = 0;
  std::int64_t limit = 0;
  bool over() const { return spent > limit; }
};

Counts demand_of(const Instance& instance);
Counts available_of(const Instance& instance);

/// Sum of sizes of everything that is wanted.
std::int64_t size_wanted(const Instance& instance);
std::int64_t size_of(const Pattern& pattern, const Instance& instance);
bool fits(const Pattern& pattern, const Instance& instance);

void add(Solution& solution, const Instance& instance, const Pattern& pattern, int times);

/// The better of the two replaces `best`; true when it changed.
bool improve(std::optional<Solution>& best, const std::optional<Solution>& other);

/// How often `pattern` can be cut without making more than `demand` or taking more than
/// `available`.
int times_possible(const Pattern& pattern, const Counts& demand, const Counts& available);

/// Bars of each stock that a solution takes.
Counts bars_taken(const Solution& solution, const Instance& instance);

/// Every bar holds its pieces, all pieces are there, and no stock is used up.
bool valid(const Solution& solution, const Instance& instance, const Counts& available);

/// Makes nothing twice: surplus pieces are dropped from the bars.
Solution without_surplus(const Solution& solution, const Instance& instance);

}  // namespace ribbay::detail
