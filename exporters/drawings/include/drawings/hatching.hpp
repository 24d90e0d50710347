#pragma once

#include "base/vec.hpp"

#include <utility>
#include <vector>

namespace ribbay {

// Hatching of cut faces. Rules as textbooks give them (ISO 128-3 and 128-50 themselves not seen):
// thin continuous lines at 45 degrees; all cut faces of one part alike, also where other parts lie
// between; parts that touch differ in direction or else in spacing (zanotowane.pl/901/5124, EPO
// guidelines for the PCT A-V 7.3.2); where a face is so narrow that lines would be unclear it is
// filled instead (blickinsbuch.westermann.de/978-3-7100-2443-6/66). We fill it with grey, so that
// joints stay visible; toning is allowed by ISO 128-50 (from memory).

/// Outlines of an area in the plane: outer ones counter-clockwise, holes the other way; they may
/// touch or overlap. Inside is what they run round at least once.
using Outlines = std::vector<std::vector<Vec2>>;

/// How one part is hatched.
struct HatchStyle {
  bool falling = false;  ///< lines at -45 degrees instead of 45
  double spacing = 1.5;  ///< between lines, across them, in the units of the outlines
};

/// Narrower cut faces are filled, mm on paper; a choice, no source.
inline constexpr double kNarrowFace = 2.0;

/// The hatch lines of an area less `spared` areas (convex, each direction of run), in order. Lines
/// of one style lie on the same raster wherever they are.
std::vector<std::pair<Vec2, Vec2>> hatch(const Outlines& area,
                                         const std::vector<std::vector<Vec2>>& spared,
                                         const HatchStyle& style);

/// How wide an area is: the thickness of strips of its size and circumference, as many as it has
/// outer outlines, which are taken as not overlapping. Of what is too stout for a strip, a quarter
/// of its circumference.
double strip_width(const Outlines& area);

/// True when `p` lies inside.
bool inside(const Outlines& area, Vec2 p);

}  // namespace ribbay
