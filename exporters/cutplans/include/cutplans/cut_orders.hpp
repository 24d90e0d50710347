#pragma once

#include "shop/bars.hpp"
#include "shop/sheets.hpp"

#include <string>
#include <vector>

namespace ribbay {

/// What is to be cut, stock by stock: either bars or sheets.
struct CutOrders {
  std::vector<BarOrder> bars;
  std::vector<SheetOrder> sheets;
  std::string cost_unit;  ///< "EUR", "m", "m2"; empty when prices have no currency
};

/// The plans of all orders, in their order.
struct CutPlans {
  std::vector<BarsPlan> bars;
  std::vector<SheetsPlan> sheets;
};

}  // namespace ribbay
