#include "master.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

/// Prices of the linear program are real numbers; worths are these in millionths, or coarser where
/// the worths of all pieces together would run over.
constexpr double kWorthOfOne = 1e6;
constexpr double kMostWorth = 2e18;
/// Patterns taken from one pricing for each stock: the best ones at falling lengths.
constexpr int kPatternsPerPricing = 4;
constexpr int kMostRounds = 5000;

std::size_t count_rows(const Instance& instance) {
  return instance.items.size() + static_cast<std::size_t>(std::ranges::count_if(
                                     instance.stocks, [](const Stock& s) { return s.limited; }));
}

/// What a piece that is not cut costs: more than a bar for it alone.
double penalty(const Instance& instance) {
  std::int64_t dearest = 1;
  for (const Stock& stock : instance.stocks) dearest = std::max(dearest, stock.cost);
  return 10.0 * static_cast<double>(dearest);
}

double worth_of_one(const Instance& instance) {
  double pieces = 0.0;
  for (const Item& item : instance.items) pieces += item.demand;
  return std::min(kWorthOfOne, kMostWorth / (penalty(instance) * std::max(1.0, pieces)));
}

}  // namespace

Master::Master(const Instance& instance, Effort& effort)
    : instance_(instance),
      effort_(effort),
      worth_of_one_(worth_of_one(instance)),
      stock_row_(instance.stocks.size(), 0),
      rows_(count_rows(instance)),
      program_(rows_),
      knapsack_(instance) {
  std::size_t next = instance.items.size();
  for (std::size_t s = 0; s < instance.stocks.size(); ++s) {
    if (instance.stocks[s].limited) stock_row_[s] = next++;
  }
  for (std::size_t i = 0; i < instance.items.size(); ++i) {
    program_.add_column(penalty(instance), {{i, 1.0}}, true);
  }
}

void Master::add(const Pattern& pattern) {
  if (!known_.insert(pattern).second) return;
  std::vector<LinearProgram::Entry> entries;
  for (const Cut& cut : pattern.cuts) entries.push_back({cut.item, static_cast<double>(cut.times)});
  const Stock& stock = instance_.stocks[pattern.stock];
  if (stock.limited) entries.push_back({stock_row_[pattern.stock], 1.0});
  program_.add_column(static_cast<double>(stock.cost), entries);
  patterns_.push_back(pattern);
  sizes_.push_back(size_of(pattern, instance_));
  allowed_.push_back(1);
}

bool Master::possible(std::size_t pattern) const {
  const Pattern& it = patterns_[pattern];
  return sizes_[pattern] <= instance_.stocks[it.stock].capacity &&
         times_possible(it, demand_, available_) > 0;
}

void Master::ask(const Counts& demand, const Counts& available,
                 const std::vector<std::size_t>& tabu) {
  demand_ = demand;
  available_ = available;
  std::vector<char> wanted(patterns_.size());
  for (std::size_t p = 0; p < patterns_.size(); ++p) wanted[p] = possible(p) ? 1 : 0;
  for (const std::size_t p : tabu) wanted[p] = 0;
  for (std::size_t p = 0; p < patterns_.size(); ++p) {
    if (wanted[p] != allowed_[p]) program_.allow(instance_.items.size() + p, wanted[p] == 1);
  }
  allowed_ = wanted;
  for (std::size_t i = 0; i < demand.size(); ++i) program_.at_least(i, demand[i]);
  for (std::size_t s = 0; s < available.size(); ++s) {
    if (instance_.stocks[s].limited) program_.at_most(stock_row_[s], available[s]);
  }
}

bool Master::solve(std::int64_t enough) {
  bound_ = 0;
  certificate_ = {};
  bool only_limits_changed = solved_before_;
  for (int round = 0; round < kMostRounds; ++round) {
    const std::int64_t before = program_.iterations();
    const auto solution = program_.solve(only_limits_changed);
    count_effort(program_.iterations() - before);
    if (!solution) return false;
    solved_before_ = true;
    only_limits_changed = false;
    values_.assign(solution->values.begin() + static_cast<std::ptrdiff_t>(instance_.items.size()),
                   solution->values.end());
    Certificate certificate = priced(solution->prices);
    const std::int64_t bound = cost_bound(certificate, instance_, available_);
    if (bound >= bound_) {
      bound_ = bound;
      certificate_ = std::move(certificate);
    }
    if (bound_ > enough || price_in(solution->prices) == 0 || effort_.over()) break;
  }
  values_.resize(patterns_.size(), 0.0);
  return true;
}

/// Runs the knapsack with the worths that the prices give.
Certificate Master::priced(const std::vector<double>& prices) {
  Certificate certificate;
  for (std::size_t i = 0; i < demand_.size(); ++i) {
    // The solver's noise is below a thousandth of a millionth.
    const double worth = std::floor(std::max(0.0, prices[i]) * worth_of_one_ + 1e-3);
    certificate.worth.push_back(demand_[i] > 0 ? static_cast<std::int64_t>(worth) : 0);
    certificate.wanted += certificate.worth.back() * demand_[i];
  }
  std::vector<Knapsack::Aim> aims;
  for (std::size_t s = 0; s < available_.size(); ++s) {
    if (available_[s] > 0) aims.push_back({instance_.stocks[s].capacity, paid(s, prices) + 1});
  }
  knapsack_.run(certificate.worth, demand_, aims, effort_);
  auto aim = aims.begin();
  for (const int available : available_) {
    certificate.most.push_back(available > 0 ? knapsack_.most_worth(*aim++) : 0);
  }
  return certificate;
}

/// What a bar of this stock costs, in worths: patterns worth more help.
std::int64_t Master::paid(std::size_t s, const std::vector<double>& prices) const {
  const Stock& stock = instance_.stocks[s];
  const double cost = static_cast<double>(stock.cost);
  const double scarcity = stock.limited ? prices[stock_row_[s]] : 0.0;
  const double noise = 1e-6 * std::max(1.0, cost);
  return static_cast<std::int64_t>(std::ceil((cost - scarcity + noise) * worth_of_one_)) + 1;
}

/// Adds patterns that are worth more than they cost; gives their number.
std::size_t Master::price_in(const std::vector<double>& prices) {
  const std::size_t before = patterns_.size();
  for (std::size_t s = 0; s < available_.size(); ++s) {
    if (available_[s] == 0) continue;
    const std::int64_t cost = paid(s, prices);
    const auto patterns = knapsack_.within(instance_.stocks[s].capacity);
    int taken = 0;
    for (auto p = patterns.rbegin(); p != patterns.rend() && p->worth > cost; ++p) {
      const std::size_t known = patterns_.size();
      add({s, knapsack_.cuts(*p)});
      if (patterns_.size() > known && ++taken == kPatternsPerPricing) break;
    }
  }
  return patterns_.size() - before;
}

void Master::count_effort(std::int64_t iterations) {
  const auto rows = static_cast<std::int64_t>(rows_);
  const auto columns = static_cast<std::int64_t>(instance_.items.size() + patterns_.size());
  effort_.spent +=
      20'000 + 300 * (rows + columns) + iterations * (40 * rows + 10 * columns + rows * rows / 2);
}

}  // namespace ribbay::detail
