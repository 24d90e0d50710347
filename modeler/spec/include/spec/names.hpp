#pragma once

#include <string>
#include <string_view>

namespace ribbay {

/// True for the names that builders may give: small letters, digits and _, a letter first.
bool is_name(std::string_view name);

/// A right name made from a wrong one: "Left Door" gives "left_door"; empty when nothing is left.
std::string mended_name(std::string_view name);

}  // namespace ribbay
