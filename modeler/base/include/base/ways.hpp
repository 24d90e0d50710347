#pragma once

#include "base/vec.hpp"

#include <string>

/// Directions in the words of who builds.
namespace ribbay {

/// A unit direction in the van: "to the rear", "to the left and slightly up" (less than 5 degrees),
/// "up and 37 degrees to the left". With exact numbers: way_text().
std::string van_way_text(Vec3 way);

/// The same by a thing's own sides, as one sees them who stands before its front: "to its back".
/// `front` is the way that its front looks, unit, level, in the van.
std::string own_way_text(Vec3 way, Vec3 front);

}  // namespace ribbay
