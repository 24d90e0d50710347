#pragma once

#include <string>
#include <string_view>

namespace ribbay {

/// The SHA-256 digest of `bytes` as 64 lower-case hex digits. Source: FIPS 180-4,
/// sections 4.1.2, 5.1.1 and 6.2.
std::string sha256(std::string_view bytes);

}  // namespace ribbay
