#include "totals.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

/// The bound as a number of bars or sheets, when they all cost the same.
template <class Stock>
bool counts(const std::vector<Stock>& stock) {
  return std::ranges::all_of(
      stock, [&](const Stock& s) { return s.price > 0.0 && s.price == stock.front().price; });
}

template <class Order, class Plan>
void add_order(Totals& totals, bool& countable, const Order& order, const Plan& plan) {
  for (const auto& piece : order.pieces) {
    int holds = 1;
    if constexpr (requires { piece.holds; }) holds = piece.holds;
    totals.pieces += piece.count * holds;
  }
  totals.proven = totals.proven && plan.proven;
  totals.cost += plan.cost;
  totals.cost_bound += plan.cost_bound;
  totals.waste += plan.waste;
  countable = countable && counts(order.stock);
  if (countable) totals.bound += std::ceil(plan.cost_bound / order.stock.front().price - 1e-6);
}

}  // namespace

Totals totals_of(const CutOrders& orders, const CutPlans& plans) {
  Totals totals;
  bool countable = true;
  for (std::size_t o = 0; o < orders.bars.size(); ++o) {
    add_order(totals, countable, orders.bars[o], plans.bars[o]);
    totals.used += plans.bars[o].bars;
    for (const BarLayout& layout : plans.bars[o].layouts) {
      totals.bought += layout.count * orders.bars[o].stock[layout.stock].length;
    }
  }
  for (std::size_t o = 0; o < orders.sheets.size(); ++o) {
    add_order(totals, countable, orders.sheets[o], plans.sheets[o]);
    totals.used += static_cast<int>(plans.sheets[o].layouts.size());
    for (const SheetLayout& layout : plans.sheets[o].layouts) {
      const SheetStock& stock = orders.sheets[o].stock[layout.stock];
      totals.bought += stock.length * stock.width;
    }
  }
  totals.bound_of = !countable ? "cost" : of_sheets(orders) ? "sheets" : "bars";
  if (!countable) totals.bound = totals.cost_bound;
  return totals;
}

}  // namespace ribbay::detail
