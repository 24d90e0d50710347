#include "layout/floor_holes.hpp"

#include <algorithm>
#include <tuple>

namespace ribbay {

std::vector<FloorHole> floor_holes(const Layout& layout) {
  std::vector<FloorHole> holes;
  for (const FloorBolt& bolt : layout.floor_bolts) holes.push_back({{}, bolt});
  std::ranges::stable_sort(holes, {},
                           [](const FloorHole& h) { return std::tuple(h.bolt.at.x, h.bolt.at.y); });
  for (std::size_t i = 0; i < holes.size(); ++i) holes[i].name = "H" + std::to_string(i + 1);
  return holes;
}

}  // namespace ribbay
