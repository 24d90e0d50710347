#pragma once

#include "base/vec.hpp"
#include "shape/pieces.hpp"

#include <algorithm>
#include <limits>

namespace ribbay::detail {

/// A piece seen along an axis.
struct Extent {
  double lo = std::numeric_limits<double>::infinity();
  double hi = -std::numeric_limits<double>::infinity();
};

inline Extent extent(const ConvexPiece& piece, Vec3 axis) {
  Extent seen;
  for (const Vec3& p : piece.vertices) {
    const double d = dot(p, axis);
    seen.lo = std::min(seen.lo, d);
    seen.hi = std::max(seen.hi, d);
  }
  return seen;
}

/// Edges whose directions differ by less count as parallel: over 10 m that is 1e-4 mm, far below
/// kContact, while the rounding of their cross product stays below 1e-8.
inline constexpr double kParallel = 1e-8;

/// Calls try_axis(unit axis) for each candidate separating axis of a and b until one returns true.
/// Says whether one did.
template <class F>
bool any_axis(const ConvexPiece& a, const ConvexPiece& b, F try_axis) {
  for (const Vec3& n : a.normals) {
    if (try_axis(n)) return true;
  }
  for (const Vec3& n : b.normals) {
    if (try_axis(n)) return true;
  }
  for (const Vec3& e : a.edges) {
    for (const Vec3& f : b.edges) {
      const Vec3 n = cross(e, f);
      const double squared = dot(n, n);
      if (squared < kParallel * kParallel) continue;
      if (try_axis(n * (1.0 / std::sqrt(squared)))) return true;
    }
  }
  return false;
}

}  // namespace ribbay::detail
