#pragma once

#include "base/output_file.hpp"
#include "cutplans/cut_orders.hpp"
#include "layout/layout.hpp"
#include "shop/outline_pairs.hpp"

#include <optional>
#include <string>
#include <vector>

namespace ribbay {

/// Two pieces that are sawn as one rectangle and parted by hand.
struct SharedRectangle {
  std::size_t piece = 0;  ///< index into the order's pieces
  std::string first;      ///< marks
  std::string second;
  OutlinePair outlines;   ///< along the piece's length and width
};

/// What pieces that are no rectangles cost as the rectangles around them, and in pairs.
struct Sharing {
  bool taken = false;  ///< the plan has pairs, which take less
  std::size_t sheets_apart = 0;
  std::size_t sheets_shared = 0;
  double saved = 0.0;  ///< in the unit of the order's costs
};

/// A plank that is ripped narrower once it is cut to length.
struct Rip {
  std::string mark;
  double width = 0.0;   ///< that it keeps, what is left of its tongue included, mm
  bool groove = false;  ///< comes off
  bool tongue = false;  ///< the same
};

/// One profile, plank or sheet, and how everything that a layout needs of it is cut.
struct StockPlan {
  std::string key;    ///< of the catalogue
  std::string title;
  bool sheet = false;
  CutOrders orders{};   ///< one order
  CutPlans plans{};     ///< empty when there is none; then `findings` says why
  Findings findings{};
  std::vector<SharedRectangle> shared{};
  std::optional<Sharing> sharing{};  ///< nullopt: there are no two such pieces
  std::vector<Rip> rips{};
};

/// What the project says that it costs, or nullptr; a sheet and a finish may have one key.
const Price* price_of(const Layout& layout, const std::string& key, bool finish = false);

/// Plans all made parts of a layout, stock by stock: profiles, planks, sheets, each by key. Parts
/// that are alike have one mark and are one piece with a count. A profile or plank without lengths
/// in the catalogue has no plan: a note "cut.no_lengths" says so. Bent parts and pieces with curved
/// outlines go as the rectangles around their blanks, or two of them in one rectangle, turned against
/// each other, where that takes less sheet.
std::vector<StockPlan> plan_cuts(const Layout& layout);

/// shop/cutting.txt (tables to saw from), shop/bars.csv, shop/sheets.csv, shop/bars-proof.json
/// (for an independent checker) and shop/offcuts.toml (what is left, to be included next time):
/// each where there is something for it.
OutputFiles cut_files(const Layout& layout, const std::vector<StockPlan>& plans);

}  // namespace ribbay
