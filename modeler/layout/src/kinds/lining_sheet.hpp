#pragma once

#include "shape/folded.hpp"

/// Changes to the sheet of a lining panel: its grain, and what is left on it for scribing.
namespace ribbay::detail {

/// Left on at the edges of a panel, to be planed off where it meets what is not straight, mm.
struct Allowance {
  double left = 0.0;  ///< at x = 0 of its flats
  double right = 0.0;
  double start = 0.0;  ///< at the first flat's start
  double end = 0.0;    ///< at the last flat's end
  bool any() const { return left + right + start + end > 0.0; }
};

/// The sheet as it is cut: larger by the allowance, in a chain of flats as LiningCurve::fold()
/// makes it.
FoldedSheet enlarged(const FoldedSheet& chain, const Allowance& by);

/// The same sheet described from a first flat whose x runs across the bends instead of along them:
/// its new x is the old y, its new y runs against the old x, from the corner at `width`.
FoldedSheet turned(FoldedSheet chain, double width);

}  // namespace ribbay::detail
