#pragma once

#include "vehicle/vehicle.hpp"

namespace ribbay::detail {

/// True for the top-level tables that stand once in a vehicle file; the others hold named tables.
bool stands_once(std::string_view table);

}  // namespace ribbay::detail
