#pragma once

#include <algorithm>
#include <limits>

#include "base/vec.hpp"

namespace ribbay {

/// An axis-aligned box, `lo` to `hi`, in mm. A fresh box is empty: it grows with add().
struct Box {
  Vec3 lo{std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity(),
          std::numeric_limits<double>::infinity()};
  Vec3 hi{-std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity(),
          -std::numeric_limits<double>::infinity()};
  friend constexpr bool operator==(const Box&, const Box&) = default;

  constexpr bool empty() const { return lo.x > hi.x; }
  constexpr Vec3 size() const { return hi - lo; }
  constexpr Vec3 centre() const { return (lo + hi) * 0.5; }
  constexpr void add(Vec3 p) {
    lo = {std::min(lo.x, p.x), std::min(lo.y, p.y), std::min(lo.z, p.z)};
    hi = {std::max(hi.x, p.x), std::max(hi.y, p.y), std::max(hi.z, p.z)};
  }
  constexpr void add(const Box& other) {
    if (other.empty()) return;
    add(other.lo);
    add(other.hi);
  }
};

/// True when the boxes are closer than `margin` on every axis (touching counts when margin is 0).
constexpr bool near(const Box& a, const Box& b, double margin) {
  return a.lo.x <= b.hi.x + margin && b.lo.x <= a.hi.x + margin && a.lo.y <= b.hi.y + margin &&
         b.lo.y <= a.hi.y + margin && a.lo.z <= b.hi.z + margin && b.lo.z <= a.hi.z + margin;
}

constexpr Box grown(const Box& box, double by) {
  return {box.lo - Vec3{by, by, by}, box.hi + Vec3{by, by, by}};
}

}  // namespace ribbay
