#pragma once

#include "drawings/drawing.hpp"
#include "drawings/visible_lines.hpp"
#include "layout/layout.hpp"
#include "page_set.hpp"

#include <map>
#include <optional>
#include <string>
#include <vector>

/// Parts of a layout as bodies of a picture.
namespace ribbay::detail {

/// The four ways to look at something whose front looks to one side of the van.
struct Looks {
  ViewFrame front;
  ViewFrame top;
  ViewFrame side;  ///< from the left in first angle, from the right in third angle
  ViewFrame
      isometric;  ///< from above, in front, and the same side (ISO 5456-3: equal foreshortening)
};
Looks looks_at(const std::string& front, bool first_angle);

struct SceneBodies {
  std::vector<Facets> bodies;
  std::vector<std::size_t> part;  ///< index into Layout::parts of each body
};

/// Facets of parts at the level of detail that a scale can show: features under 0.7 mm on paper,
/// and hardware under 4 mm, are left out. Slots are drawn when their opening shows.
SceneBodies scene_of(const Layout& layout, const std::vector<std::size_t>& parts, double scale);

/// The same with each part somewhere of its own: drawn out, turned, taken apart.
struct PlacedPart {
  std::size_t part;  ///< index into Layout::parts
  Frame frame;       ///< shape to van
};
SceneBodies scene_of(const Layout& layout, const std::vector<PlacedPart>& parts, double scale);

/// Extent of a box seen from somewhere.
Rect seen_box(const Box& box, const ViewFrame& view);

/// A point on a face of the body that is seen, well inside the face; the face with the largest seen
/// area is tried first. Picture coordinates. Nothing when no such point is in sight.
std::optional<Vec2> seen_point(const std::vector<Facets>& bodies, std::size_t body,
                               const ViewFrame& view);

/// The same on one of several bodies, as far as `clear` (mm of the scene) from every line that is
/// drawn, or as far as there is room.
std::optional<Vec2> clear_point(const std::vector<Facets>& bodies,
                                const std::vector<std::size_t>& any_of, const ViewFrame& view,
                                const Drawn& drawn, double clear);

/// Adds the ids of the bodies' parts to the drawing's owners; an index into these for each body.
std::vector<int> owners_of(Drawing& d, const Layout& layout, const SceneBodies& scene);

}  // namespace ribbay::detail
