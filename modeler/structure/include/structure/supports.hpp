#pragma once

#include "layout/layout.hpp"

/// Whether what is heavy stands over something that bears.
namespace ribbay {

/// What counts as heavy, kg. Common practice, no source: what one hand does not lift.
inline constexpr double kHeavy = 20.0;

/// Checks equipment of kHeavy or more, filled, against the floor structure below it. It is borne
/// where the middle of a joist runs below it, or where a module around it is bolted to joists or
/// hard points on both sides of its middle, before and behind it. Findings:
/// - "support.between_joists", a warning: `measured` is the way to the nearest joist's middle;
/// - "support.off_joists", a warning: no joist runs that far to the side or to the front;
/// - "support.no_joists", a note: something is heavy, and the vehicle file names no joist.
/// How far a floor or a frame bends under it is not reckoned here.
Findings check_supports(const Layout& layout);

}  // namespace ribbay
