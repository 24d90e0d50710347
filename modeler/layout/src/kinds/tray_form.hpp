#pragma once

#include "base/box.hpp"
#include "shape/folded.hpp"

#include <array>
#include <optional>

/// The geometry of a tray that is folded from one sheet.
namespace ribbay::detail {

enum class TraySide { front, left, back, right };  ///< in the order in which they meet
inline constexpr std::array kTraySides = {TraySide::front, TraySide::left, TraySide::back,
                                          TraySide::right};

/// Where the side walls butt against the front and the back: what a weld or a sealant fills (common
/// practice, no source).
inline constexpr double kTrayCornerGap = 0.5;

/// A floor with walls folded up and, along their tops, lips folded outwards. At each corner the
/// front or back wall reaches to the outside and the side wall butts against it from inside, to be
/// welded or sealed; below them both bends stop short of each other, so that the sheet does not
/// tear.
///
///        lip ___             ___
///               \           /      ^
///          wall |           |      | size.z
///               \___________/      v
///         |<------ size.x ------>|
struct TrayForm {
  Vec3 size;  ///< over all, lips included; x from left to right, y from front to back
  double thickness = 0.0;
  double radius = 0.0;  ///< inside of the bends
  double k_factor = 0.5;
  std::array<bool, 4> walls{true, true, true, true};  ///< by TraySide
  double lip = 0.0;     ///< how far they reach out from the walls' outside; 0: none
  double relief = 0.0;  ///< what a bend keeps from the next one at a corner
  double gap = 0.0;     ///< where a side wall butts against another

  bool wall(TraySide side) const { return walls[static_cast<std::size_t>(side)]; }
  /// From the outside of a bend to its tangent lines.
  double setback() const { return radius + thickness; }
  /// Outside size of a flange that can still be folded: 4 thicknesses and the radius. Common
  /// practice for a brake with a V of 6 to 8 thicknesses, no source.
  double least_leg() const { return 4 * thickness + radius; }
  /// The flat of the floor, between the tangent lines of its bends; empty when there is none.
  Box floor() const;
};

/// The tray with its first flat the floor, in the module's axes; precondition: the floor and every
/// flange have some size.
FoldedSheet tray_sheet(const TrayForm& form);

/// Index of the flat that is a wall, or nullopt when the tray has none there.
std::optional<std::size_t> wall_flat(const TrayForm& form, TraySide side);

}  // namespace ribbay::detail
