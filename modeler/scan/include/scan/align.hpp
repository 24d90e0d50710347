#pragma once

#include "base/frame.hpp"
#include "base/result.hpp"
#include "scan/mesh.hpp"

#include <optional>

namespace ribbay {

/// Points picked on the scan, in its own axes, mm.
struct PickedPoints {
  Vec3 sill_left;                   ///< where the floor ends behind, on the left
  Vec3 sill_right;                  ///< the same distance from the centre line on the right
  std::optional<Vec3> floor_front;  ///< on the floor and the centre line, far in front
  double sill_x = 0.0;              ///< x of the two sill points in van axes
};

/// How the van lies in the scan.
struct Alignment {
  Frame frame;               ///< maps van axes to those of the scan
  double floor_noise = 0.0;  ///< root mean square distance of the floor from its plane, mm
  double floor_area = 0.0;   ///< of the triangles that the plane was fitted to, mm2
  double picks_off = 0.0;    ///< largest distance of a picked point from that plane, mm
  /// How much further in front the left sill point lies than the right one, mm; 0 without a front
  /// point, which alone can tell.
  double sill_skew = 0.0;
};

/// Finds the van axes (ISO 8855: x forward, y left, z up; origin on the floor, on the centre line,
/// at the rear sill). The origin lies midway between the sill points. With a front point the floor
/// starts as the plane through all three and the centre line runs to it. Without one, the plane
/// turns about the line of the sill points to where most of the surface agrees, and the centre line
/// stands square on that line; up and forward are where the rest of the scan lies. The floor is
/// then fitted to the surface around it by least squares that forgive outliers (Tukey's biweight).
///
/// Errors, without a place: "scan.picked_points" (in one line, or nearer than 200 mm),
/// "scan.no_floor" (less than 0.2 m2 of surface lies there).
Result<Alignment> align(const ScanMesh& mesh, const PickedPoints& picked);

/// Brings the scan to van axes.
void move_to_van(ScanMesh& mesh, const Frame& van_in_scan);

}  // namespace ribbay
