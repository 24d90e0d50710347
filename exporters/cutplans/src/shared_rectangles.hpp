#pragma once

#include "cutplans/shop_cuts.hpp"

#include <vector>

namespace ribbay::detail {

/// The polygon that covers an outline, lower left corner of its bounds at 0, 0: arcs from outside,
/// 0.2 mm off at most.
Polygon covering(const Loop& outline);

/// Plans a sheet's order once more with pairs of pieces that are no rectangles in one rectangle each,
/// and takes that plan where it costs less. `types` are those of the order's pieces.
void share_rectangles(const Layout& layout, const std::vector<const PartType*>& types,
                      StockPlan& made);

/// Which way was taken and what it saves; empty where there is no such pair.
std::string sharing_words(const StockPlan& plan, LengthStyle show);

}  // namespace ribbay::detail
