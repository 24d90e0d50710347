#include "solve.hpp"

#include "choices.hpp"
#include "close_gap.hpp"
#include "coarse_bound.hpp"
#include "dive.hpp"
#include "greedy.hpp"
#include "master.hpp"
#include "tight_fill.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

class Solver {
 public:
  Solver(const Instance& instance, Effort& effort)
      : instance_(instance),
        effort_(effort),
        demand_(demand_of(instance)),
        available_(available_of(instance)),
        master_(instance, effort) {}

  Solved run() {
    result_.best = best_greedy(instance_, demand_, available_, effort_);
    fill_all_tightly();
    keep(length_certificate(instance_));
    if (instance_.items.size() > kMostSizes) return without_program();
    relax();
    if (done()) return settled();
    const Choices choices(instance_, result_.certificates, dearest(), effort_);
    raise_bound(choices);
    if (done() || result_.bound == kImpossible) return settled();
    if (instance_.stocks.size() == 1 || !choices.manageable()) {
      search(hunt(), 1, effort_);
      return settled();
    }
    dive(hunt(), {0, 0, 100'000}, effort_);
    if (!done()) {
      result_.bound = close_gap(instance_, master_, choices, result_.bound, result_.best,
                                result_.certificates, effort_);
    }
    return settled();
  }

 private:
  bool done() const { return result_.best && result_.best->cost <= result_.bound; }
  Hunt hunt() { return {instance_, master_, demand_, available_, result_.best, result_.bound}; }

  /// What is dearer than this is of no interest.
  std::int64_t dearest() const {
    if (result_.best) return result_.best->cost - 1;
    std::int64_t everything = 0;
    for (const Stock& stock : instance_.stocks) everything += stock.cost * stock.available;
    return everything;
  }

  void keep(Certificate certificate) {
    result_.bound = std::max(result_.bound, cost_bound(certificate, instance_, available_));
    result_.certificates.push_back(std::move(certificate));
  }

  void fill_all_tightly() {
    for (std::size_t s = 0; s < instance_.stocks.size(); ++s) {
      if (s > 0 && instance_.stocks[s].limited) continue;
      improve(result_.best, fill_tightly(instance_, s, effort_));
    }
  }

  /// Of very many sizes: what filling finds, and a bound.
  Solved without_program() {
    if (!done()) keep(coarse_certificate(instance_, effort_));
    return settled();
  }

  void relax() {
    if (result_.best) {
      for (const auto& [pattern, times] : result_.best->bars) master_.add(pattern);
    }
    master_.ask(demand_, available_, {});
    if (!done() && master_.solve(result_.best ? result_.best->cost - 1 : kImpossible - 1)) {
      // The program leaves open what a bar is worth that holds no more than it costs.
      keep(certificate_of(instance_, master_.certificate().worth, effort_));
    }
  }

  /// Not every cost is one that bars can have.
  void raise_bound(const Choices& choices) {
    if (!choices.manageable()) return;
    const auto next = choices.next_cost(result_.bound);
    const std::int64_t beyond = result_.best ? result_.best->cost : kImpossible;
    result_.bound = next ? *next : beyond;
  }

  Solved settled() {
    if (result_.best) {
      result_.best = without_surplus(*result_.best, instance_);
      result_.bound = std::min(result_.bound, result_.best->cost);
    }
    return std::move(result_);
  }

  const Instance& instance_;
  Effort& effort_;
  Counts demand_;
  Counts available_;
  Master master_;
  Solved result_;
};

}  // namespace

Solved solve(const Instance& instance, Effort& effort) {
  return Solver(instance, effort).run();
}

}  // namespace ribbay::detail
