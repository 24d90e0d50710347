#pragma once

#include "shape/pieces.hpp"

#include <optional>
#include <utility>

namespace ribbay {

/// Where a line from `at` enters and leaves a piece, in lengths of `direction`; nullopt when it
/// passes by.
std::optional<std::pair<double, double>> crossing(const ConvexPiece& piece, Vec3 at, Vec3 direction);

}  // namespace ribbay
