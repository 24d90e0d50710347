#pragma once

#include "command_line.hpp"
#include "size_input.hpp"

#include <string>

namespace ribbay::detail {

/// What a search has found, for the screen: the value, both sides of the limit, and what was looked
/// at.
std::string size_page(const Command& command, const SizeOrder& order, const SizeFound& found);

/// The same for programs: `value` and the rest are bare numbers in `unit`; null where there is none.
std::string size_json(const Command& command, const SizeOrder& order, const SizeFound& found);

}  // namespace ribbay::detail
