#pragma once

#include "drawings/sections.hpp"
#include "drawings/views.hpp"

#include <string>
#include <vector>

/// Parts of a section drawn again at a larger scale.
namespace ribbay::detail {

/// A joint or a fold in a section.
struct DetailPlace {
  char letter = 'D';
  std::size_t section = 0;  ///< index into the sections of the page
  Vec2 at;                  ///< in the picture of the section
  std::string kind;         ///< of the joint, or "fold"; several: "dado, screwed"
};

/// Bounds of a cut face, in its section's picture.
Rect bounds_of(const CutFace& face);

/// One place for each kind of joint whose two parts a section cuts side by side, and one for folds,
/// at most `most`, the densest: where most corners of cut faces lie within `radius`, mm. Kinds that
/// lie within one circle share it.
std::vector<DetailPlace> detail_places(const Layout& layout, const Module& module,
                                       const std::vector<Section>& sections, double radius,
                                       std::size_t most);

/// Where a detail stands whose circle has a radius of `radius` mm on paper.
ViewPlace detail_view(const DetailPlace& detail, Vec2 middle, double radius, double scale);

/// `section`, which is drawn at the detail's scale, within a circle; the view is bounded by it.
ViewPlace add_detail(Drawing& d, const Layout& layout, const Section& section,
                     const DetailPlace& detail, Vec2 middle, double radius, double scale);

}  // namespace ribbay::detail
