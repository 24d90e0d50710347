#include "bars_checker.hpp"

#include <catch2/catch.hpp>

#include <fstream>
#include <sstream>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

struct Published {
  std::string name;
  int optimum = 0;
};

std::string folder() {
  return std::string(RIBBAY_SOURCE_DIR) + "/tests/shop/data/";
}

/// Sources in data/SOURCE.md.
std::vector<Published> published() {
  std::vector<Published> instances;
  std::ifstream in(folder() + "optima.csv");
  std::string line;
  std::getline(in, line);
  while (std::getline(in, line)) {
    std::istringstream fields(line);
    Published instance;
    std::string items, capacity, optimum;
    std::getline(fields, instance.name, ',');
    std::getline(fields, items, ',');
    std::getline(fields, capacity, ',');
    std::getline(fields, optimum, ',');
    instance.optimum = std::stoi(optimum);
    instances.push_back(instance);
  }
  return instances;
}

BarOrder read(const std::string& name) {
  std::ifstream in(folder() + name + ".txt");
  int items = 0;
  BarOrder order;
  order.stock.push_back({"bar", 0.0, {}, 1.0});
  in >> items >> order.stock[0].length;
  for (double length = 0.0; in >> length;) order.pieces.push_back({"p", length, 1});
  REQUIRE(static_cast<int>(order.pieces.size()) == items);
  return order;
}

}  // namespace

TEST_CASE("published instances are planned with the published number of bars",
          "[shop][published]") {
  const auto instances = published();
  REQUIRE(instances.size() == 18);
  for (const Published& instance : instances) {
    CAPTURE(instance.name);
    const BarOrder order = read(instance.name);
    const auto plan = plan_bars(order);
    REQUIRE(plan);
    CHECK(plan->bars == instance.optimum);
    CHECK(plan->proven);
    CHECK(fault_in_bars(order, *plan) == "");
    CHECK(fault_in_proof(order, *plan) == "");
  }
}
