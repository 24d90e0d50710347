#pragma once

#include "base/vec.hpp"

#include <vector>

namespace ribbay {

/// The corners of the convex hull of at least three points, counter-clockwise (Andrew's monotone
/// chain).
std::vector<Vec2> convex_hull(std::vector<Vec2> points);

}  // namespace ribbay
