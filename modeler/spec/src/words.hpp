#pragma once

#include "base/finding.hpp"

#include <string>
#include <vector>

/// Texts for messages.
namespace ribbay::detail {

/// "oak, birch, ..." up to a length that is worth reading; "-" when there are none.
std::string short_list(const std::vector<std::string>& words);

/// A reference names the table, and perhaps the purpose, of what may stand there: "bolt", or
/// "bolt: wood screw". The table is "bolt"; the noun is "wood screw".
std::string table_of_reference(const std::string& refers_to);
std::string noun_of_reference(const std::string& refers_to);

/// "galley.toml:12"
std::string place_text(const Place& place);

}  // namespace ribbay::detail
