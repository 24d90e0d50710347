#pragma once

#include "base/box.hpp"

#include <vector>

namespace ribbay::detail {

/// Areas of the faces of a box that are turned to the eye, mm2.
struct Sight {
  double seen = 0.0;    ///< what no other box hides of them
  double turned = 0.0;  ///< all of them
};

/// What is seen of a box: `eye` points towards the eye, of any length. Asked at some points of each
/// face.
Sight sight_of(const Box& box, Vec3 eye, const std::vector<const Box*>& others);

}  // namespace ribbay::detail
