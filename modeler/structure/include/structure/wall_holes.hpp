#pragma once

#include "layout/layout.hpp"

#include <string>
#include <vector>

namespace ribbay {

/// Where a screw or bolt goes into a rib or a bow, as its drawing and the steps of assembly call
/// it.
struct WallHole {
  std::string name;    ///< "W1"
  std::string module;  ///< name, of the bolt or screw
  int place = 0;       ///< 0 left, 1 right, 2 roof
  Vec3 at;             ///< of its tip, in the van
  const Bolt* bolt = nullptr;
  double deep = 0.0;      ///< how far it goes into the rib or bow
  std::string into;       ///< name of the rib or bow
  std::string held;       ///< title of the part that it holds; or empty
  std::string rivet_nut;  ///< thread of the rivet nut that it takes there; or empty
};

/// By place, each from the rear forwards and from below upwards or from right to left; named in
/// that order. The bolts are the catalogue's.
std::vector<WallHole> wall_holes(const Layout& layout);

}  // namespace ribbay
