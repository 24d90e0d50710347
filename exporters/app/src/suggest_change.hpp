#pragma once

#include "clearance/clearance.hpp"
#include "layout/project.hpp"

#include <string>
#include <vector>

namespace ribbay::detail {

/// Looks, for what runs into each other, for one length of the files that mends it when it is made
/// a little larger or smaller: of the modules on both sides, and of the named values that their
/// fields use. Each change is as small as the clash is deep, in whole mm, and is told as a note
/// ("advice.change") only when a rerun has shown that the clash is gone and no other error came up.
/// Where a drawer or door opens with bare parts and does not with their finishes, these are told as
/// the cause ("advice.finish"). `settings` are the overrides that `inputs` were read with, and
/// `layout` what they were laid out as.
Findings suggest_changes(const std::string& file, const Inputs& inputs,
                         const std::vector<std::string>& settings, const Layout& layout,
                         const ClearanceResult& result, int jobs, Memo& memo);

}  // namespace ribbay::detail
