#pragma once

#include "kind.hpp"

namespace ribbay::detail {

/// Makes the parts of a module of kind floor.
ModuleParts make_false_floor(const ModuleRequest& request);

}  // namespace ribbay::detail
