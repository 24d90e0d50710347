#pragma once

#include "layout/layout.hpp"

#include <string>
#include <vector>

namespace ribbay {

/// A hole through the van's floor, as its drawing and the steps of assembly call it.
struct FloorHole {
  std::string name;  ///< "H1"
  FloorBolt bolt;
};

/// From the rear forwards, each from the right to the left; named in that order.
std::vector<FloorHole> floor_holes(const Layout& layout);

}  // namespace ribbay
