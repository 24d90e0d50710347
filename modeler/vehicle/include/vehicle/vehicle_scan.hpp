#pragma once

#include "scan/align.hpp"
#include "scan/mesh.hpp"

#include <string>

namespace ribbay {

/// The scan that a vehicle was read from, cleaned and in van axes.
struct VehicleScan {
  std::string file;
  ScanMesh mesh;
  Alignment alignment;
  double uncertainty = 0.0;  ///< of its points, plus or minus, mm
};

}  // namespace ribbay
