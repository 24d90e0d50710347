#pragma once

#include "cut_tree.hpp"
#include "shop/sheets.hpp"

#include <functional>

namespace ribbay::detail {

/// Gives the next piece of an item.
using NextPiece = std::function<std::size_t(std::size_t item)>;

/// The cuts of a sheet in the order they are sawn: the four edges are trimmed, then stage by stage
/// everything is cut that this stage cuts, at settings of the fence. `gross` is the stock, in mm.
SheetLayout sawn(const CutTree& tree, const SheetNumbers& numbers, const SheetStock& gross,
                 const NextPiece& next_piece);

}  // namespace ribbay::detail
