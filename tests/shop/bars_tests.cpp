#include "bars_checker.hpp"
#include "shop/bars.hpp"

#include <catch2/catch.hpp>

#include <bit>
#include <random>
#include <sstream>
#include <thread>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

using Random = std::mt19937;

int between(Random& random, int least, int most) {
  return least + static_cast<int>(random() % static_cast<unsigned>(most - least + 1));
}

/// The least cost by trying every way to share out the pieces: sets of pieces and of the bars on
/// hand that are used up. For up to 9 pieces and 4 bars on hand, each there once, behind the others
/// in the order's stock. No kerf, no trim.
double cheapest_by_trying(const BarOrder& order) {
  std::vector<double> pieces;
  for (const BarPiece& piece : order.pieces)
    pieces.insert(pieces.end(), static_cast<std::size_t>(piece.count), piece.length);
  std::vector<std::size_t> once;
  for (std::size_t s = 0; s < order.stock.size(); ++s)
    if (order.stock[s].count) once.push_back(s);
  const unsigned all = (1U << pieces.size()) - 1;
  std::vector<double> length(all + 1, 0.0);
  for (unsigned set = 1; set <= all; ++set)
    length[set] = length[set & (set - 1)] + pieces[static_cast<unsigned>(std::countr_zero(set))];
  const double never = 1e15;
  std::vector<std::vector<double>> cost(1U << once.size(), std::vector<double>(all + 1, never));
  cost[0][0] = 0.0;
  for (unsigned used = 0; used < cost.size(); ++used) {
    for (unsigned done = 0; done < all; ++done) {
      const unsigned open = all & ~done;
      const unsigned first = open & (~open + 1);
      for (unsigned set = open; set != 0; set = (set - 1) & open) {
        if ((set & first) == 0) continue;
        for (std::size_t s = 0; s < order.stock.size(); ++s) {
          if (length[set] > order.stock[s].length) continue;
          unsigned now = used;
          if (order.stock[s].count) {
            const auto bit = static_cast<unsigned>(std::ranges::find(once, s) - once.begin());
            if ((used >> bit & 1U) == 1U) continue;
            now |= 1U << bit;
          }
          cost[now][done | set] =
              std::min(cost[now][done | set], cost[used][done] + order.stock[s].price);
        }
      }
    }
  }
  double least = never;
  for (const auto& row : cost) least = std::min(least, row[all]);
  return least;
}

BarOrder tiny_order(Random& random) {
  BarOrder order;
  std::vector<double> lengths;
  for (int k = between(random, 2, 5); k > 0; --k) lengths.push_back(between(random, 10, 60));
  for (int k = between(random, 3, 8); k > 0; --k)
    order.pieces.push_back({"p", lengths[random() % lengths.size()], 1});
  order.stock.push_back({"long", 100, {}, between(random, 5, 12) * 10.0});
  if (random() % 2 == 0) order.stock.push_back({"short", 70, {}, between(random, 4, 9) * 10.0});
  for (int k = between(random, 0, 4); k > 0; --k)
    order.stock.push_back({"rest", 1.0 * between(random, 15, 90), 1, between(random, 0, 5) * 5.0});
  return order;
}

/// Pieces of a job: 300 mm to 2 m in steps of 5 mm.
BarOrder shop_order(Random& random, int pieces, int sizes) {
  BarOrder order;
  order.saw = {3, 10, 0};
  for (int k = 0; k < sizes; ++k)
    order.pieces.push_back(
        {std::string(1, static_cast<char>('A' + k)), between(random, 60, 400) * 5.0, 1});
  for (int k = sizes; k < pieces; ++k) ++order.pieces[random() % order.pieces.size()].count;
  order.stock.push_back({"6 m", 6000, {}, 60});
  return order;
}

std::string bytes_of(const BarsPlan& plan) {
  std::ostringstream text;
  text << plan.cost << ' ' << plan.cost_bound;
  for (const BarLayout& layout : plan.layouts) {
    text << '\n' << layout.stock << ' ' << layout.count << ':';
    for (const std::size_t piece : layout.pieces) text << ' ' << piece;
  }
  for (const auto& worth : plan.proof.worths)
    for (const std::int64_t w : worth) text << ' ' << w;
  return text.str();
}

}  // namespace

