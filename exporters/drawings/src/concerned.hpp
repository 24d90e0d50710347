#pragma once

#include "base/finding.hpp"
#include "scene.hpp"
#include "vehicle/vehicle.hpp"

#include <string>
#include <vector>

/// What a finding is about, as bodies that stand somewhere.
namespace ribbay::detail {

struct Concerned {
  std::string name;               ///< as the finding names it, with its title
  std::vector<PlacedPart> parts;  ///< where they are when it happens
  std::vector<PlacedPart> shut;   ///< where they are laid out, when that is elsewhere
  std::vector<VehicleBody> van;   ///< ribs, arches, bows, leaves
  bool shell = false;             ///< walls, roof, floor
  const Zone* zone = nullptr;
  Box box;  ///< of parts, bodies and zone; empty for the shell
};

/// One for each subject that is a part, a module, a motion or a body of the van, in their order,
/// and at the end the zone, if one is meant.
std::vector<Concerned> concerned_by(const Layout& layout, const Finding& finding);

}  // namespace ribbay::detail
