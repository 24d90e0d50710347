#pragma once

#include "vehicle/vehicle.hpp"

namespace ribbay::detail {

/// The schema of one top-level table of a vehicle file.
SchemaPtr vehicle_schema_of(std::string_view table);

}  // namespace ribbay::detail
