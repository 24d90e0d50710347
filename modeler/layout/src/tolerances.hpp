#pragma once

#include "layout/tolerances.hpp"
#include "spec/record.hpp"
#include "spec/schema.hpp"

namespace ribbay::detail {

/// The schema of [tolerances].
SchemaPtr tolerances_schema();

Tolerances read_tolerances(const Record& record);

}  // namespace ribbay::detail
