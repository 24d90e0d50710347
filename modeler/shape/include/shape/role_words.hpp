#pragma once

#include "shape/shape.hpp"

#include <string_view>

namespace ribbay {

/// What a bore is for, in words: "end tap".
std::string_view name(BoreRole role);

}  // namespace ribbay
