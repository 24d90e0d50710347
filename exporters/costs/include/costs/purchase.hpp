#pragma once

#include "base/output_file.hpp"
#include "cutplans/shop_cuts.hpp"
#include "layout/layout.hpp"

#include <optional>
#include <string>
#include <vector>

namespace ribbay {

/// One thing to buy.
struct Purchase {
  std::string key;  ///< empty: the catalogue has no such thing
  std::string title;
  std::string kind;     ///< "bar", "sheet", "finish", "hardware", "glue", "equipment"
  double needed = 0.0;  ///< bars, sheets or pieces; or an amount in `unit`
  double spare = 0.0;   ///< pieces beyond those
  std::string unit;     ///< "bar of 6000 mm", "sheet", "l", "m2", "m", "piece", "glued joint"
  std::optional<double> packages;       ///< whole ones to buy; nullopt: nothing is known of them
  std::optional<double> package_holds;  ///< in `unit`
  std::optional<double> package_price;  ///< in the project's currency
  std::optional<double> cost() const;
};

/// Everything that must be bought to build the layout: bars, planks and sheets as the cutting plans
/// use them, less what is cut from offcuts; then finishes, hardware
/// and equipment, each by key; with the hardware what is turned onto bolts, and glue.
std::vector<Purchase> purchases(const Layout& layout, const std::vector<StockPlan>& plans);

/// Sum of what has a price, and how many things have none.
struct PurchaseTotal {
  double cost = 0.0;
  std::size_t unpriced = 0;
};
PurchaseTotal total(const std::vector<Purchase>& list);

/// shop/purchase.csv. Columns: kind, stock, title, needed, spare, unit, packages, package_holds,
/// package_price, cost; the last row is the total, and says how many things have no price.
OutputFile purchase_list(const Layout& layout, const std::vector<Purchase>& list);

/// An amount of money to its hundredth: "12.50 EUR".
std::string money_text(double money, const std::string& currency);

}  // namespace ribbay
