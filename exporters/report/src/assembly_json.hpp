#pragma once

#include "assembly/assembly.hpp"
#include "json_values.hpp"

namespace ribbay::detail {

/// The order of assembly, unit by unit: see params/report.schema.json.
Json assembly_json(const Layout& layout, const AssemblyPlan& plan);

}  // namespace ribbay::detail