TEST_CASE("a bar is filled to the last tenth, with its saw cuts and trims", "[shop][bars]") {
  // By hand: 10 + 1993 + 3 + 1993 + 3 + 1988 + 10 = 6000.
  BarOrder order{{{"a", 1993, 2}, {"b", 1988, 1}}, {{"6 m", 6000, {}, 50}}, {3, 10, 0}};
  auto plan = plan_bars(order);
  REQUIRE(plan);
  CHECK(plan->bars == 1);
  CHECK(plan->proven);
  CHECK(fault_in_bars(order, *plan) == "");
  CHECK(plan->layouts.front().rest == Approx(7.0));
  CHECK(plan->waste == Approx(6000.0 - 2 * 1993.0 - 1988.0));

  order.pieces[1].length = 1988.02;
  plan = plan_bars(order);
  REQUIRE(plan);
  CHECK(plan->bars == 2);
  CHECK(plan->proven);

  order.pieces[1].length = 1988;
  order.saw.clamp = 10.02;
  plan = plan_bars(order);
  REQUIRE(plan);
  CHECK(plan->bars == 2);
}

TEST_CASE("the cheaper of two lengths is bought", "[shop][bars]") {
  // Three pieces of 1.9 m: one long bar for 60, or one short one for each at 25.
  BarOrder order{{{"a", 1900, 3}}, {{"long", 6000, {}, 60}, {"short", 2000, {}, 25}}, {3, 10, 0}};
  CHECK(plan_bars(order)->cost == 60.0);
  order.stock[1].price = 19.99;
  const auto plan = plan_bars(order);
  CHECK(plan->cost == Approx(59.97));
  CHECK(plan->proven);
  CHECK(fault_in_proof(order, *plan) == "");
}

TEST_CASE("what lies in the rack is used before anything is bought", "[shop][bars]") {
  BarOrder order{{{"a", 1000, 4}}, {{"6 m", 6000, {}, 60}, {"rest", 2100, 2, 0}}, {3, 10, 0}};
  const auto plan = plan_bars(order);
  REQUIRE(plan);
  CHECK(plan->cost == 0.0);
  CHECK(plan->bars == 2);
  CHECK(plan->proven);
  CHECK(fault_in_bars(order, *plan) == "");
}

TEST_CASE("a piece that no bar can give is told with its place", "[shop][bars]") {
  BarOrder order{{{"a", 1000, 4}, {"post", 5981, 1, Place{"p.csv", 3, 6, "5981"}}},
                 {{"6 m", 6000, {}, 60}},
                 {3, 10, 0}};
  const auto plan = plan_bars(order);
  REQUIRE_FALSE(plan);
  REQUIRE(plan.error().size() == 1);
  CHECK(plan.error()[0].code == "cut.too_long");
  CHECK(plan.error()[0].subjects == std::vector<std::string>{"post"});
  CHECK(plan.error()[0].place->line == 3);
  CHECK(std::get<double>(plan.error()[0].argument("required")->value) == Approx(5980));
  order.pieces[1].length = 5980;
  CHECK(plan_bars(order));
}

TEST_CASE("a piece shorter than a saw can tell is still a piece", "[shop][bars]") {
  const BarOrder order{{{"crumb", 1e-7, 1}}, {{"bar", 1000, {}, 1}}, {}};
  const auto plan = plan_bars(order);
  REQUIRE(plan);
  CHECK(plan->bars == 1);
}

TEST_CASE("stock that runs out is told", "[shop][bars]") {
  BarOrder order{{{"a", 1000, 4}}, {{"rest", 2100, 1, 0}}, {3, 10, 0}};
  auto plan = plan_bars(order);
  REQUIRE_FALSE(plan);
  CHECK(plan.error()[0].code == "cut.not_enough");
  // Long enough together, but no bar holds two of them.
  order.stock[0] = {"rest", 1990, 5, 0};
  order.pieces[0].count = 6;
  plan = plan_bars(order);
  REQUIRE_FALSE(plan);
  CHECK(plan.error()[0].code == "cut.not_enough");
  order.pieces[0].count = kMostBarPieces + 1;
  CHECK(plan_bars(order).error()[0].code == "cut.too_many");
}

TEST_CASE("no plan of a tiny order is cheaper than the planned one", "[shop][bars]") {
  Random random(99);
  for (int trial = 0; trial < 300; ++trial) {
    CAPTURE(trial);
    const BarOrder order = tiny_order(random);
    const auto plan = plan_bars(order);
    REQUIRE(plan);
    CHECK(fault_in_bars(order, *plan) == "");
    CHECK(plan->cost == Approx(cheapest_by_trying(order)));
    CHECK(plan->proven);
    CHECK(fault_in_proof(order, *plan) == "");
  }
}

