#pragma once

#include "base/output_file.hpp"
#include "cutplans/cut_orders.hpp"
#include "layout/layout.hpp"

#include <string>
#include <vector>

namespace ribbay {

/// One profile, plank or sheet, and how everything that a layout needs of it is cut.
struct StockPlan {
  std::string key;    ///< of the catalogue
  std::string title;
  bool sheet = false;
  CutOrders orders{};   ///< one order
  CutPlans plans{};     ///< empty when there is none; then `findings` says why
  Findings findings{};
};

/// What the project says that it costs, or nullptr; a sheet and a finish may have one key.
const Price* price_of(const Layout& layout, const std::string& key, bool finish = false);

/// Plans all made parts of a layout, stock by stock: profiles, planks, sheets, each by key. Parts
/// that are alike have one mark and are one piece with a count. A profile or plank without lengths
/// in the catalogue has no plan: a note "cut.no_lengths" says so. Bent parts go as the rectangle
/// around their blank.
std::vector<StockPlan> plan_cuts(const Layout& layout);

/// shop/cutting.txt (tables to saw from), shop/bars.csv, shop/sheets.csv, shop/bars-proof.json
/// (for an independent checker) and shop/offcuts.toml (what is left, to be included next time):
/// each where there is something for it.
OutputFiles cut_files(const Layout& layout, const std::vector<StockPlan>& plans);

}  // namespace ribbay
