#pragma once

#include "costs/purchase.hpp"

namespace ribbay {

/// Work of one sort: how often, how long each time.
struct Work {
  std::string what;      ///< "saw cuts", "holes", "Utility rack: fitting and finishing"
  std::size_t count = 0;
  double each = 0.0;     ///< seconds
  double hours() const { return static_cast<double>(count) * each / 3600.0; }
};

/// How long the work takes by the project's rates: the saw cuts of the plans, every hole of the made
/// parts, joints, panels, and what the file adds for a module. Empty without [rates].
std::vector<Work> work(const Layout& layout, const std::vector<StockPlan>& plans);

/// The same hours by module, in file order: its own holes, joints and panels, what the file adds for
/// it, and of the saw cuts the share of its pieces. They add up to those of work().
struct ModuleWork {
  std::string title;
  double hours = 0.0;
};
std::vector<ModuleWork> work_by_module(const Layout& layout, const std::vector<StockPlan>& plans);

/// What the work costs, in the project's currency.
struct Quote {
  double hours = 0.0;
  double labour = 0.0;
  double material = 0.0;
  double markup = 0.0;       ///< on the material
  double contingency = 0.0;  ///< on all
  double total = 0.0;
  std::size_t unpriced = 0;  ///< things to buy that have no price and are not in it
};
Quote quote(const Rates& rates, const std::vector<Work>& work, const PurchaseTotal& material);

/// shop/quote.html: one page to approve, with a picture of each module; nothing is loaded from
/// elsewhere. shop/work.csv: the time alone, for the shop; columns: by ("work" or "module"; the last
/// row of each is its total), what, number, minutes each, hours. Only with [rates].
OutputFiles quote_files(const Layout& layout, const std::vector<StockPlan>& plans,
                        const std::vector<Purchase>& bought);

}  // namespace ribbay
