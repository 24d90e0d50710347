#pragma once

#include "base/result.hpp"
#include "command_line.hpp"
#include "cutplans/cut_orders.hpp"

namespace ribbay::detail {

/// What `ribbay cut` is to plan, read from its two tables and its options. Pieces that name a stock
/// are planned from rows of that name alone; pieces without a stock from all of them. Without any
/// price, what must be bought counts by its length in metres (sheets: area in square metres) and
/// what is on hand counts nothing, unless nothing can be bought. Tells every fault with its place.
Result<CutOrders> read_cut_orders(const Command& command);

}  // namespace ribbay::detail
