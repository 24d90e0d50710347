#pragma once

#include "workshop.hpp"

#include <string>
#include <vector>

namespace ribbay::detail {

/// Where a bow handle sits on the face of a board.
struct HandlePlace {
  std::string name;
  std::string title;
  Vec3 middle;             ///< between its screws, on the face
  Vec3 out;                ///< unit: away from the board
  Vec3 along;              ///< unit: the way it reaches, on the face
  std::string board;       ///< that it is screwed to
  double thickness = 0.0;  ///< of that board
};

/// Holes for the screws of a handle, from its face through a board.
std::vector<Hole> handle_holes(const Handle& handle, const HandlePlace& place);
/// Adds the handle with the joint that holds it; its screws come with it. Returns its id.
std::string add_handle(Workshop& shop, const Handle& handle, const HandlePlace& place);

}  // namespace ribbay::detail
