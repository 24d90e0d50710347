#include "certificate.hpp"

#include "knapsack.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

using Wide = __int128;

/// Stocks that hold something, those that cost least for their worth first.
std::vector<std::size_t> by_cost_of_worth(const Certificate& certificate,
                                          const Instance& instance) {
  std::vector<std::size_t> order;
  for (std::size_t s = 0; s < instance.stocks.size(); ++s) {
    if (certificate.most[s] > 0) order.push_back(s);
  }
  std::ranges::stable_sort(order, [&](std::size_t a, std::size_t b) {
    return static_cast<Wide>(instance.stocks[a].cost) * certificate.most[b] <
           static_cast<Wide>(instance.stocks[b].cost) * certificate.most[a];
  });
  return order;
}

}  // namespace

bool Certificate::refutes(const Counts& bars) const {
  Wide held = 0;
  for (std::size_t s = 0; s < bars.size(); ++s) held += static_cast<Wide>(bars[s]) * most[s];
  return held < wanted;
}

Certificate certificate_of(const Instance& instance, std::vector<std::int64_t> worth,
                           Effort& effort) {
  Certificate certificate;
  certificate.worth = std::move(worth);
  const Counts demand = demand_of(instance);
  Knapsack knapsack(instance);
  std::vector<Knapsack::Aim> aims;
  for (const Stock& stock : instance.stocks) aims.push_back({stock.capacity, 0});
  knapsack.run(certificate.worth, demand, aims, effort);
  for (const Knapsack::Aim& aim : aims) certificate.most.push_back(knapsack.most_worth(aim));
  for (std::size_t i = 0; i < demand.size(); ++i) {
    certificate.wanted += certificate.worth[i] * demand[i];
  }
  return certificate;
}

Certificate length_certificate(const Instance& instance) {
  Certificate certificate;
  for (const Item& item : instance.items) certificate.worth.push_back(item.size);
  for (const Stock& stock : instance.stocks) certificate.most.push_back(stock.capacity);
  certificate.wanted = size_wanted(instance);
  return certificate;
}

std::int64_t cost_bound(const Certificate& certificate, const Instance& instance,
                        const Counts& available) {
  std::int64_t cost = 0;
  Wide open = certificate.wanted;
  for (const std::size_t s : by_cost_of_worth(certificate, instance)) {
    if (open <= 0) break;
    const Wide most = certificate.most[s];
    const Wide held = most * available[s];
    const std::int64_t each = instance.stocks[s].cost;
    cost += held < open ? each * available[s]
                        : static_cast<std::int64_t>((each * open + most - 1) / most);
    open -= held;
  }
  return open > 0 ? kImpossible : cost;
}

}  // namespace ribbay::detail
