#pragma once

#include <cstdint>
#include <optional>
#include <vector>

struct glp_prob;

namespace ribbay::detail {

/// Minimises cost * x, x >= 0, with one limit per row. Rows and columns count from 0.
///
/// A failure of the solver is remembered: from then on every call does nothing and every solution
/// is empty.
class LinearProgram {
 public:
  struct Entry {
    std::size_t row = 0;
    double value = 0.0;
  };
  struct Solution {
    std::vector<double> values;  ///< of the columns
    std::vector<double> prices;  ///< of the rows: what one more unit of the limit costs
  };
  struct IntegerLimits {
    int nodes = 0;
    int iterations = 0;
    double good_enough = 0.0;  ///< stop at a solution of this cost
  };

  explicit LinearProgram(std::size_t rows);
  ~LinearProgram();
  LinearProgram(const LinearProgram&) = delete;
  LinearProgram& operator=(const LinearProgram&) = delete;

  void at_least(std::size_t row, double limit);
  void at_most(std::size_t row, double limit);
  /// `start` puts the column into the first basis, in the place of its row's slack.
  void add_column(double cost, const std::vector<Entry>& entries, bool start = false);
  void allow(std::size_t column, bool allowed);  ///< else it is 0

  /// With `changed_limits` only limits have changed since the last solution.
  std::optional<Solution> solve(bool changed_limits);

  /// Whole numbers up to `most` for each column; stops by counts of work.
  std::optional<std::vector<int>> solve_whole(const std::vector<int>& most, IntegerLimits limits);

  std::int64_t iterations() const { return iterations_; }
  std::int64_t nodes() const { return nodes_; }

 private:
  bool alive() const;
  void count_iterations();
  void start_basis();

  glp_prob* problem_ = nullptr;
  int failures_ = 0;
  std::size_t rows_ = 0;
  std::vector<bool> starting_;  ///< of the columns
  std::int64_t iterations_ = 0;
  std::int64_t nodes_ = 0;
};

}  // namespace ribbay::detail
