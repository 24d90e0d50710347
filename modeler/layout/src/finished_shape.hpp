#pragma once

#include "layout/layout.hpp"

#include <vector>

/// Parts with what covers them.
namespace ribbay::detail {

/// The outline with side i, which runs from corner i to the next, shifted by `by[i]` away from the
/// material on its left; negative: into it. Corners are mitred; arcs grow where the outline bulges
/// and shrink where it is hollow.
Loop grown(const Loop& loop, const std::vector<double>& by);

/// The shape of a panel, plank or folded part with its coverings, in the coordinates of the bare
/// one. Bores are left out: they are filled wherever room is measured. The back of a bent part that
/// is wrapped counts as covered all over. Nullptr when a covering closes something in its outline.
ShapePtr finished_shape(const Part& part);

}  // namespace ribbay::detail
