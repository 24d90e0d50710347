#include "box_sight.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

constexpr int kPerSide = 4;
constexpr double kHair = 1e-3;  // mm: a box that only touches the line of sight does not hide

/// True when the line from `p` towards the eye runs through the box.
bool hides(const Box& box, Vec3 p, Vec3 eye) {
  double from = 0.0;
  double to = 1e300;
  for (int axis = 0; axis < 3; ++axis) {
    if (std::abs(eye[axis]) < 1e-9) {
      if (p[axis] <= box.lo[axis] + kHair || p[axis] >= box.hi[axis] - kHair) return false;
      continue;
    }
    const double a = (box.lo[axis] - p[axis]) / eye[axis];
    const double b = (box.hi[axis] - p[axis]) / eye[axis];
    from = std::max(from, std::min(a, b));
    to = std::min(to, std::max(a, b));
  }
  return from + kHair < to;
}

}  // namespace

Sight sight_of(const Box& box, Vec3 eye, const std::vector<const Box*>& others) {
  Sight sight;
  const Vec3 size = box.size();
  for (int face = 0; face < 3; ++face) {
    if (std::abs(eye[face]) < 1e-9) continue;
    const double area = size[(face + 1) % 3] * size[(face + 2) % 3];
    int seen = 0;
    for (int i = 0; i < kPerSide * kPerSide; ++i) {
      Vec3 p = box.lo;
      p[face] = eye[face] > 0.0 ? box.hi[face] : box.lo[face];
      p[(face + 1) % 3] += (i % kPerSide + 0.5) / kPerSide * size[(face + 1) % 3];
      p[(face + 2) % 3] += (i / kPerSide + 0.5) / kPerSide * size[(face + 2) % 3];
      if (std::ranges::none_of(others, [&](const Box* other) { return hides(*other, p, eye); }))
        ++seen;
    }
    sight.turned += area;
    sight.seen += area * seen / (kPerSide * kPerSide);
  }
  return sight;
}

}  // namespace ribbay::detail
