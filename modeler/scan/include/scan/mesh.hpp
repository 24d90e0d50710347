#pragma once

#include "base/box.hpp"
#include "base/vec.hpp"

#include <array>
#include <cstdint>
#include <vector>

namespace ribbay {

/// A surface of triangles that share their corners. Scans are open, torn and noisy: nothing is
/// promised about how the triangles meet.
struct ScanMesh {
  using Triangle = std::array<std::uint32_t, 3>;  ///< indices into `points`
  std::vector<Vec3> points;                       ///< mm
  std::vector<Triangle> triangles;

  std::array<Vec3, 3> corners(const Triangle& t) const {
    return {points[t[0]], points[t[1]], points[t[2]]};
  }
};

Box bounds(const ScanMesh& mesh);

/// Half the cross product of two sides: its length is the area, its direction the normal by the
/// right-hand rule.
inline Vec3 area_vector(const std::array<Vec3, 3>& t) {
  return cross(t[1] - t[0], t[2] - t[0]) * 0.5;
}

}  // namespace ribbay
