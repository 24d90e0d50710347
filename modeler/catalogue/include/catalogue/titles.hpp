#pragma once

#include "catalogue/catalogue.hpp"

#include <string>
#include <string_view>

namespace ribbay {

/// What the catalogue calls a thing that can be bought, whatever its kind; `key` itself when it does
/// not know it. Materials are not bought.
std::string stock_title(const Catalogue& catalogue, std::string_view key);

}  // namespace ribbay
