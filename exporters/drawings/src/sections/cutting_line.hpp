#pragma once

#include "drawings/drawing.hpp"

namespace ribbay::detail {

/// Where a cutting plane runs across a view, and which way the section looks there.
struct CuttingLine {
  char letter = 'A';
  bool upright = true;  ///< runs up the page, else across it
  double at = 0.0;      ///< on paper, across the line
  Vec2 look;            ///< unit, on paper
  int tier = 0;         ///< how many others end nearer to the view
};

/// Room that the ends of so many lines take outside of a view, mm; with none, that of the arrows of
/// a line at its edge.
constexpr double cutting_room(int lines) {
  return lines == 0 ? 11.0 : 2.0 + 9.0 * lines;
}

/// A long-dash-dot line over the view with wide ends, an arrow on each that looks as the section
/// does, and the letter. Source: paperexplained.cn/articles/paper/detail/
/// 856a6b717b257ea1a15bc3bf95c0eae0f6e01f2d (a drawing handbook's chapter on sections); proportions
/// are ours.
void add_cutting_line(Drawing& d, const Rect& view, const CuttingLine& line);

}  // namespace ribbay::detail
