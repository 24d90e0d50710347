#include "column_search.hpp"

#include "linear_program.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

constexpr int kNodes = 3000;
constexpr int kIterations = 60'000;

/// More of this pattern than this never helps.
int useful_times(const Pattern& pattern, const Counts& demand, const Counts& available) {
  int times = 1;
  for (const Cut& cut : pattern.cuts) {
    times = std::max(times, (demand[cut.item] + cut.times - 1) / cut.times);
  }
  return std::min(times, std::max(1, available[pattern.stock]));
}

/// Rows: items, then stocks, then "cheaper than the best known".
class Columns {
 public:
  Columns(const Instance& instance, const Counts& demand, const Counts& available)
      : instance_(instance), program_(demand.size() + available.size() + 1) {
    for (std::size_t i = 0; i < demand.size(); ++i) program_.at_least(i, demand[i]);
    for (std::size_t s = 0; s < available.size(); ++s) program_.at_most(row(s), available[s]);
  }

  void cheaper_than(std::int64_t cost) {
    program_.at_most(row(instance_.stocks.size()), static_cast<double>(cost - 1));
  }

  void add(const Pattern& pattern) {
    const double cost = static_cast<double>(instance_.stocks[pattern.stock].cost);
    std::vector<LinearProgram::Entry> entries = {{row(pattern.stock), 1.0}};
    if (cost > 0.0) entries.push_back({row(instance_.stocks.size()), cost});
    for (const Cut& cut : pattern.cuts) {
      entries.push_back({cut.item, static_cast<double>(cut.times)});
    }
    program_.add_column(cost, entries);
  }

  LinearProgram& program() { return program_; }

 private:
  std::size_t row(std::size_t stock) const { return instance_.items.size() + stock; }

  const Instance& instance_;
  LinearProgram program_;
};

void count_effort(const LinearProgram& program, std::size_t row_count, std::size_t column_count,
                  Effort& effort) {
  const auto rows = static_cast<std::int64_t>(row_count);
  const auto columns = static_cast<std::int64_t>(column_count);
  effort.spent += program.iterations() * (40 * rows + 10 * columns + rows * rows / 2) +
                  program.nodes() * 300 * (rows + columns);
}

}  // namespace

std::optional<Solution> search_columns(const Instance& instance, const Master& master,
                                       const Counts& demand, const Counts& available,
                                       const std::optional<Solution>& best, std::int64_t target,
                                       int thoroughness, Effort& effort) {
  Columns columns(instance, demand, available);
  const bool free =
      std::ranges::all_of(instance.stocks, [](const Stock& s) { return s.cost == 0; });
  if (best && !free) columns.cheaper_than(best->cost);
  std::vector<const Pattern*> patterns;
  std::vector<int> most;
  for (const Pattern& pattern : master.patterns()) {
    if (!fits(pattern, instance)) continue;
    columns.add(pattern);
    patterns.push_back(&pattern);
    most.push_back(useful_times(pattern, demand, available));
  }
  const auto times = columns.program().solve_whole(
      most, {kNodes * thoroughness, kIterations * thoroughness, static_cast<double>(target)});
  count_effort(columns.program(), demand.size() + available.size() + 1, most.size(), effort);
  if (!times) return std::nullopt;
  Solution solution;
  for (std::size_t p = 0; p < times->size(); ++p) {
    if ((*times)[p] > 0) add(solution, instance, *patterns[p], (*times)[p]);
  }
  return solution;
}

}  // namespace ribbay::detail
