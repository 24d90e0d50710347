#pragma once

#include <string_view>

namespace ribbay::detail {

/// Files of params/ that the build puts into the program (cmake/ribbay_embed.cmake); empty when
/// there is none of that name.
std::string_view starter_text(std::string_view file);

}  // namespace ribbay::detail
