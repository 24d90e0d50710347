#include "close_gap.hpp"

#include "dive.hpp"
#include "greedy.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

constexpr int kMostUndecided = 40;

class GapCloser {
 public:
  GapCloser(const Instance& instance, const Master& master, std::vector<Certificate>& certificates,
            Effort& effort)
      : instance_(instance),
        costless_(without_costs(instance)),
        master_(costless_, effort),
        certificates_(certificates),
        effort_(effort) {
    for (const Pattern& pattern : master.patterns()) master_.add(pattern);
  }

  int undecided() const { return undecided_; }

  /// Refutes or fills all choices of one cost; true when it filled one.
  bool close(const std::vector<Counts>& choices, std::optional<Solution>& best) {
    for (const Counts& bars : choices) {
      if (undecided_ > kMostUndecided) return false;
      if (refuted(bars)) continue;
      bool impossible = false;
      const auto filled = fill_bars(costless_, master_, bars, impossible, effort_);
      if (filled) {
        improve(best, with_costs(*filled));
        return true;
      }
      if (impossible) {
        certificates_.push_back(certificate_of(instance_, master_.certificate().worth, effort_));
      } else {
        ++undecided_;
      }
    }
    return false;
  }

 private:
  bool refuted(const Counts& bars) {
    effort_.spent += static_cast<std::int64_t>(certificates_.size() * bars.size());
    return std::any_of(certificates_.rbegin(), certificates_.rend(),
                       [&](const Certificate& c) { return c.refutes(bars); });
  }

  Solution with_costs(const Solution& filled) const {
    Solution solution;
    for (const auto& [pattern, times] : filled.bars) add(solution, instance_, pattern, times);
    return solution;
  }

  const Instance& instance_;
  Instance costless_;
  Master master_;
  std::vector<Certificate>& certificates_;
  Effort& effort_;
  int undecided_ = 0;
};

}  // namespace

Instance without_costs(const Instance& instance) {
  Instance costless = instance;
  for (Stock& stock : costless.stocks) {
    stock.cost = 0;
    stock.limited = true;
  }
  return costless;
}

std::optional<Solution> fill_bars(const Instance& costless, Master& master, const Counts& bars,
                                  bool& refuted, Effort& effort) {
  refuted = false;
  const Counts demand = demand_of(costless);
  std::optional<Solution> best = best_greedy(costless, demand, bars, effort);
  if (best || effort.over()) return best;
  master.ask(demand, bars, {});
  if (!master.solve(0)) return std::nullopt;
  refuted = master.bound() == kImpossible;
  if (!refuted) search({costless, master, demand, bars, best, 0}, 1, effort);
  return best;
}

std::int64_t close_gap(const Instance& instance, const Master& master, const Choices& choices,
                       std::int64_t bound, std::optional<Solution>& best,
                       std::vector<Certificate>& certificates, Effort& effort) {
  GapCloser closer(instance, master, certificates, effort);
  std::optional<std::int64_t> open;
  for (auto cost = choices.next_cost(bound); cost && (!best || *cost < best->cost);
       cost = choices.next_cost(*cost + 1)) {
    const auto at_cost = choices.at(*cost);
    const bool filled = at_cost && closer.close(*at_cost, best);
    if (!open && (!at_cost || closer.undecided() > 0 || effort.over())) open = cost;
    if (filled || closer.undecided() > kMostUndecided || effort.over()) break;
  }
  const std::int64_t known = best ? best->cost : kImpossible;
  return open ? std::min(*open, known) : known;
}

}  // namespace ribbay::detail
