#pragma once

#include "sample_scans.hpp"

#include <numbers>

namespace ribbay::tests {

/// How the scanner of params/vehicles/long_mid_scan.glb saw the van: y up, as glTF has it, turned
/// by 25 degrees, begun somewhere beside the driver's seat.
inline Frame committed_scanner() {
  const double turn = 25.0 * std::numbers::pi / 180.0;
  return frame_zx({-1210, -640, 2930}, {0, 1, 0}, {std::sin(turn), 0, -std::cos(turn)});
}

/// The scan in that file: the long middle van with 1 mm of noise, holes and specks.
inline ScanMesh committed_scan() {
  Chance chance(20261125);
  return scan_of(long_mid(), 38, {.noise = 1.0, .holes = 6, .strays = 8}, committed_scanner(),
                 chance);
}

inline constexpr const char* kCommittedScan =
    RIBBAY_SOURCE_DIR "/params/vehicles/long_mid_scan.glb";

}  // namespace ribbay::tests
