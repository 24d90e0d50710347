#pragma once

#include "layout/layout.hpp"

/// What materials do to each other where parts are joined.
namespace ribbay {

/// Checks of the joints of a layout. Findings:
/// - "material.dissimilar_metals": metals that touch in a joint, whose anodic indices differ by
///   more than 0.25 V (a warning) or 0.15 V (a note: in salt and wet). Limits from memory of
///   corrosion tables after MIL-STD-889. Told once for each pair of metals, of the worst pair
///   first. A part that is covered on face and back counts as parted from what it touches.
/// - "material.expansion": parts that are held to each other by screws or bolts at both ends and
///   grow by different lengths between the coldest and the warmest of Layout::climate: distance of
///   the outermost fasteners x difference of expansion x difference of temperature, more than the
///   holes have play.
/// - "material.glued_across": solid wood glued across its grain to what does not move with it, by
///   more than 0.5 mm (common practice, no source) between the driest and the wettest of
///   Layout::climate.
Findings check_materials(const Layout& layout);

}  // namespace ribbay
