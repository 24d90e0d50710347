#pragma once

#include "bodies.hpp"

/// Where gaps matter.
namespace ribbay::detail {

/// What stands on the floor touches the van without a gap having been missed, so "vehicle" in a
/// required gap leaves the floor out; it can still be named by its own id.
bool in_gap_set(const std::string& name, const Body& body);

/// Whether one of the two is on one side of the gap and the other on its other side.
bool is_between(const Gap& gap, const Body& a, const Body& b);

/// Narrow gaps are a builder's concern between modules, towards the van, and around equipment.
/// Inside a module, and in joints, the generator means them; where the file asks for a gap, the gap
/// check answers.
bool watches_narrow_gap(const Scene& scene, const Body& a, const Body& b);

}  // namespace ribbay::detail
