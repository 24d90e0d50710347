#pragma once

#include "drawings/drawing.hpp"

#include <string>
#include <vector>

namespace ribbay {

enum class FaultKind {
  text_on_text,
  text_on_line,  ///< a line, an arc, an arrow or a dot runs through a text
  outside_frame,
  view_on_view,   ///< the ink of two views runs into one another
  wrong_value,    ///< a dimension says something else than what it is drawn between
  unknown_letter  ///< the alphabet cannot draw a character
};

/// Something on a drawing that a reader would stumble over.
struct Fault {
  FaultKind kind;
  Vec2 at;           ///< on paper
  std::string what;  ///< the text concerned
};

/// Everything wrong with the ink of `drawing`, in the order of its texts. Looks at the ink alone
/// and shares no code with what placed it. An empty answer means: no text touches a line or another
/// text, no picture reaches into another one, all lies inside the frame (or, for the border, inside
/// the page), and each printed size equals the distance it is drawn between to within half of its
/// last printed place.
std::vector<Fault> audit(const Drawing& drawing);

/// The length that a printed dimension stands for, mm: "482.6", "5 13/64", "(90)". NaN when it is
/// none.
double printed_length(std::string_view text, LengthStyle show);

}  // namespace ribbay
