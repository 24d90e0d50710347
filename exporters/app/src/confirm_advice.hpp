#pragma once

#include "clearance/clearance.hpp"
#include "layout/project.hpp"

#include <string>
#include <vector>

namespace ribbay::detail {

/// Tries the remedy of every blocked drawer that names one: lays the project out again with the
/// parameter enlarged by the shift (rounded up to a whole mm), checks it, and only when the drawer
/// then opens and nothing else broke adds `value`, the parameter's new value, to the drawer's
/// finding, so that its advice is printed. `settings` are the overrides that `inputs` were read with.
void confirm_advice(const std::string& file, const Inputs& inputs,
                    const std::vector<std::string>& settings, ClearanceResult& result, int jobs,
                    Memo& memo);

}  // namespace ribbay::detail
