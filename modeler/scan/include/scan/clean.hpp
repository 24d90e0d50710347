#pragma once

#include "base/box.hpp"
#include "scan/mesh.hpp"

#include <cstddef>
#include <vector>

namespace ribbay {

/// What clean() takes for a stray: a separate piece of surface that is small in both ways. A wall
/// scanned in patches keeps its patches.
struct StrayLimits {
  double share = 0.005;  ///< of the whole area, at most
  double size = 250.0;   ///< diagonal of its bounds, at most, mm
};

struct CleanedScan {
  ScanMesh mesh;
  std::size_t welded = 0;      ///< points that repeated another
  std::size_t degenerate = 0;  ///< triangles without area
  std::size_t duplicate = 0;   ///< triangles on the same three points as another
  std::size_t strays = 0;      ///< separate pieces that were left out
  std::size_t stray_triangles = 0;
};

/// Welds points that are equal, drops triangles without area, repeated ones and strays. Points and
/// triangles keep their order.
CleanedScan clean(ScanMesh mesh, const StrayLimits& limits = {});

/// A closed run of edges that only one triangle has.
struct Hole {
  Box box;
  double rim = 0.0;  ///< length of its edge, mm
};

/// Every rim of the surface, longest first: holes, and the edges where the surface ends.
std::vector<Hole> rims(const ScanMesh& mesh);

}  // namespace ribbay
