#pragma once

#include "drawings/dimension.hpp"

#include <vector>

/// Positions that found no room as sizes beside their view stand in a table; here they are marked
/// on the view.
namespace ribbay::detail {

/// A short line beside the view at each of the positions `at` (model, rising), and the number of
/// its row in the table, counted from 1, at all that leave room for it. False when none does.
bool add_position_marks(Drawing& d, const ViewPlace& place, ViewSide side,
                        const std::vector<double>& at, Pen pen);

}  // namespace ribbay::detail
