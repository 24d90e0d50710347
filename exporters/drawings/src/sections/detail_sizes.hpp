#pragma once

#include "drawings/dimension.hpp"
#include "sections/details.hpp"

#include <set>
#include <string>
#include <vector>

/// Sizes that only a section shows: how deep one part sits in another, and how thick both are
/// there.
namespace ribbay::detail {

/// Those of the joint nearest to the middle of a detail, whose circle has a radius of `radius` mm
/// in the van and stands at `place` on paper: depth below, thickness of what enters at its own
/// side, of what it enters at the other axis. Only what lies in the circle counts; what is already
/// in `given` is left out, and what is taken is added to it.
std::vector<LinearDimension> detail_sizes(const Layout& layout, const Section& section,
                                          const DetailPlace& detail, double radius,
                                          const ViewPlace& place, std::set<std::string>& given);

}  // namespace ribbay::detail
