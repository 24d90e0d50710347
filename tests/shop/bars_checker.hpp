#pragma once

#include "shop/bars.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <map>
#include <numeric>
#include <string>
#include <vector>

/// Checks bar plans and their proofs with code of its own, in the simplest way: whole numbers,
/// tables over all lengths and all costs.
namespace ribbay::testing {

/// What is wrong with the bars as sawn, or an empty text.
inline std::string fault_in_bars(const BarOrder& order, const BarsPlan& plan) {
  std::vector<int> made(order.pieces.size(), 0);
  std::vector<int> taken(order.stock.size(), 0);
  double cost = 0.0;
  int bars = 0;
  for (const BarLayout& layout : plan.layouts) {
    const BarStock& stock = order.stock[layout.stock];
    double saw_at = order.saw.trim;
    for (std::size_t k = 0; k < layout.pieces.size(); ++k) {
      if (k > 0) saw_at += order.saw.kerf;
      saw_at += order.pieces[layout.pieces[k]].length;
      made[layout.pieces[k]] += layout.count;
    }
    const double held = stock.length - saw_at;
    if (held < std::max(order.saw.trim, order.saw.clamp) - 1e-9) return "a bar is too short";
    if (std::abs(layout.rest - std::max(0.0, held - order.saw.kerf)) > 1e-9) return "rest";
    taken[layout.stock] += layout.count;
    cost += layout.count * stock.price;
    bars += layout.count;
  }
  for (std::size_t p = 0; p < made.size(); ++p) {
    if (made[p] != order.pieces[p].count) return "wrong number of " + order.pieces[p].label;
  }
  for (std::size_t s = 0; s < taken.size(); ++s) {
    if (order.stock[s].count && taken[s] > *order.stock[s].count) return "more than on hand";
  }
  if (bars != plan.bars) return "wrong number of bars";
  if (std::abs(cost - plan.cost) > 1e-6) return "wrong cost";
  return "";
}

/// The greatest worth in a bar of each capacity, by a table over all lengths.
inline std::vector<std::int64_t> worth_by_length(const BarsProof& proof,
                                                 const std::vector<std::int64_t>& worth,
                                                 std::int64_t unit, std::int64_t longest) {
  std::vector<std::int64_t> best(static_cast<std::size_t>(longest / unit) + 1, 0);
  for (std::size_t i = 0; i < proof.pieces.size(); ++i) {
    const auto size = static_cast<std::size_t>(proof.pieces[i].size / unit);
    int left = proof.pieces[i].count;
    for (int heap = 1; left > 0; heap *= 2) {
      const int now = std::min(heap, left);
      left -= now;
      const std::size_t length = size * static_cast<std::size_t>(now);
      for (std::size_t x = best.size(); x-- > length;)
        best[x] = std::max(best[x], best[x - length] + now * worth[i]);
    }
  }
  return best;
}

/// Walks through every choice of bars cheaper than the bound.
class ChoiceWalk {
 public:
  ChoiceWalk(const BarsProof& proof, std::vector<std::vector<std::int64_t>> most,
             std::vector<std::int64_t> wanted, int pieces)
      : proof_(proof), most_(std::move(most)), wanted_(std::move(wanted)), pieces_(pieces) {
    for (const auto& m : most_) reach_.push_back(reach(m));
  }

  bool all_refuted() const {
    if (proof_.cost_bound == 0) return true;
    return refuted(0, proof_.cost_bound - 1, std::vector<std::int64_t>(most_.size(), 0));
  }

 private:
  std::int64_t limit(std::size_t s, std::int64_t money) const {
    const auto& stock = proof_.stock[s];
    const std::int64_t there = stock.limited ? stock.count : pieces_;
    return stock.cost > 0 ? std::min(there, money / stock.cost) : there;
  }

  /// The greatest worth that this much money buys in stocks s and later.
  std::vector<std::vector<std::int64_t>> reach(const std::vector<std::int64_t>& most) const {
    const std::size_t money =
        static_cast<std::size_t>(std::max<std::int64_t>(1, proof_.cost_bound));
    std::vector<std::vector<std::int64_t>> table(most.size() + 1,
                                                 std::vector<std::int64_t>(money, 0));
    for (std::size_t s = most.size(); s-- > 0;) {
      for (std::size_t m = 0; m < money; ++m) {
        for (std::int64_t k = 0; k <= limit(s, static_cast<std::int64_t>(m)); ++k) {
          const auto paid = static_cast<std::size_t>(k * proof_.stock[s].cost);
          table[s][m] = std::max(table[s][m], k * most[s] + table[s + 1][m - paid]);
        }
      }
    }
    return table;
  }

