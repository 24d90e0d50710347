#pragma once

#include "base/vec.hpp"

#include <string_view>

namespace ribbay {

/// The way that a module's front looks, unit, in the van, from its word: "rear", "front", "left",
/// "right". What says nothing looks to the rear.
inline Vec3 front_way(std::string_view front) {
  if (front == "front") return {1, 0, 0};
  if (front == "left") return {0, 1, 0};
  if (front == "right") return {0, -1, 0};
  return {-1, 0, 0};
}

}  // namespace ribbay
