#pragma once

/// A bunk of which places are worked out by hand.
namespace ribbay::testing {

/// At the right wall of the straight van, where ribs leave 770: its front at y = -70, its x is 2500
/// less the van's.
inline const char* const kFoldingBunk = R"(
[module.bunk]
kind = "bunk"
folds = "up"
faces = "left"
width = "1800 mm"
depth = "700 mm"
deck_sheet = "birch_18"
rail_sheet = "birch_15"
hinge = "butt_70"
screw = "wood_4x40"
rib_screw = "wood_4x40"
leg = "bunk_leg_folding"
leg_screw = "wood_3_5x16"
strap = "strap_25"
strap_screw = "wood_4x20"
place = { rear = "700 mm", against = "right wall", bottom = "434.9 mm" }
)";

}  // namespace ribbay::testing
