#pragma once

#include "changes/parts_record.hpp"

/// What is solid in plan, level by level.
namespace ribbay::detail {

/// Whether the piece `fresh` lies wholly inside the material of the piece `old`, both in the same
/// coordinates: at each height of `fresh`, what it needs is there, but for slivers thinner than
/// kContact. Errs on the safe side: old holes count with what encloses them (holes that do not run
/// along z with the box around them), new holes with what they enclose, those that do not run along
/// z not at all. Members have the outline of their section, as far as both share it.
/// `made`: bores of `old` that are the new piece's own, which are in nobody's way.
bool lies_inside(const PartRecord& fresh, const PartRecord& old, const std::vector<bool>& made);

/// Bounds of a bore.
Box bounds_of(const Bore& bore);

}  // namespace ribbay::detail