TEST_CASE("jobs of a shop's size are planned with proof", "[shop][bars]") {
  struct Row {
    const char* name;
    int pieces, sizes;
    bool two_lengths, offcuts, odd_sizes;
  };
  const auto row = GENERATE(values<Row>({{"small", 20, 5, false, false, false},
                                         {"usual", 60, 15, false, false, false},
                                         {"large", 200, 40, false, false, false},
                                         {"two lengths", 60, 15, true, false, false},
                                         {"offcuts", 60, 15, false, true, false},
                                         {"both", 120, 25, true, true, false},
                                         {"sizes in hundredths", 60, 15, false, false, true}}));
  CAPTURE(row.name);
  Random random(7);
  for (int trial = 0; trial < 3; ++trial) {
    CAPTURE(trial);
    BarOrder order = shop_order(random, row.pieces, row.sizes);
    if (row.two_lengths) order.stock.push_back({"3 m", 3000, {}, 32});
    for (int k = 0; row.offcuts && k < 4; ++k)
      order.stock.push_back({"offcut", 1.0 * between(random, 500, 2500), 1, 1});
    for (BarPiece& piece : order.pieces)
      if (row.odd_sizes) piece.length += between(random, 0, 499) / 100.0;
    const auto plan = plan_bars(order);
    REQUIRE(plan);
    CHECK(fault_in_bars(order, *plan) == "");
    CHECK(plan->proven);
    CHECK(fault_in_proof(order, *plan) == "");
  }
}

TEST_CASE("the longest rest is what trying every rest finds", "[shop][bars]") {
  Random random(5);
  for (int trial = 0; trial < 60; ++trial) {
    CAPTURE(trial);
    BarOrder order = tiny_order(random);
    order.stock.resize(1);
    const auto plan = plan_bars(order);
    REQUIRE(plan);
    CHECK(plan->rest_proven);
    // As many bars again, one of them shorter: can that be done?
    const int bars = plan->bars;
    const auto possible = [&](double rest) {
      BarOrder shorter = order;
      shorter.stock[0].price = 1000;
      shorter.stock.push_back({"shorter", 100 - rest, 1, 0});
      return cheapest_by_trying(shorter) <= (bars - 1) * 1000.0;
    };
    CHECK(possible(plan->longest_rest));
    CHECK_FALSE(possible(plan->longest_rest + 1));
  }
}

TEST_CASE("a hundred thousand pieces are planned, with a bound that is near", "[shop][bars]") {
  struct Row {
    int sizes;
    bool offcuts;
    double gap;  ///< share of the bound
  };
  // Of 60 sizes the linear program leaves next to nothing; of very many, filling bar by bar does.
  const auto row = GENERATE(values<Row>({{60, false, 0.0}, {2000, false, 0.005}, {9000, true, 0.01}}));
  CAPTURE(row.sizes);
  Random random(3);
  BarOrder order;
  order.saw = {3, 10, 0};
  for (int k = 0; k < row.sizes; ++k)
    order.pieces.push_back({"p", 300.0 + between(random, 0, 170'000) / 100.0, 1});
  for (int k = row.sizes; k < kMostBarPieces; ++k)
    ++order.pieces[random() % order.pieces.size()].count;
  order.stock.push_back({"6 m", 6000, {}, 60});
  for (int k = 0; row.offcuts && k < 20; ++k)
    order.stock.push_back({"offcut", 1.0 * between(random, 500, 2500), 1, 0});
  const auto plan = plan_bars(order);
  REQUIRE(plan);
  CHECK(fault_in_bars(order, *plan) == "");
  CHECK(plan->cost_bound <= plan->cost);
  CHECK(plan->cost <= (1.0 + row.gap) * plan->cost_bound);
  CHECK(plan->proven == (plan->cost == plan->cost_bound));
}

TEST_CASE("the bound for very many sizes is proven as any other", "[shop][bars]") {
  // Pieces of just over a third of a bar: by length alone 2.98 would go into one, and two do.
  Random random(3);
  BarOrder order{{}, {{"1 m", 1000, {}, 60}}, {}};
  for (int k = 0; k < 600; ++k) order.pieces.push_back({"p", 335.0 + 0.02 * k, 1});
  const auto plan = plan_bars(order);
  REQUIRE(plan);
  CHECK(plan->bars == 300);
  CHECK(plan->proven);
  CHECK(fault_in_bars(order, *plan) == "");
  CHECK(fault_in_proof(order, *plan) == "");
}

TEST_CASE("the same order gives the same plan, in any thread", "[shop][bars]") {
  Random random(11);
  BarOrder order = shop_order(random, 60, 15);
  order.stock.push_back({"3 m", 3000, {}, 32});
  order.stock.push_back({"offcut", 1234, 2, 1});
  const std::string first = bytes_of(*plan_bars(order));
  CHECK(bytes_of(*plan_bars(order)) == first);
  std::vector<std::string> others(2);
  std::vector<std::thread> threads;
  for (std::string& other : others)
    threads.emplace_back([&] { other = bytes_of(*plan_bars(order)); });
  for (std::thread& thread : threads) thread.join();
  CHECK(others[0] == first);
  CHECK(others[1] == first);
}
