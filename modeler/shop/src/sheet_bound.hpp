#pragma once

#include "certificate.hpp"
#include "sheet_numbers.hpp"

namespace ribbay::detail {

/// A cost that no plan beats, however it is cut: the least that sheets of enough area cost, and of
/// enough area when all sizes are scaled by dual feasible functions. Such a function maps lengths
/// so that whatever fits beside each other still does, and makes lengths above half count more; a
/// piece's scaled area is that of its better way round. Some of them reckon with the pieces that there
/// are: where no three of the order's fit beside each other, each may count for half.
/// Source: S. P. Fekete and J. Schepers, "A general framework for bounds for higher-dimensional
/// orthogonal packing problems", Mathematical Methods of Operations Research 60 (2004); the third
/// family and the one of most pieces: J. Carlier, F. Clautiaux and A. Moukrim, "New reduction procedures and lower bounds for
/// the two-dimensional bin packing problem", Computers & Operations Research 34 (2007). Both cited
/// from memory.
std::int64_t sheet_cost_bound(const SheetNumbers& numbers, std::int64_t dearest, Effort& effort);

}  // namespace ribbay::detail
