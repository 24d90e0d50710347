#pragma once

#include "base/result.hpp"
#include "shape/pieces.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace ribbay {

/// A closed surface of triangles, counter-clockwise seen from outside: a body that was drawn
/// elsewhere. Made by close_mesh() only, which has checked it; immutable and shared from then on.
struct ClosedMesh {
  using Triangle = std::array<std::uint32_t, 3>;  ///< indices into `points`
  std::vector<Vec3> points;                       ///< mm, each once
  std::vector<Triangle> triangles;
  Pieces pieces;      ///< convex, fill the body exactly but for rounding (kFlat)
  double volume = 0;  ///< mm3
  Vec3 centroid;
  Box box;
  std::string digest;  ///< of points and triangles: the same text for the same surface

  std::array<Vec3, 3> corners(const Triangle& t) const {
    return {points[t[0]], points[t[1]], points[t[2]]};
  }
  /// Unit, outward; nullopt of a triangle whose corners lie in a line.
  std::optional<Vec3> normal(const Triangle& t) const;
};

/// Stated limits: more is an error, never a hang or gigabytes.
struct ClosedMeshLimits {
  std::size_t triangles = 8'000;
  std::size_t pieces = 3'000;
};

/// Points nearer than this to a plane lie in it: files keep single-precision numbers, and a tenth
/// of a micrometre is far below kContact, mm.
inline constexpr double kFlat = 1e-4;

/// Checks a surface and makes a body of it. Points at the same place become one; a surface that is
/// inside out as a whole is turned.
///
/// Errors, without a place: "import.too_many" triangles, "import.not_closed", "import.no_volume",
/// "import.too_intricate" (too many convex pieces), "import.overlaps" (bodies of the file run into
/// each other, or the surface into itself).
Result<std::shared_ptr<const ClosedMesh>> close_mesh(std::vector<Vec3> points,
                                                     std::vector<ClosedMesh::Triangle> triangles,
                                                     const ClosedMeshLimits& limits = {});

}  // namespace ribbay
