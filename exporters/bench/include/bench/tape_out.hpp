#pragma once

#include "bench/bench_options.hpp"
#include "drawings/drawings.hpp"

#include <string>
#include <vector>

namespace ribbay {

/// A place that a tape can be held to.
struct TapePoint {
  std::string name;  ///< "A", or the number of a corner that stands already
  std::string what;  ///< "Rear doorway, left edge"
  Vec3 at;           ///< in the van, at the height of the tape
};

/// A corner of a module, by its distances from two points.
struct TapedCorner {
  int number = 0;
  Vec3 at;                        ///< in the van
  std::string of;                 ///< title of the part whose corner it is
  std::vector<TapePoint> points;  ///< two, or none where no two can be reached
};

/// The footprint of a module: corners counter-clockwise from the rear right one, seen from above.
/// Each is the corner of a part that stands there, rounded edges taken as sharp.
struct TapedModule {
  std::string module;
  std::string title;
  double height = 0.0;  ///< of what lies lowest, above the floor, mm
  /// Its corners are marked on the floor, below where they will be: at its height no tape reaches
  /// them.
  bool plumbed = false;
  std::vector<TapedCorner> corners;
  std::vector<std::vector<Vec2>> outlines;  ///< of its parts at its lowest edge, seen from above
};

/// A module that stands in another or on it: from the outer faces of that one to its own, mm.
struct HostedModule {
  std::string module;
  std::string title;
  std::string host;     ///< name of the other module
  double height = 0.0;  ///< of what lies lowest, above the floor
  double rear = 0.0;
  double front = 0.0;
  double right = 0.0;
  double left = 0.0;
};

/// How the modules that stand on the floor or hang on the van are placed by tape: what is plumbed
/// first, then the lowest first, else in the order of the file. Those before stand already. A tape
/// runs straight, just above the lowest edge of the module, through nothing of the van and of what
/// stands. Points are the edges of the doorways, the ends of a bulkhead, and the corners of modules
/// before; of all pairs the one is taken that places the corner best (near to a right angle,
/// short). What stands in another module is placed from that one (hosted_modules()). A module none
/// of whose corners is reached (a ceiling) is marked on the floor before anything stands, and
/// plumbed up.
std::vector<TapedModule> taped_modules(const Layout& layout);

/// What is not taped from the van, in the order of the file.
std::vector<HostedModule> hosted_modules(const Layout& layout);

/// Pages with plan and table of taped_modules(), one set for each height, what is plumbed first.
/// Empty without a vehicle.
std::vector<SetPage> tape_out(const Layout& layout, const BenchOptions& options = {});

}  // namespace ribbay
