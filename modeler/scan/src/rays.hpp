#pragma once

#include "base/vec.hpp"
#include "scan/mesh.hpp"
#include "scan/slice.hpp"

#include <optional>
#include <utility>
#include <vector>

namespace ribbay::detail {

/// The surface cut by a plane across the van: segments in y and z.
struct Cut {
  double dx = 0.0;  ///< from the station
  std::vector<std::pair<Vec2, Vec2>> segments;
};

/// Cuts around one station, evenly spread over plus and minus `half`.
std::vector<Cut> cuts_around(const ScanMesh& mesh, double x, double half);

/// Which way rays go: from the centre plane to a wall, or from the floor up on one side of it.
enum class Aim { left, right, up_left, up_right };

/// What rays see around one place: `at` is the height of rays that go sideways, or the distance
/// from the centre line of those that go up.
struct Window {
  double at = 0.0;
  double half = 15.0;
  double least = 8.0;  ///< rows below it would run along the floor
  std::vector<const Cut*> cuts;
};

struct Seen {
  double value = 0.0;   ///< how far out the surface lies at the middle of the window
  double below = 0.0;   ///< its slope (value by `at`) on the side of smaller `at`
  double above = 0.0;   ///< and on the other
  double spread = 0.0;  ///< 95 of 100 hits lie within it
};

/// The outermost surface that persists, or nullopt where too little is hit.
std::optional<Seen> look(const Window& window, Aim aim);

}  // namespace ribbay::detail
