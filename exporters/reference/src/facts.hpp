#pragma once

#include "spec/dimension.hpp"

#include <string>
#include <utility>
#include <vector>

namespace ribbay::detail {

/// The facts that expressions may name behind "vehicle.", with NAME where the vehicle file gives
/// the name: "floor_width", "station.NAME.x". Those of a sample van that has one of everything;
/// sorted.
std::vector<std::pair<std::string, Dimension>> fact_patterns();

}  // namespace ribbay::detail
