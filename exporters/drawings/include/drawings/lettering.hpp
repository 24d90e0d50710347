#pragma once

#include "base/vec.hpp"

#include <string_view>
#include <vector>

namespace ribbay {

// A single-stroke alphabet of our own, in the proportions of ISO 3098-1 type B, vertical (from
// memory): with h the height of capitals, strokes are h/10 wide, small letters 7/10 h high, tails
// 3/10 h deep, letters 2/10 h and words 6/10 h apart. Widths are known exactly and no font is
// needed to draw it.

/// One step of the pen: straight to `to`, or with `radius` above 0 along an arc of at most half a
/// turn.
struct PenStep {
  Vec2 to;
  double radius = 0.0;
  bool clockwise = false;
};

/// One stroke of the pen's centre line.
struct PenStroke {
  Vec2 start;
  std::vector<PenStep> steps;
};

/// The edges of the ink of a text whose baseline starts at the origin, mm.
struct TextExtent {
  double left = 0.0;
  double right = 0.0;
  double bottom = 0.0;
  double top = 0.0;
};

/// Extent of `text` (UTF-8) at letter height `height`. The ink starts at left = 0; right is its
/// width.
TextExtent text_extent(std::string_view text, double height);

inline double text_width(std::string_view text, double height) {
  return text_extent(text, height).right;
}

/// The strokes of `text`, baseline from the origin along +x, mm. Letters outside of the alphabet
/// are drawn as an empty box.
std::vector<PenStroke> text_strokes(std::string_view text, double height);

/// Width of the pen for letters of `height`: ISO 3098-1 type B, h/10.
constexpr double text_pen(double height) {
  return height / 10.0;
}

/// One letter, of a height of 1: from where the pen stands on the baseline, and how far it moves on.
struct PenLetter {
  std::vector<PenStroke> strokes;
  double advance = 0.0;
};
PenLetter pen_letter(char32_t code);

/// Where the pen stands at the start of a text of height 1: its ink starts at 0.
inline constexpr double kFirstPen = 0.05;

/// The centre of the arc of a step that begins at `from`.
Vec2 arc_centre(Vec2 from, const PenStep& step);

/// True when the alphabet has a letter for every character of `text`.
bool can_letter(std::string_view text);

}  // namespace ribbay
