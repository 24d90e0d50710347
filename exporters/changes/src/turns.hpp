#pragma once

#include "changes/parts_record.hpp"

/// The eight ways to lay a plane figure on itself by quarter turns and reflections.
namespace ribbay::detail {

inline constexpr int kTurns = 8;

/// Numbers 0 to 3: that many quarter turns counter-clockwise. 4 to 7: the same after a reflection
/// about the x axis. Exact: coordinates are exchanged and change sign, no more.
Vec2 turn(Vec2 point, int number);
/// Counter-clockwise stays counter-clockwise.
Loop turn(const Loop& loop, int number);
Region turn(const Region& region, int number);

/// A reflection of the plane is half a turn of the piece: it comes to lie on its other side.
constexpr bool turns_over(int number) {
  return number >= 4;
}

/// Where the part's features are when the blank is turned so in its plane, and, where
/// turns_over(), laid on its other side (a member: end for end). The blank of a panel is moved back
/// so that its lowest corner is at 0, 0.
PartRecord turned(const PartRecord& part, int number);

}  // namespace ribbay::detail
