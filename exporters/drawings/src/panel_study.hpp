#pragma once

#include "drawings/sheet.hpp"
#include "drawings/visible_lines.hpp"
#include "hole_series.hpp"
#include "layout/layout.hpp"

#include <string>
#include <vector>

/// A panel as its drawing sees it: square on, measured from the lower left corner of its blank.
namespace ribbay::detail {

struct CutMark {
  Rect area;  ///< inside the panel
  CutRole role = CutRole::dado;
  double depth = 0.0;
  bool through = false;
  bool front = true;    ///< worked from the face shown
  double radius = 0.0;  ///< of its corners, when they are rounded
  std::string id;
};

struct CornerMark {
  Vec2 at;
  double radius = 0.0;
};

struct PanelStudy {
  ViewFrame view;       ///< in shape coordinates, looking at face A
  Rect picture;         ///< of the blank, in the view
  bool turned = false;  ///< its length runs upwards
  std::vector<CutMark> cuts;
  std::vector<PanelHole> holes;
  std::vector<CornerMark> corners;  ///< of the outline, when it is no plain rectangle
  double thickness = 0.0;
  double width() const { return picture.width(); }
  double height() const { return picture.height(); }
};

/// Face A is the face of the sheet, or its back when most of the work is there.
PanelStudy study_panel(const Part& part, bool turned);

/// "Dado, 6 deep", "Cut-out through, R20", "Groove, 4 deep, far face".
std::string cut_text(const CutMark& cut, LengthStyle show);

Table cut_table(const std::vector<CutMark>& cuts, LengthStyle show);
Table hole_table(const std::vector<HoleSeries>& series, LengthStyle show);
Table corner_table(const std::vector<CornerMark>& corners, LengthStyle show);

}  // namespace ribbay::detail
