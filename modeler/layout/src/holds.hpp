#pragma once

#include "kind.hpp"

#include <optional>
#include <string>
#include <vector>

/// The equipment that a place in a module holds: one item, or candidates of which one is built.
/// Every kind that holds equipment asks for it in this way, so that the program can try candidates
/// wherever they stand.
namespace ribbay::detail {

/// `item` and `candidates`, for the schema of a place that holds equipment.
std::vector<Field> held_item_fields(std::string meaning = "what stands there");
/// The same, followed by the other fields of the place.
std::vector<Field> held_item_fields(std::string meaning, std::vector<Field> others);

/// The field that says what the place holds, for messages: "item", or "candidates" without one.
const char* held_item_field(const Record& held);

/// What the place holds: `item`, or else the first of `candidates` (the program sets `item` to the
/// one that fits). Nullptr, with a finding about `id`: "holds.nothing", "holds.unknown",
/// "holds.not_listed" of an item that is no candidate.
const Equipment* held_item(const ModuleRequest& request, const Record& held, const std::string& id,
                           Findings& findings);

/// The same for a module that is a place itself, before its record is complete and without findings.
const Equipment* held_item(const EarlyFields& early);

}  // namespace ribbay::detail
