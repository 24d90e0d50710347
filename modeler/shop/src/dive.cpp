#include "dive.hpp"

#include "column_search.hpp"
#include "greedy.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace ribbay::detail {

namespace {

/// Of what the linear program cuts, this much is rounding noise.
constexpr double kNoise = 1e-6;
constexpr int kNodesOfFirstDive = 100'000;

/// Part of a plan, and what it leaves open.
struct State {
  Solution cut;
  Counts demand;
  Counts available;

  void take(const Instance& instance, const Pattern& pattern, int times) {
    for (const Cut& each : pattern.cuts) demand[each.item] -= times * each.times;
    available[pattern.stock] -= times;
    add(cut, instance, pattern, times);
  }
  bool complete() const {
    return std::ranges::all_of(demand, [](int d) { return d == 0; });
  }
};

class Dive {
 public:
  Dive(const Hunt& hunt, DiveRules rules, Effort& effort)
      : hunt_(hunt), rules_(rules), effort_(effort) {}

  void from(State state, std::vector<std::size_t> tabu, int depth, int discrepancies) {
    if (stop() || !promising(state, tabu)) return;
    ++nodes_;
    std::vector<double> values = hunt_.master.values();
    round_down(state, values);
    if (state.complete()) {
      improve(hunt_.best, state.cut);
      return;
    }
    finish_greedily(state);
    const std::vector<std::size_t> suggestions = suggested(state, values);
    const int left = depth < rules_.branching_depth ? rules_.discrepancies - discrepancies : 0;
    for (int s = 0; s <= left && s < static_cast<int>(suggestions.size()) && !stop(); ++s) {
      const std::size_t chosen = suggestions[static_cast<std::size_t>(s)];
      State next = state;
      next.take(hunt_.instance, pattern(chosen), 1);
      from(std::move(next), tabu, depth + 1, discrepancies + s);
      tabu.push_back(chosen);
    }
  }

 private:
  bool stop() const { return hunt_.done() || nodes_ > rules_.nodes || effort_.over(); }
  const Pattern& pattern(std::size_t index) const { return hunt_.master.patterns()[index]; }

  /// Solves the linear program for what is open; false when nothing better can come of it.
  bool promising(const State& state, const std::vector<std::size_t>& tabu) {
    const std::int64_t allowed =
        hunt_.best ? hunt_.best->cost - 1 - state.cut.cost : kImpossible - 1;
    hunt_.master.ask(state.demand, state.available, tabu);
    return allowed >= 0 && hunt_.master.solve(allowed) && hunt_.master.bound() <= allowed;
  }

  void round_down(State& state, std::vector<double>& values) {
    for (std::size_t p = 0; p < values.size(); ++p) {
      const int whole = static_cast<int>(std::floor(values[p] + kNoise));
      if (whole <= 0) continue;
      const int times = std::min(whole, times_possible(pattern(p), state.demand, state.available));
      if (times == 0) continue;
      state.take(hunt_.instance, pattern(p), times);
      values[p] -= times;
    }
  }

  void finish_greedily(const State& state) {
    auto rest = best_greedy(hunt_.instance, state.demand, state.available, effort_);
    effort_.spent += 2000;
    if (!rest) return;
    for (const auto& [pattern, times] : state.cut.bars) add(*rest, hunt_.instance, pattern, times);
    improve(hunt_.best, rest);
  }

  /// Patterns of which a part is left, the largest part first. Equal parts are common: then the
  /// fuller bar, so that no rounding noise decides.
  std::vector<std::size_t> suggested(const State& state, const std::vector<double>& values) const {
    struct Suggestion {
      std::int64_t missing_part;
      std::int64_t unused;
      std::size_t pattern;
      auto operator<=>(const Suggestion&) const = default;
    };
    std::vector<Suggestion> found;
    for (std::size_t p = 0; p < values.size(); ++p) {
      if (values[p] <= kNoise) continue;
      if (times_possible(pattern(p), state.demand, state.available) == 0) continue;
      const std::int64_t capacity = hunt_.instance.stocks[pattern(p).stock].capacity;
      found.push_back(
          {-std::llround(values[p] * 1e6), capacity - size_of(pattern(p), hunt_.instance), p});
    }
    std::ranges::sort(found);
    std::vector<std::size_t> order;
    for (const Suggestion& suggestion : found) order.push_back(suggestion.pattern);
    return order;
  }

  const Hunt& hunt_;
  DiveRules rules_;
  Effort& effort_;
  int nodes_ = 0;
};

}  // namespace

void dive(const Hunt& hunt, DiveRules rules, Effort& effort) {
  const State whole{Solution{}, hunt.demand, hunt.available};
  Dive(hunt, rules, effort).from(whole, {}, 0, 0);
}

void search(const Hunt& hunt, int thoroughness, Effort& effort) {
  const int full = 400 * thoroughness;
  const std::array rules = {DiveRules{0, 0, kNodesOfFirstDive}, DiveRules{1, 1 << 20, full / 4},
                            DiveRules{2, 4, full / 2}, DiveRules{3, 6, full}};
  for (const DiveRules& rule : rules) {
    if (hunt.done() || effort.over()) return;
    dive(hunt, rule, effort);
  }
  if (hunt.done() || effort.over()) return;
  const auto found = search_columns(hunt.instance, hunt.master, hunt.demand, hunt.available,
                                    hunt.best, hunt.target, thoroughness, effort);
  if (found && valid(*found, hunt.instance, hunt.available)) improve(hunt.best, found);
}

}  // namespace ribbay::detail
