#pragma once

#include "drawings/drawing.hpp"

#include <string>

/// Words in the picture of a sheet or bar: each where nothing else stands, else with a leader.
namespace ribbay::detail {

inline constexpr double kLetters = 2.5;
inline constexpr double kSmallLetters = 1.8;
inline constexpr Pens kPicturePens = kGroup35;

/// Puts a text where it is free, its middle at `middle`.
bool put(Drawing& page, const std::string& text, Vec2 middle, double height, bool turned);

/// Puts two lines where they are free, their middle at `middle`.
bool put_stacked(Drawing& page, const std::string& upper, const std::string& lower, Vec2 middle,
                 double height);

/// A word beside what is too small for it, with a leader that ends in a dot; false when there is no
/// room.
bool name_from_afar(Drawing& page, const std::string& word, Vec2 target);

/// The number of a cut from `a` to `b`, in a circle on the cut itself. What runs along the cut within
/// `own` (the edges of the blade's way) is broken there; anything else stays clear of the circle.
/// With a leader to the cut where that finds no room; false where no leader does either.
bool number_cut(Drawing& page, Vec2 a, Vec2 b, const Rect& own, const std::string& number);

}  // namespace ribbay::detail
