#pragma once

#include "shape/shape.hpp"

#include <string>

namespace ribbay {

/// What a bore is for, in words: "end tap".
std::string name(BoreRole role);

}  // namespace ribbay
