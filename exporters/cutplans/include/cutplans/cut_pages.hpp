#pragma once

#include "cutplans/shop_cuts.hpp"
#include "drawings/drawings.hpp"

#include <vector>

namespace ribbay {

/// A picture of each sheet that is cut, with every cut numbered in the order of sawing and the same
/// cuts as a table: pages of the drawing set from 701 onwards, "drawings/701-cut-birch-12-1.svg".
/// Sheets that are cut alike share a page; cuts that find no room beside the picture go on on pages
/// of their own, "…-1-page-2.svg". Where a piece or a cut cannot be named in the picture, the page
/// says which. Bars and planks follow, several to a page, "drawings/715-cut-bars-1.svg": strips with
/// their pieces in the order of the cuts, and the places of the cuts from one end.
std::vector<SetPage> cut_pages(const Layout& layout, const std::vector<StockPlan>& plans,
                               const DrawingOptions& options = {});

}  // namespace ribbay
