#pragma once

#include "stage.hpp"

#include <vector>

namespace ribbay::detail {

/// The modules in the order in which they are built in: what another one stands on or is fixed to
/// comes before it; else the order of the file. Where two ask for each other, the file decides.
std::vector<const Module*> module_order(const Workbench& bench);

}  // namespace ribbay::detail
