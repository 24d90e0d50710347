#include "labels/qr_code.hpp"

#include <qrencode.h>

#include <memory>
#include <string>

namespace ribbay {

std::optional<QrCode> qr_code(std::string_view text) {
  constexpr int kLargest = 57;  // version 10
  constexpr unsigned char kDark = 1;
  const std::string words(text);
  const std::unique_ptr<QRcode, decltype(&QRcode_free)> made(
      QRcode_encodeString8bit(words.c_str(), 0, QR_ECLEVEL_M), QRcode_free);
  if (!made || made->width > kLargest) return std::nullopt;
  QrCode code{.side = static_cast<std::size_t>(made->width), .dark = {}};
  for (std::size_t i = 0; i < code.side * code.side; ++i)
    code.dark.push_back((made->data[i] & kDark) != 0);
  return code;
}

}  // namespace ribbay
