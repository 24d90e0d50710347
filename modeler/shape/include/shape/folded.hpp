#pragma once

#include "shape/shape.hpp"

#include <vector>

namespace ribbay {

/// A flat of a folded sheet, in its own axes: back at z = 0, face at z = thickness.
///
/// All but the first hang on another flat by a bend. The bend's tangent line runs from `a` to `b` on
/// the parent, along one straight side of its outline, the parent to its right. The flat's own axes
/// begin where the bend ends: x along a to b, y away from the parent; the first two corners of its
/// outline are (0, 0) and (length of the line, 0), both sharp.
struct Flat {
  int parent = -1;  ///< index of an earlier flat; -1 for the first
  Vec2 a{};
  Vec2 b{};
  double angle = 0.0;   ///< radians, within (-pi, pi) and not 0: positive towards the face
  double radius = 0.0;  ///< inside of the bend, mm
  Region outline;
  std::vector<Cut> cuts{};    ///< right through the sheet
  std::vector<Bore> bores{};  ///< along z
};

/// Sheet that is cut flat and then bent along straight lines: a folded tray, a curved lining. One
/// tree of flats and bends gives the solid, the pieces and the flat pattern.
struct FoldedSheet {
  double thickness = 0.0;
  double k_factor = 0.5;  ///< place of the neutral fibre, in thicknesses from the inside of a bend
  std::vector<Flat> flats;
};

/// Where the blank is bent: its middle line on the flat pattern.
struct BendLine {
  Vec2 a;
  Vec2 b;
  double angle = 0.0;   ///< radians, positive towards the face
  double radius = 0.0;  ///< inside, mm
  friend bool operator==(const BendLine&, const BendLine&) = default;
};

/// The sheet before bending, in the axes of its first flat; cuts and bores as they are made flat.
struct FlatPattern {
  Prism blank;
  std::vector<BendLine> bends;  ///< in the order of the flats
  friend bool operator==(const FlatPattern&, const FlatPattern&) = default;
};

/// Length of the neutral fibre in a bend, mm: angle x (radius + k x thickness), angle in radians.
/// Source: DIN 6935 in this form, as any sheet-metal handbook gives it (from memory).
double bend_allowance(double angle, double radius, double thickness, double k_factor);

/// The bent sheet in the axes of its first flat: a prism for each flat, a sector for each bend.
/// Preconditions as told at Flat.
Shape folded_shape(const FoldedSheet& sheet);

/// The axes of each flat, bent, in those of the first one.
std::vector<Frame> flat_frames(const FoldedSheet& sheet);

/// The blank. Precondition: each bend lies within one straight side of what it hangs on.
FlatPattern flat_pattern(const FoldedSheet& sheet);

}  // namespace ribbay
