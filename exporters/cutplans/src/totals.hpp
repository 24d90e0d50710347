#pragma once

#include "cutplans/cut_orders.hpp"

#include <string>

namespace ribbay::detail {

/// All orders together.
struct Totals {
  int pieces = 0;
  int used = 0;          ///< bars or sheets
  double bound = 0.0;    ///< in `bound_of`
  std::string bound_of;  ///< "bars", "sheets" or "cost"
  bool proven = true;
  double cost = 0.0;
  double cost_bound = 0.0;
  double waste = 0.0;   ///< mm or mm2
  double bought = 0.0;  ///< length or area of the stock used, mm or mm2
};

Totals totals_of(const CutOrders& orders, const CutPlans& plans);

inline bool of_sheets(const CutOrders& orders) {
  return !orders.sheets.empty();
}

}  // namespace ribbay::detail
