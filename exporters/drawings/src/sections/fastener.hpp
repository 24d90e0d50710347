#pragma once

#include "layout/layout.hpp"

#include <cmath>

namespace ribbay::detail {

/// True of a bolt or screw whose axis lies across `normal`: a plane of that normal does not cut it.
inline bool lies_across(const Layout& layout, const Part& part, Vec3 normal) {
  if (part.kind != PartKind::hardware || !layout.catalogue || part.shape->prisms.empty() ||
      !layout.catalogue->bolts.contains(part.stock.key))
    return false;
  const Vec3 axis = part.frame.direction(part.shape->prisms.front().frame.z);
  return std::abs(dot(axis, normal)) < 0.02;
}

}  // namespace ribbay::detail
