#pragma once

#include "drawings/panel_study.hpp"
#include "drawings/views.hpp"

#include <string>
#include <vector>

/// Corners of an outline that lie too near each other for their names, as around a small notch:
/// drawn again at a larger scale.
namespace ribbay::detail {

/// Corners one after the other; what begins before the last one may end after the first.
struct CornerGroup {
  std::size_t first = 0;
  std::size_t count = 0;
  std::size_t of = 0;  ///< all corners
  std::size_t at(std::size_t i) const { return (first + i) % of; }
};

/// Three and more that lie together on a page of this scale.
std::vector<CornerGroup> corner_groups(const std::vector<CornerMark>& corners, double scale);

/// "C5", as tables have it.
std::string corner_name(std::size_t index);
/// "C5 – C8".
std::string name_of(const CornerGroup& group);

struct CornerDetail {
  std::string letter;
  CornerGroup group;
  int alike = 0;  ///< more of the same shape, turned or mirrored
  Vec2 at;        ///< from the lower left corner of the blank, as the corners
  double radius = 0.0;
  double scale = 0.0;
};

/// One for each shape of groups that a larger scale tells apart.
std::vector<CornerDetail> corner_details(const PanelStudy& panel, double scale);

/// Circles with letters on the view of the face. False when one finds no room.
bool add_corner_marks(Drawing& d, const std::vector<CornerDetail>& details, const ViewPlace& face);

/// The details with their corners named, on free spots of the area. False when one finds none.
bool add_corner_details(Drawing& d, const Part& part, const PanelStudy& panel,
                        const std::vector<CornerDetail>& details, const Rect& area);

}  // namespace ribbay::detail
