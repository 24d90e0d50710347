#pragma once

#include "drawings/drawing.hpp"

#include <string>

/// Dimensions that carry the number of a blank instead of a size.
namespace ribbay::detail {

inline constexpr double kRing = 3.4;  ///< radius of the ring around a number

inline const Pens kFormPens = kGroup50;  ///< wide enough to be copied and copied again

/// A number in a ring.
void add_number(Drawing& drawing, Vec2 centre, int number);

/// A ring with an arrow from it to the spot it speaks of.
void add_pointer(Drawing& drawing, Vec2 ring, Vec2 tip, int number);

/// Words for a dimension: a number in a ring, or a range of numbers bare.
struct NumberLabel {
  std::string text;
  bool ring = true;
  double share = 0.5;  ///< where along the line it stands
};
NumberLabel label(int number, double share = 0.5);
NumberLabel label(const std::string& range, double share = 0.5);

/// From x = a to x = b at the height y, with extension lines that start at the heights from_a and
/// from_b. The label stands in a gap of the line, or behind b where the line is too short for it.
void add_level(Drawing& drawing, double a, double b, double y, double from_a, double from_b,
               const NumberLabel& label);

/// The same upright: from y = a to y = b at x. The label of a short one stands above b.
void add_upright(Drawing& drawing, double a, double b, double x, double from_a, double from_b,
                 const NumberLabel& label);

/// A dimension line straight from a to b.
void add_slanted(Drawing& drawing, Vec2 a, Vec2 b, const NumberLabel& label);

}  // namespace ribbay::detail
