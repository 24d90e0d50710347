#pragma once

#include "catalogue/catalogue.hpp"

namespace ribbay::detail {

/// The first thing of an equipment that has no image in the plane through the middle of its main
/// body, in words: "box 2", "air"; empty when all have one.
std::string without_image(const Equipment& item);

}  // namespace ribbay::detail
