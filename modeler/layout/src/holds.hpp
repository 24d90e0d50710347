#pragma once

#include "kind.hpp"

#include <string>
#include <vector>

/// The equipment that a place in a module holds: one item, or candidates of which one is built.
namespace ribbay::detail {

/// `item` and `candidates`, for the schema of a place that holds equipment.
std::vector<Field> held_item_fields();

/// What the place holds: `item`, or else the first of `candidates` (the program sets `item` to the
/// one that fits). Nullptr, with a finding about `id`, when there is neither or no such equipment.
const Equipment* held_item(const ModuleRequest& request, const Record& held, const std::string& id,
                           Findings& findings);

}  // namespace ribbay::detail
