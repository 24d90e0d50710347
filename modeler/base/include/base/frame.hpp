#pragma once

#include "base/vec.hpp"

namespace ribbay {

/// A rigid placement: axes `x`, `y`, `z` are orthonormal and right-handed (determinant +1), never mirrored.
/// Maps local coordinates to those of whatever holds the frame. Millimetres.
///
/// Van axes as in ISO 8855: x forward, y left, z up. The origin lies on the floor surface, on the centre
/// line, at the rear edge of the load floor.
struct Frame {
  Vec3 origin;
  Vec3 x{1, 0, 0};
  Vec3 y{0, 1, 0};
  Vec3 z{0, 0, 1};
  friend constexpr bool operator==(const Frame&, const Frame&) = default;

  constexpr Vec3 direction(Vec3 v) const { return x * v.x + y * v.y + z * v.z; }
  constexpr Vec3 point(Vec3 p) const { return origin + direction(p); }
  constexpr Vec3 local_direction(Vec3 v) const { return {dot(x, v), dot(y, v), dot(z, v)}; }
  constexpr Vec3 local_point(Vec3 p) const { return local_direction(p - origin); }
};

/// `inner` is given in the coordinates of `outer`; the result maps straight to where `outer` maps.
constexpr Frame operator*(const Frame& outer, const Frame& inner) {
  return {outer.point(inner.origin), outer.direction(inner.x), outer.direction(inner.y),
          outer.direction(inner.z)};
}

/// A frame at `origin` from its z and x axes, which must be orthogonal unit vectors.
constexpr Frame frame_zx(Vec3 origin, Vec3 z, Vec3 x) { return {origin, x, cross(z, x), z}; }

}  // namespace ribbay
