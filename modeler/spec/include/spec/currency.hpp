#pragma once

#include <string_view>

namespace ribbay {

/// True for a code of ISO 4217 that money can be written in: "EUR". Codes of metals, funds and
/// tests are none.
bool is_currency(std::string_view code);

}  // namespace ribbay
