#pragma once

#include "base/vec.hpp"
#include "drawings/visible_lines.hpp"

#include <array>

/// The corners that steps of assembly are looked at from.
namespace ribbay::detail {

/// Directions to the eye from above the four corners of the van: isometric, not unit.
constexpr std::array<Vec3, 4> upper_corners() {
  return {Vec3{-1, -1, 1}, Vec3{-1, 1, 1}, Vec3{1, -1, 1}, Vec3{1, 1, 1}};
}

/// ISO 5456-3: equal foreshortening.
inline ViewFrame isometric(Vec3 towards_eye, Vec3 vertical = {0, 0, 1}) {
  const Vec3 corner = normalized(towards_eye);
  const Vec3 across = normalized(cross(vertical, corner));
  return {across, cross(corner, across)};
}

}  // namespace ribbay::detail
