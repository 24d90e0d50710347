#pragma once

#include <cstddef>
#include <optional>
#include <string_view>
#include <vector>

namespace ribbay {

/// The modules of a QR code (ISO/IEC 18004) without its quiet zone.
struct QrCode {
  std::size_t side = 0;     ///< modules on each side
  std::vector<bool> dark;   ///< row by row from the upper left
  bool at(std::size_t row, std::size_t column) const { return dark[row * side + column]; }
};

/// Light modules that a QR code must have around it; source: ISO/IEC 18004, from memory.
inline constexpr std::size_t kQuietModules = 4;

/// The smallest code of `text` (bytes, no zeros) that still reads with about 15 % of it damaged
/// (error correction level M). Nullopt when it would have more than 57 modules on a side (version
/// 10): they would be too small for a label.
std::optional<QrCode> qr_code(std::string_view text);

}  // namespace ribbay
