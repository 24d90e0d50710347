#pragma once

#include <string>
#include <vector>

/// One module of each kind, valid as it stands and different on its two sides.
namespace ribbay::testing {

struct KindSample {
  const char* name;  ///< of the module, and its kind
  std::string text;
};

inline const char* kLopsidedRack = R"(
[module.rack]
kind = "rack"
faces = "rear"
profile = "slotted_40"
bracket = "bracket_40"
width = "1000 mm"
depth = "600 mm"
height = "900 mm"
levels = ["0 mm", "400 mm", "860 mm"]
bays = ["1 share", "400 mm"]
foot = "foot_40"
floor_bolt = "m8_40"
place = { rear = "100 mm", between = "walls", on = "floor" }
[module.rack.shelves.low]
level = 1
bay = 1
sheet = "birch_12"
[module.rack.holds.battery]
item = "battery_small"
bay = 1
level = 1
from_left = "20 mm"
[module.rack.holds.heater]
item = "water_heater"
bay = 2
level = 2
comes_out = "front"
[module.rack.infill.side]
side = "right"
above_level = 2
sheet = "birch_6"
)";

inline const char* kLopsidedGalley = R"(
[module.galley]
kind = "galley"
faces = "left"
width = "1200 mm"
depth = "500 mm"
height = "880 mm"
sheet = "birch_15"
back_sheet = "birch_6"
front_sheet = "birch_18"
drawer_sheet = "birch_12"
drawer_bottom_sheet = "birch_6"
counter_sheet = "birch_21"
slide = "slide_400"
hinge = "hinge_110"
screw = "wood_4x40"
panel_screw = "wood_3_5x25"
slide_screw = "wood_3x12"
shelf_pin = "shelf_pin_5"
place = { rear = "900 mm", against = "right wall", on = "floor" }
[module.galley.columns.cupboard]
width = "1 share"
door = "left"
shelves = ["300 mm"]
[module.galley.columns.drawers]
width = "430 mm"
drawers = ["1 share", "2 shares"]
after = "62 mm"
)";

inline const char* kLopsidedBunk = R"(
[module.bunk]
kind = "bunk"
faces = "front"
beam = "i_beam_80"
beams = 4
beam_bolt = "m8_50"
bearer = "angle_50_5"
wall_bolt = "m8_25"
deck_sheet = "birch_12"
deck_pieces = 2
deck_screw = "wood_4x30"
guard_height = "200 mm"
guard_sheet = "birch_15"
guard_screw = "wood_4x40"
head_room = "500 mm"
depth = "1200 mm"
place = { rear = "100 mm", between = "walls", bottom = "800 mm" }
)";

inline const char* kLopsidedPartition = R"(
[module.partition]
kind = "partition"
faces = "front"
sheet = "birch_18"
height = "1000 mm"
pieces = ["1 share", "600 mm"]
seam_screw = "wood_3_5x16"
place = { rear = "900 mm", between = "walls", on = "floor" }
)";

inline std::vector<KindSample> kind_samples() {
  return {{"rack", kLopsidedRack},
          {"galley", kLopsidedGalley},
          {"bunk", kLopsidedBunk},
          {"partition", kLopsidedPartition}};
}

}  // namespace ribbay::testing