  bool refuted(std::size_t s, std::int64_t money, const std::vector<std::int64_t>& held) const {
    for (std::size_t j = 0; j < most_.size(); ++j) {
      if (held[j] + reach_[j][s][static_cast<std::size_t>(money)] < wanted_[j]) return true;
    }
    if (s == proof_.stock.size()) return false;
    for (std::int64_t k = 0; k <= limit(s, money); ++k) {
      std::vector<std::int64_t> more = held;
      for (std::size_t j = 0; j < more.size(); ++j) more[j] += k * most_[j][s];
      if (!refuted(s + 1, money - k * proof_.stock[s].cost, more)) return false;
    }
    return true;
  }

  const BarsProof& proof_;
  std::vector<std::vector<std::int64_t>> most_;
  std::vector<std::int64_t> wanted_;
  std::vector<std::vector<std::vector<std::int64_t>>> reach_;
  int pieces_;
};

/// Why the proof does not hold for what it says of itself, or an empty text.
inline std::string fault_in_argument(const BarsProof& proof) {
  std::int64_t unit = 0;
  std::int64_t longest = 0;
  int pieces = 0;
  for (const auto& piece : proof.pieces) {
    if (piece.size <= 0 || piece.count <= 0) return "a piece of no size";
    unit = std::gcd(unit, piece.size);
    pieces += piece.count;
  }
  for (const auto& stock : proof.stock) {
    if (stock.cost < 0 || stock.capacity < 0 || stock.count < 0) return "a stock below nothing";
    longest = std::max(longest, stock.capacity);
  }
  std::vector<std::vector<std::int64_t>> most;
  std::vector<std::int64_t> wanted;
  for (const auto& worth : proof.worths) {
    if (worth.size() != proof.pieces.size()) return "a worth is missing";
    if (std::ranges::any_of(worth, [](std::int64_t w) { return w < 0; })) return "negative worth";
    const auto best = worth_by_length(proof, worth, unit, longest);
    std::vector<std::int64_t> of_stock;
    for (const auto& stock : proof.stock)
      of_stock.push_back(best[static_cast<std::size_t>(stock.capacity / unit)]);
    most.push_back(of_stock);
    wanted.push_back(0);
    for (std::size_t i = 0; i < worth.size(); ++i)
      wanted.back() += worth[i] * proof.pieces[i].count;
  }
  return ChoiceWalk(proof, most, wanted, pieces).all_refuted() ? "" : "a cheaper choice is open";
}

/// Why the proof is not about this order, or an empty text.
inline std::string fault_in_subject(const BarOrder& order, const BarsProof& proof) {
  const auto ticks = [](double mm) { return static_cast<std::int64_t>(std::llround(mm * 100.0)); };
  // Pieces are sawn in whole hundredths, rounded up but for the noise of sums.
  const auto up = [](double mm) { return static_cast<std::int64_t>(std::ceil(mm * 100.0 - 1e-4)); };
  std::map<std::int64_t, int> wanted;
  for (const BarPiece& piece : order.pieces)
    wanted[up(piece.length) + ticks(order.saw.kerf)] += piece.count;
  std::map<std::int64_t, int> told;
  for (const auto& piece : proof.pieces) told[piece.size] += piece.count;
  if (wanted != told) return "other pieces";
  if (proof.stock.size() != order.stock.size()) return "other stock";
  for (std::size_t s = 0; s < order.stock.size(); ++s) {
    const BarStock& stock = order.stock[s];
    const double usable =
        stock.length - order.saw.trim - std::max(order.saw.trim, order.saw.clamp) + order.saw.kerf;
    const auto& same = proof.stock[s];
    // The proof may leave out of a capacity what no pieces can fill.
    if (same.capacity > ticks(usable)) return "a longer bar";
    std::int64_t unit = 0;
    for (const auto& [size, count] : wanted) unit = std::gcd(unit, size);
    if (same.capacity / unit != ticks(usable) / unit) return "a shorter bar";
    if (same.limited != stock.count.has_value()) return "another limit";
    const int pieces = std::accumulate(order.pieces.begin(), order.pieces.end(), 0,
                                       [](int sum, const BarPiece& p) { return sum + p.count; });
    if (stock.count && same.count != std::min(*stock.count, pieces)) return "another count";
    // Costs in the same proportion: a/b == c/d.
    const auto& first = proof.stock.front();
    if (std::abs(static_cast<double>(same.cost) * order.stock.front().price -
                 static_cast<double>(first.cost) * stock.price) > 1e-6)
      return "another price";
  }
  return "";
}

/// The cost that the proof is about, in the order's money; stock 0 must cost something.
inline double proven_cost(const BarOrder& order, const BarsProof& proof) {
  return static_cast<double>(proof.cost_bound) * order.stock.front().price /
         static_cast<double>(proof.stock.front().cost);
}

inline std::string fault_in_proof(const BarOrder& order, const BarsPlan& plan) {
  if (const std::string fault = fault_in_subject(order, plan.proof); !fault.empty()) return fault;
  if (std::abs(proven_cost(order, plan.proof) - plan.cost_bound) > 1e-6) return "another bound";
  return fault_in_argument(plan.proof);
}

}  // namespace ribbay::testing
