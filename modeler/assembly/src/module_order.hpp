#pragma once

#include "assembly/assembly.hpp"
#include "stage.hpp"

#include <vector>

namespace ribbay::detail {

/// A module, and those that go in before it.
struct OrderedModule {
  const Module* module = nullptr;
  std::vector<AfterModule> after{};  ///< file order
};

/// The modules in the order in which they are built in: what another one stands on or is fixed to
/// comes before it; then what it would cover the fixings of, or stand in the way of; else the order
/// of the file. Where two ask for each other, the stronger reason decides, then the file.
std::vector<OrderedModule> module_order(const Workbench& bench);

}  // namespace ribbay::detail
