#pragma once

#include "base/finding.hpp"

#include <string>
#include <vector>

/// Texts for messages.
namespace ribbay::detail {

/// "oak, birch, ..." up to a length that is worth reading; "-" when there are none.
std::string short_list(const std::vector<std::string>& words);

/// "galley.toml:12"
std::string place_text(const Place& place);

}  // namespace ribbay::detail
