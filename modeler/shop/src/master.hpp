#pragma once

#include "certificate.hpp"
#include "instance.hpp"
#include "knapsack.hpp"
#include "linear_program.hpp"

#include <set>
#include <vector>

namespace ribbay::detail {

/// The linear relaxation over all patterns: how often to cut each, fractions allowed, for the least
/// cost. Patterns are generated as they are needed and kept; what is still wanted and still
/// available changes from one call to the next, and so may the capacities of the instance's stocks.
class Master {
 public:
  Master(const Instance& instance, Effort& effort);

  void add(const Pattern& pattern);

  /// What solve() is about from now on. Patterns in `tabu` (indices into patterns()) are left out.
  void ask(const Counts& demand, const Counts& available, const std::vector<std::size_t>& tabu);

  /// Solves until no pattern helps, the bound is above `enough`, or the effort is spent; the bound
  /// holds in every case. False when the solver failed.
  bool solve(std::int64_t enough);

  std::int64_t bound() const { return bound_; }  ///< kImpossible: not enough is available
  /// Worths that prove bound(), with `most` for the demand and the stocks last asked about.
  const Certificate& certificate() const { return certificate_; }
  /// How often each pattern is cut.
  const std::vector<double>& values() const { return values_; }
  const std::vector<Pattern>& patterns() const { return patterns_; }

 private:
  Certificate priced(const std::vector<double>& prices);
  std::int64_t paid(std::size_t s, const std::vector<double>& prices) const;
  std::size_t price_in(const std::vector<double>& prices);
  bool possible(std::size_t pattern) const;
  void count_effort(std::int64_t iterations);

  const Instance& instance_;
  Effort& effort_;
  double worth_of_one_ = 1.0;
  std::vector<std::size_t> stock_row_;  ///< of limited stocks
  std::size_t rows_ = 0;
  LinearProgram program_;
  Knapsack knapsack_;
  std::vector<Pattern> patterns_;
  std::vector<std::int64_t> sizes_;  ///< of the patterns
  std::vector<char> allowed_;
  std::set<Pattern> known_;
  Counts demand_;
  Counts available_;
  bool solved_before_ = false;
  std::int64_t bound_ = 0;
  Certificate certificate_;
  std::vector<double> values_;
};

}  // namespace ribbay::detail
