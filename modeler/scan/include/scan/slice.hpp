#pragma once

#include "scan/mesh.hpp"

#include <cstddef>
#include <vector>

namespace ribbay {

/// Half width of the room at a height on one side, as a scan shows it.
struct ScannedPoint {
  double z = 0.0;
  double half_width = 0.0;
  double uncertainty = 0.0;  ///< 95 of 100 points of the surface around lie within it, mm
  bool seen = false;         ///< false: nothing was scanned there, taken from what lies around
  friend bool operator==(const ScannedPoint&, const ScannedPoint&) = default;
};

/// A cross-section of an aligned scan. Points rise from the floor to the roof; the last one lies
/// near the centre line under the roof.
struct ScannedSection {
  double x = 0.0;
  std::vector<ScannedPoint> left;
  std::vector<ScannedPoint> right;
  bool blind = false;  ///< too little was seen to make a section of
};

/// Where something stands in front of the wall and hides it from the scanner.
struct Hidden {
  bool left = false;
  double from = 0.0;  ///< x
  double to = 0.0;
  double bottom = 0.0;
  double top = 0.0;
};

struct SliceRequest {
  std::vector<double> stations;  ///< x, rising
  std::vector<double> heights;   ///< rising from 0
  std::vector<Hidden> hidden;
};

/// Cuts an aligned scan into sections.
///
/// Around each point planes across the van and rows over the height are laid through the surface.
/// The wall is the outermost surface that at least one ray in five meets: ribs that stand in front
/// of part of it, things in the room and specks behind it do not count. A surface with a bend at
/// the asked height is fitted to what the rays meet (Tukey's biweight) and read at the middle.
/// Where the roof is flatter than about 45 degrees rays go upward instead, and the point keeps the
/// half width and takes the height from the surface. Heights above the roof are left out; the last
/// point is the roof 25 mm beside the centre line.
///
/// Where a window meets nothing it grows once; after that the point is not seen: it is set between
/// its neighbours on the section, or by the shape of the neighbouring sections, and its uncertainty
/// is theirs and 5 mm for each 100 mm to the nearest seen one (a rule of thumb, no source).
std::vector<ScannedSection> slice(const ScanMesh& mesh, const SliceRequest& request);

}  // namespace ribbay
