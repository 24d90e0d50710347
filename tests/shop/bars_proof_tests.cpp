#include "bars_checker.hpp"

#include <catch2/catch.hpp>

#include <functional>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

/// Greedy needs one bar more than the best plan, and the lengths alone do not prove the best: by
/// hand, no bar of 100 holds two of 60 or 51, so 5 pieces of these need 5 bars.
BarOrder order_to_prove() {
  return {{{"a", 60, 3}, {"b", 51, 2}, {"c", 25, 2}}, {{"bar", 100, {}, 7}}, {}};
}

}  // namespace

TEST_CASE("a good proof is accepted", "[shop][proof]") {
  const BarOrder order = order_to_prove();
  const auto plan = plan_bars(order);
  REQUIRE(plan);
  CHECK(plan->bars == 5);
  CHECK(plan->proven);
  CHECK(fault_in_proof(order, *plan) == "");
}

TEST_CASE("a proof that was tampered with is refused", "[shop][proof]") {
  struct Row {
    const char* name;
    std::function<void(BarsPlan&)> tamper;
  };
  const std::vector<Row> rows = {
      {"a higher bound", [](BarsPlan& p) { ++p.proof.cost_bound; }},
      {"a higher bound on both sides",
       [](BarsPlan& p) {
         ++p.proof.cost_bound;
         p.cost_bound += 7.0;
       }},
      {"no argument", [](BarsPlan& p) { p.proof.worths.clear(); }},
      {"only the lengths", [](BarsPlan& p) { p.proof.worths.resize(1); }},
      {"a worth left out", [](BarsPlan& p) { p.proof.worths.back().pop_back(); }},
      {"a negative worth", [](BarsPlan& p) { p.proof.worths.back().back() = -1; }},
      {"other worths",
       [](BarsPlan& p) {
         for (auto& worth : p.proof.worths) std::ranges::reverse(worth);
       }},
      {"larger pieces", [](BarsPlan& p) { p.proof.pieces.front().size += 100; }},
      {"more pieces", [](BarsPlan& p) { ++p.proof.pieces.front().count; }},
      {"a piece left out", [](BarsPlan& p) { p.proof.pieces.pop_back(); }},
      {"a shorter bar", [](BarsPlan& p) { p.proof.stock.front().capacity -= 100; }},
      {"bars that run out",
       [](BarsPlan& p) {
         p.proof.stock.front().limited = true;
         p.proof.stock.front().count = 4;
       }},
      {"no stock", [](BarsPlan& p) { p.proof.stock.clear(); }},
      {"another price", [](BarsPlan& p) { p.proof.stock.front().cost = 2; }},
  };
  const BarOrder order = order_to_prove();
  const auto plan = plan_bars(order);
  REQUIRE(plan);
  for (const Row& row : rows) {
    CAPTURE(row.name);
    BarsPlan tampered = *plan;
    row.tamper(tampered);
    CHECK(fault_in_proof(order, tampered) != "");
  }
}
