#pragma once

#include <string_view>

namespace ribbay::detail {

/// Texts of this folder that the build puts into the program (cmake/ribbay_embed.cmake).
std::string_view reference_text(std::string_view file);

}  // namespace ribbay::detail
