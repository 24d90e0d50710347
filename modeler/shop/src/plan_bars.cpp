#include "bar_numbers.hpp"
#include "longest_rest.hpp"
#include "shop/bars.hpp"
#include "solve.hpp"
#include "ticks.hpp"

#include <algorithm>
#include <functional>
#include <span>

namespace ribbay {

namespace {

using namespace detail;

/// A few seconds of one core.
constexpr std::int64_t kEffort = 3'000'000'000;
constexpr std::int64_t kEffortForRest = 200'000'000;

int pieces_in(const BarOrder& order) {
  std::int64_t count = 0;
  for (const BarPiece& piece : order.pieces) count += piece.count;
  return static_cast<int>(std::min<std::int64_t>(count, kMostBarPieces + 1));
}

Finding about(std::string code, const BarPiece& piece) {
  Finding finding;
  finding.code = std::move(code);
  finding.subjects = {piece.label};
  finding.place = piece.place;
  return finding;
}

Findings too_long(const BarOrder& order) {
  double longest = 0.0;
  for (const BarStock& stock : order.stock) {
    longest = std::max(longest, usable_length(stock, order.saw));
  }
  Findings findings;
  for (const BarPiece& piece : order.pieces) {
    if (piece_ticks(piece.length) <= ticks_up(longest)) continue;
    findings.push_back(about("cut.too_long", piece)
                           .with("measured", piece.length, Unit::mm)
                           .with("required", longest, Unit::mm));
  }
  return findings;
}

Finding not_enough(const BarOrder& order, const BarNumbers& numbers, bool certain) {
  const double unit = static_cast<double>(numbers.length_unit) * kCut;
  std::int64_t there = 0;
  for (const Stock& stock : numbers.instance.stocks) there += stock.capacity * stock.available;
  return about(certain ? "cut.not_enough" : "cut.no_plan", order.pieces.front())
      .with("wanted", static_cast<double>(size_wanted(numbers.instance)) * unit, Unit::mm)
      .with("there", static_cast<double>(there) * unit, Unit::mm);
}

/// Gives out the pieces of an order, one of a size after the other.
class Labels {
 public:
  explicit Labels(const BarNumbers& numbers)
      : numbers_(numbers), next_(numbers.pieces_of.size(), 0) {}

  std::vector<std::size_t> of(const Pattern& pattern) {
    std::vector<std::size_t> pieces;
    for (const Cut& cut : pattern.cuts) {
      for (int k = 0; k < cut.times; ++k) {
        pieces.push_back(numbers_.pieces_of[cut.item][next_[cut.item]++]);
      }
    }
    return pieces;
  }

 private:
  const BarNumbers& numbers_;
  std::vector<std::size_t> next_;
};

double rest_of(const BarOrder& order, const BarLayout& layout) {
  double rest = order.stock[layout.stock].length - order.saw.trim;
  for (const std::size_t piece : layout.pieces) rest -= order.pieces[piece].length + order.saw.kerf;
  return std::max(0.0, rest);  // the last cut may be one into nothing
}

std::vector<BarLayout> layouts_of(const BarOrder& order, const BarNumbers& numbers,
                                  const Solution& solution) {
  std::vector<std::pair<Pattern, int>> patterns(solution.bars.rbegin(), solution.bars.rend());
  std::ranges::stable_sort(patterns, std::greater{}, [&](const auto& entry) {
    return order.stock[entry.first.stock].length;
  });
  Labels labels(numbers);
  std::vector<BarLayout> layouts;
  for (const auto& [pattern, times] : patterns) {
    for (int bar = 0; bar < times; ++bar) {
      BarLayout layout{pattern.stock, 1, labels.of(pattern)};
      layout.rest = rest_of(order, layout);
      const bool same = !layouts.empty() && layouts.back().stock == layout.stock &&
                        layouts.back().pieces == layout.pieces;
      if (same) ++layouts.back().count;
      if (!same) layouts.push_back(std::move(layout));
    }
  }
  return layouts;
}

BarsProof proof_of(const BarNumbers& numbers, const Solved& solved) {
  BarsProof proof;
  for (const Item& item : numbers.instance.items) {
    proof.pieces.push_back({item.size * numbers.length_unit, item.demand});
  }
  for (const Stock& stock : numbers.instance.stocks) {
    proof.stock.push_back(
        {stock.capacity * numbers.length_unit, stock.cost, stock.available, stock.limited});
  }
  proof.cost_bound = solved.bound;
  for (const Certificate& certificate : solved.certificates) {
    proof.worths.push_back(certificate.worth);
  }
  return proof;
}

void add_up(BarsPlan& plan, const BarOrder& order) {
  for (const BarLayout& layout : plan.layouts) {
    const BarStock& stock = order.stock[layout.stock];
    plan.bars += layout.count;
    plan.cost += static_cast<double>(layout.count * hundredths(stock.price)) / 100.0;
    plan.waste += layout.count * stock.length;
    for (const std::size_t p : layout.pieces) plan.waste -= layout.count * order.pieces[p].length;
    plan.longest_rest = std::max(plan.longest_rest, layout.rest);
  }
}

}  // namespace

Result<BarsPlan> plan_bars(const BarOrder& order) {
  BarsPlan plan;
  plan.proven = plan.rest_proven = true;
  if (order.pieces.empty()) return plan;
  if (pieces_in(order) > kMostBarPieces) {
    return fail(
        about("cut.too_many", order.pieces.front()).with("limit", kMostBarPieces, Unit::count));
  }
  if (Findings findings = too_long(order); !findings.empty()) return fail(findings);

  const BarNumbers numbers = in_whole_numbers(order);
  Effort effort{0, kEffort};
  const Solved solved = solve(numbers.instance, effort);
  if (!solved.best) return fail(not_enough(order, numbers, solved.bound == kImpossible));

  Effort effort_for_rest{0, kEffortForRest};
  // The first certificate is about lengths alone, which the search reckons with anyway.
  const LongestRest rest =
      leave_longest_rest(numbers.instance, *solved.best,
                         std::span(solved.certificates).subspan(1), effort_for_rest);
  plan.layouts = layouts_of(order, numbers, without_surplus(rest.solution, numbers.instance));
  add_up(plan, order);
  // A bar that the search for the longest rest could do without makes the plan cheaper still.
  plan.proven = solved.bound >= rest.solution.cost;
  plan.cost_bound =
      plan.proven ? plan.cost : static_cast<double>(solved.bound * numbers.cost_unit) / 100.0;
  plan.rest_proven = rest.proven;
  plan.proof = proof_of(numbers, solved);
  return plan;
}

}  // namespace ribbay
