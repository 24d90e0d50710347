#pragma once

#include "layout/layout.hpp"

/// Whether bolts and screws hold in what they are drawn in.
namespace ribbay {

/// From the middle of a screw to the edge of a panel or plank that it goes through or into across its
/// face, in diameters of the screw: as in the corner of boards 2.8 diameters thick, less than
/// which breaks out. Common practice, no source. EN 1995-1-1 8.3 wants twice that of an unloaded edge
/// where a load is reckoned with (from memory).
inline constexpr double kScrewToEdge = 1.4;

/// Wood that is left between two screws in one piece, in diameters of the thicker one; less splits, and
/// one drill runs into the other's hole. Common practice, no source.
inline constexpr double kBetweenScrews = 1.0;

/// Checks every bolt and screw. Alike faults in like parts are told once, with their count. Findings:
/// - "fixing.wood_screw_in_metal": what a wood screw should bite in is metal;
/// - "fixing.holds_nothing": its thread ends before what it should hold in;
/// - "fixing.too_short": a warning: it holds over less than the lengths of layout/screw_hold.hpp ask;
/// - "fixing.short_for_nut": a bolt through clear holes that does not fill its nut;
/// - "fixing.near_edge": a warning: a screw nearer than kScrewToEdge to an edge of a panel or plank;
/// - "fixing.screws_meet": a warning: two wood screws in one piece with less than kBetweenScrews of wood
///   between them.
Findings check_fixings(const Layout& layout);

}  // namespace ribbay
