#include "bow_handle.hpp"

#include <algorithm>

namespace ribbay::detail {

std::vector<Hole> handle_holes(const Handle& handle, const HandlePlace& place) {
  std::vector<Hole> holes;
  for (const double side : {-0.5, 0.5}) {
    holes.push_back({.at = place.middle + place.along * (side * handle.hole_spacing),
                     .direction = -place.out,
                     .diameter = handle.hole_diameter,
                     .depth = place.thickness,
                     .through = true,
                     .role = BoreRole::handle,
                     .thread = {}});
  }
  return holes;
}

std::string add_handle(Workshop& shop, const Handle& handle, const HandlePlace& place) {
  // Two feet about the screws and a grip over them; in its own axes x runs along it, z stands out.
  const double half = handle.width / 2;
  const double grip = std::min(handle.width, handle.projection / 2);
  Shape bow = box_shape({-handle.length / 2, -half, handle.projection - grip},
                        {handle.length / 2, half, handle.projection});
  for (const double side : {-0.5, 0.5}) {
    const double x = side * handle.hole_spacing;
    const Shape foot = box_shape({x - half, -half, 0}, {x + half, half, handle.projection - grip});
    bow.prisms.insert(bow.prisms.end(), foot.prisms.begin(), foot.prisms.end());
  }
  const std::string id = shop.add_hardware(place.name, place.title, handle.key, {}, std::move(bow),
                                           frame_zx(place.middle, place.out, place.along),
                                           handle.mass_kg, {place.board});
  shop.join("joint." + place.name, "handle", {shop.id(place.board)}, {id});
  return id;
}

}  // namespace ribbay::detail
