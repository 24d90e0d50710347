#pragma once

#include <cstddef>
#include <string_view>

namespace ribbay {

/// Offset of the first byte that is not part of well-formed UTF-8 (RFC 3629), or npos.
std::size_t first_bad_utf8(std::string_view bytes);

}  // namespace ribbay
