#pragma once

#include "drawings/hatching.hpp"
#include "drawings/visible_lines.hpp"
#include "layout/layout.hpp"

#include <cstddef>
#include <map>
#include <vector>

/// Modules cut open where one cannot look into them.
namespace ribbay {

/// Everything nearer to the eye than `at` along view.towards_eye(), mm, is taken away.
struct SectionPlane {
  char letter = 'A';
  ViewFrame view;
  double at = 0.0;
};

/// Planes that cut across the made parts which no view from outside shows, and those that are
/// folded: first the plane that cuts most of them, then others that cut at least two more, three at
/// most; among equals those that run through most fasteners. No plane runs within a board or along
/// a member where another serves. Empty: nothing is hidden.
std::vector<SectionPlane> section_planes(const Layout& layout, const Module& module);

/// What the plane cuts of one part.
struct CutFace {
  std::size_t part = 0;  ///< index into Layout::parts
  Outlines outlines;     ///< in the picture's coordinates, mm of the van
  HatchStyle style;      ///< spacing in mm of the van
  bool narrow = false;   ///< filled instead of hatched
};

struct Section {
  Drawn drawn;                            ///< outlines of cut faces, and what lies behind
  std::vector<std::size_t> part;          ///< of each body of `drawn`
  std::vector<CutFace> faces;             ///< in the order of parts
  std::vector<std::vector<Vec2>> spared;  ///< fasteners that lie in the plane: not cut, not hatched
};

/// How each part is hatched, spacing in mm on paper: parts that touch differ.
std::map<std::size_t, HatchStyle> hatch_styles(const Layout& layout,
                                               const std::vector<std::size_t>& parts);

/// The section of some parts at a scale. Bolts and screws whose axis lies in the plane are drawn
/// whole; equipment is cut and not hatched, since its inside is not known. Source for fasteners:
/// blickinsbuch.westermann.de/978-3-7100-2443-6/66.
Section cut_open(const Layout& layout, const std::vector<std::size_t>& parts,
                 const std::map<std::size_t, HatchStyle>& styles, const SectionPlane& plane,
                 double scale);

}  // namespace ribbay
