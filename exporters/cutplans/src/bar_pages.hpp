#pragma once

#include "cutplans/shop_cuts.hpp"
#include "drawings/drawings.hpp"

#include <vector>

namespace ribbay::detail {

/// Pages of bars and planks, several to a page: each as a strip with its pieces in the order of the
/// cuts, and running from the end where the tape hooks on, the places of all saw cuts. Empty where
/// nothing is cut from bars.
std::vector<Drawing> bar_pages(const Layout& layout, const std::vector<StockPlan>& plans,
                               const DrawingOptions& options);

}  // namespace ribbay::detail
