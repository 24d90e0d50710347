#pragma once

#include "drawings/dimension.hpp"
#include "drawings/panel_study.hpp"
#include "page_set.hpp"

#include <algorithm>

namespace ribbay::detail {

/// A panel with all that its page will show; filled by plan_panel().
struct PanelPlan {
  const PageSet& set;
  const PartType& type;
  const Part& part;
  PanelStudy panel;
  DimensionStyle style;
  bool holes_tabled = false;
  bool cuts_tabled = false;
  bool corners_tabled = false;
  std::vector<HoleSeries> series;
  std::vector<std::string> notes;
  AxisPlan across{ViewSide::bottom, 0.0, 0.0, true, {}};
  AxisPlan up{ViewSide::left, 0.0, 0.0, true, {}};
  std::vector<Table> tables;

  double tables_height() const {
    double sum = 0.0;
    for (const Table& t : tables) sum += t.total_height() + 4.0;
    return sum;
  }
  double tables_width() const {
    double widest = 0.0;
    for (const Table& t : tables) widest = std::max(widest, t.width());
    return widest;
  }
};

/// Decides what stands beside the views and what in tables.
PanelPlan plan_panel(const PageSet& set, const PartType& type, const Attempt& attempt);

}  // namespace ribbay::detail
