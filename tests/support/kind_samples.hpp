#pragma once

#include <string>
#include <vector>

/// One module of each kind, valid as it stands and different on its two sides.
namespace ribbay::testing {

struct KindSample {
  const char* name;  ///< of the module
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
stretcher = "60 mm"
place = { rear = "900 mm", against = "right wall", on = "floor" }
[module.galley.openings.sink]
item = "sink_rect"
column = "cupboard"
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
deck_screw = "wood_3_5x16"
guard_height = "200 mm"
guard_sheet = "birch_15"
guard_screw = "wood_4x40"
head_room = "500 mm"
depth = "1200 mm"
place = { rear = "100 mm", between = "walls", bottom = "800 mm" }
)";

inline const char* kLopsidedFoldingBunk = R"(
[module.folding]
kind = "bunk"
folds = "up"
faces = "left"
width = "1800 mm"
depth = "700 mm"
deck = "slats"
deck_sheet = "birch_18"
rail_sheet = "birch_15"
hinge = "butt_70"
screw = "wood_4x40"
rib_screw = "wood_4x40"
leg = "bunk_leg_folding"
leg_screw = "wood_3_5x16"
strap = "strap_25"
strap_screw = "wood_4x20"
guard_height = "90 mm"
guard_sheet = "birch_12"
guard_screw = "wood_3_5x25"
head_room = "500 mm"
place = { rear = "600 mm", against = "right wall", bottom = "434.9 mm" }
)";

/// Down, with one panel and longer legs.
inline const char* kLopsidedDropBunk = R"(
[module.drop]
kind = "bunk"
folds = "down"
faces = "right"
width = "1800 mm"
depth = "760 mm"
deck_sheet = "birch_18"
rail_sheet = "birch_15"
hinge = "butt_70"
screw = "wood_4x40"
rib_screw = "wood_4x40"
leg = "table_leg_folding"
leg_screw = "wood_3_5x16"
mattress = "80 mm"
place = { rear = "600 mm", against = "left wall", bottom = "704.9 mm" }
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

inline const char* kLopsidedPlanks = R"(
[module.planks]
kind = "partition"
faces = "front"
sheet = "birch_12"
height = "1000 mm"
pieces = ["1 share", "600 mm"]
seam_screw = "wood_3x12"
place = { rear = "900 mm", between = "walls", on = "floor" }
planks = { plank = "maple_9", first = "70 mm", screw = "wood_3_5x20" }
)";

inline const char* kLopsidedTray = R"(
[module.tray]
kind = "tray"
faces = "rear"
sheet = "aluminium_1_5"
width = "400 mm"
depth = "300 mm"
height = "40 mm"
walls = ["front", "back", "left"]
lip = "12 mm"
drain = { fitting = "drain_40", from_left = "100 mm", from_front = "120 mm" }
holes.low = { in = "back", at = ["60 mm", "20 mm"], diameter = "5 mm" }
place = { rear = "100 mm", middle = "0 mm", bottom = "300 mm" }
)";

inline const char* kLopsidedSled = R"(
[module.sled]
kind = "sled"
faces = "rear"
item = "battery_small"
base = "birch_12"
runner = "aluminium_angle_30_3"
clamp = "sled_clamp"
clamp_screw = "wood_4x40"
screw = "wood_3x12"
width = "500 mm"
from_left = "60 mm"
place = { rear = "100 mm", middle = "0 mm", bottom = "300 mm" }
)";

inline const char* kLopsidedSlides = R"(
[module.slides]
kind = "sled"
faces = "rear"
item = "battery_small"
base = "birch_12"
runner = "angle_50_5"
slide = "slide_300"
slide_bolt = "m5_8_button"
slide_screw = "wood_3x12"
side_screw = "wood_4x40"
width = "500 mm"
from_left = "60 mm"
place = { rear = "100 mm", middle = "0 mm", bottom = "300 mm" }
)";

inline const char* kLopsidedCustom = R"(
[slide.short_200]
based_on = "slide_300"
length = "200 mm"
travel = "180 mm"
[hinge.square]
based_on = "hinge_110"
opening = "90 deg"
[module.stand]
kind = "custom"
faces = "rear"
width = "600 mm"
depth = "420 mm"
height = "760 mm"
place = { rear = "100 mm", middle = "0 mm", on = "floor" }
[module.stand.members]
post_a = { profile = "slotted_40", from = [20, 20, 0], to = [20, 20, 700] }
post_b = { profile = "slotted_40", from = [580, 20, 0], along = "up", length = "700 mm" }
post_c = { profile = "slotted_40", from = [20, 380, 0], along = "up", length = "700 mm" }
rail_low = { profile = "slotted_40", from = [40, 20, 100], to = [560, 20, 100] }
rail_high = { profile = "slotted_40", from = [40, 20, 400], to = [560, 20, 400] }
cross = { profile = "slotted_40", from = [20, 40, 550], along = "back", length = "320 mm" }
stub = { profile = "slotted_40", from = [580, 40, 600], along = "back", length = "200 mm", taps = "end", holes.cable = { at = 150, side = "right", diameter = 12, use = "access" } }
[module.stand.panels.top]
sheet = "birch_15"
at = [0, 0, 700]
outline = [{ at = [0, 0] }, { at = [600, 0] }, { at = [600, 200], radius = 40 }, { at = [300, 400] }, { at = [0, 400] }]
cut_outs.cup = { at = [450, 120], diameter = 80 }
cut_outs.slot = { at = [100, 100], size = [60, 20], radius = 5 }
holes.pin = { at = [200, 300], diameter = 5, depth = 10, side = "back", use = "shelf pin" }
[module.stand.panels.shelf]
sheet = "birch_15"
at = [40, 0, 420]
size = [520, 400]
[module.stand.panels.rear]
sheet = "birch_12"
at = [0, 401.5, 100]
size = [500, 520]
faces = "back"
grain = "up"
[module.stand.panels.infill]
sheet = "birch_6"
at = [60, 16.8, 111]
size = [440, 278]
faces = "front"
[module.stand.panels.cheek]
sheet = "birch_18"
at = [200, 60, 434.9]
size = [300, 200]
faces = "right"
rebates.back = { at = [290, 0], size = [10, 200], depth = 6 }
[module.stand.panels.partner]
sheet = "birch_18"
at = [400, 60, 434.9]
size = [300, 200]
faces = "right"
[module.stand.panels.floor]
sheet = "birch_12"
at = [211.7, 60, 500]
size = [194.3, 290]
[module.stand.panels.lid]
sheet = "birch_12"
at = [200, 60, 634.9]
size = [217.7, 300]
[module.stand.panels.cover]
sheet = "birch_12"
at = [205, 354, 520]
size = [195, 100]
faces = "back"
[module.stand.panels.tab]
sheet = "birch_6"
at = [450, 100, 434.9]
size = [60, 40]
repeat = { count = 3, pitch = [0, 80, 0] }
[module.stand.panels.flap]
sheet = "birch_6"
at = [60, 120, 660]
size = [100, 60]
[module.stand.panels.ramp]
sheet = "birch_6"
at = [460, 100, 150]
size = [80, 100]
tilt = { edge = "left", angle = "20 deg" }
holes.low = { at = [20, 30], diameter = 6 }
cut_outs.round = { at = [50, 60], diameter = 20 }
[module.stand.panels.wing]
sheet = "birch_12"
at = [420, 112, 560]
size = [100, 188]
[module.stand.panels.door]
sheet = "birch_15"
at = [402, 42, 448]
size = [130, 180]
faces = "front"
[module.stand.panels.drawer_a]
sheet = "birch_12"
at = [230.4, 66, 525]
size = [210, 80]
faces = "right"
[module.stand.panels.drawer_b]
sheet = "birch_12"
at = [375.3, 66, 525]
size = [210, 80]
faces = "right"
[module.stand.panels.drawer_front]
sheet = "birch_12"
at = [221, 54, 518]
size = [175, 110]
faces = "front"
[module.stand.planks.boards]
plank = "maple_9"
on = ["infill"]
at = [70, 7.3, 130]
size = [350, 240]
screw = "wood_3x12"
[module.stand.hinges.wing]
hinge = "butt_50"
leaf = "wing"
on = "partner"
at = [419.2, 0, 558.5]
along = "back"
leaf_side = "down"
on_side = "right"
opens = "30 deg"
[module.stand.cup_hinges.door]
hinge = "square"
leaf = "door"
on = "partner"
edge = "left"
screw = "wood_3x12"
from_ends = "45 mm"
moves = ["knob"]
[module.stand.slides.drawer]
slide = "short_200"
carriers = ["cheek", "partner"]
riders = ["drawer_a", "drawer_b"]
screw = "wood_3x12"
from_front = "4 mm"
held_by = "magnet"
load = "3 kg"
moves = ["drawer_front", "pull"]
[module.stand.handles.pull]
handle = "bow_96"
on = "drawer_front"
at = [300, 54, 600]
[module.stand.handles.knob]
handle = "bow_96"
on = "door"
at = [470, 42, 480]
[module.stand.bent.tray]
sheet = "aluminium_1_5"
at = [450, 100, 460]
[module.stand.bent.tray.flats]
floor = { size = [80, 120], openings.drain = { at = [40, 60], diameter = 20 } }
wall = { on = "floor", side = "upper", reach = 30, inset = 5 }
low = { on = "floor", side = "lower", reach = 20, angle = "45 deg" }
[module.stand.fittings.magnet]
item = "magnet_20"
on = "cheek"
at = [217.7, 300, 560]
stands_out = "right"
[module.stand.equipment.box]
item = "battery_small"
at = [100, 60, 121]
[module.stand.screws.extra]
screw = "wood_3_5x25"
at = [208, 200, 646.9]
through = "lid"
into = "cheek"
[module.stand.joints]
low = { kind = "end bolt", parts = ["rail_low", "post_a", "post_b"], bolt = "m8_25_button" }
high = { kind = "gusset plate", parts = ["rail_high", "post_a"], plate = "gusset_40", side = "front", towards = "up" }
hidden = { kind = "hidden connector", parts = ["rail_high", "post_b"], connector = "hidden_40" }
cross_front = { kind = "bracket", parts = ["cross", "post_a"], bracket = "bracket_40", towards = "down" }
cross_back = { kind = "end bolt", parts = ["cross", "post_c"], bolt = "m8_50", head = "outside", sunk = 9 }
stub = { kind = "hidden connector", parts = ["stub", "post_b"], connector = "hidden_40", side = "right" }
top = { kind = "end bolt", parts = ["post_a", "top"], bolt = "m8_30", head = "outside", sunk = 8 }
shelf = { kind = "panel on face", parts = ["shelf", "rail_high"], bolt = "m8_25", nut = "slot_nut_8_m8", spacing = "250 mm" }
rear = { kind = "panel on gasket", parts = ["rear", "post_c"], gasket = "foam_10x3", bolt = "m8_25_button", nut = "slot_nut_8_m8" }
infill = { kind = "panel in slot", parts = ["infill", "rail_low", "rail_high"] }
cheek = { kind = "dowel", parts = ["cheek", "shelf"], dowel = "dowel_6x30", depths = [20, 11] }
floor = { kind = "dado", parts = ["floor", "cheek", "partner"], glued = true }
lid = { kind = "screw", parts = ["lid", "cheek", "partner"], screw = "wood_4x40", at = [40, 260] }
back = { kind = "rebate", parts = ["cover", "cheek"] }
tabs = { kind = "contact", parts = ["tab", "shelf"] }
drawer = { kind = "screw", parts = ["drawer_front", "drawer_a", "drawer_b"], screw = "wood_4x40", at = [20, 60] }
[module.stand.motions]
out = { moves = ["tray"], axis = "front", slides = "50 mm", after = "door" }
flap = { moves = ["flap"], axis = "right", turns = "30 deg", about = [0, 120, 660], must_turn = "20 deg", after = "out" }
[module.stand.zones.view]
at = [250, 100, 650]
size = [100, 100, 40]
kind = "service"
allowed = ["lid"]
[module.stand.supports.foot]
part = "post_b"
at = [580, 20, 0]
load = "10 kg"
)";

inline const char* kLopsidedFloor = R"(
[module.deck]
kind = "floor"
faces = "rear"
sheet = "birch_12"
batten_sheet = "birch_21"
insulation = "insulation_20"
pieces = ["1 share", "300 mm"]
screw = "wood_4x30"
floor_bolt = "m8_40"
depth = "1000 mm"
place = { rear = "100 mm", between = "walls", on = "floor" }
)";

inline const char* kLopsidedHatch = R"(
[module.hatch]
kind = "hatch"
faces = "rear"
opening_width = "300 mm"
opening_height = "200 mm"
ring_sheet = "birch_12"
lid_sheet = "birch_6"
ring_screw = "wood_3_5x25"
latch = "cam_latch"
latches = 1
finger_hole = "25 mm"
place = { rear = "500 mm", middle = "100 mm", bottom = "400 mm" }
)";

// The wall keeps its ribs and the opening its place: both are the same from either end.
inline const char* kLopsidedLining = R"(
[bolt.wood_3x14]  # as deep as the ring and the lining
based_on = "wood_3x12"
length = "14 mm"
[module.lining]
kind = "lining"
faces = "right"
sheet = "poplar_5"
width = "1400 mm"
height = "1000 mm"
pieces = ["1 share", "500 mm"]
fitting = "magnet_20"
rows = ["400 mm", "1150 mm"]
place = { rear = "300 mm", against = "left wall", gap = "6 mm", bottom = "300 mm" }
[module.lining.scribe]
top = "8 mm"
[module.lining.openings.locker]
rear = "900 mm"
front = "1100 mm"
bottom = "600 mm"
top = "800 mm"
[module.lining.openings.locker.hatch]
ring_sheet = "birch_9"
lid_sheet = "birch_6"
lid = "overlapping"
ring_screw = "wood_3x14"
latch = "cam_latch"
latches = 2
)";

/// Ribs and joists of the van lie as far from one end of these as from the other.
inline const char* kLopsidedBench = R"(
[module.bench]
kind = "bench"
faces = "left"
width = "1200 mm"
depth = "500 mm"
height = "450 mm"
sheet = "birch_18"
bottom_sheet = "birch_12"
lid_sheet = "birch_21"
lids = ["425.05 mm", "1 share"]
hinge = "continuous_32"
screw = "wood_4x40"
edge_band = "edge_abs"
floor_bolt = "m8_40"
persons = 2
head_room = "100 mm"
place = { rear = "150 mm", against = "right wall", on = "floor" }
[module.bench.bays.small]
width = "400 mm"
vents = 5
[module.bench.bays.large]
front = "open"
)";

inline const char* kLopsidedLocker = R"(
[module.locker]
kind = "locker"
faces = "left"
width = "1400 mm"
depth = "350 mm"
height = "360 mm"
sheet = "birch_15"
front_sheet = "birch_18"
back_sheet = "birch_4"
rail_sheet = "birch_12"
hinge = "hinge_110"
screw = "wood_4x40"
slide_screw = "wood_3x12"
rib_screw = "wood_4x40"
latch = "push_latch"
latch_screw = "wood_3_5x25"
edge_band = "edge_abs"
place = { rear = "50 mm", against = "right wall", bottom = "1100 mm" }
[module.locker.bays.first]
width = "600 mm"
door = "lift"
load = "8 kg"
[module.locker.bays.second]
door = "drop"
)";

inline const char* kLopsidedTable = R"(
[module.table]
kind = "table"
stands = "wall"
faces = "left"
width = "900 mm"
depth = "600 mm"
height = "710.5 mm"
top_sheet = "birch_21"
rail_sheet = "birch_15"
hinge = "table_80"
screw = "wood_4x50"
rib_screw = "wood_4x40"
leg = "table_leg_folding"
leg_screw = "wood_4x20"
edge_band = "edge_abs"
knee_room = "100 mm"
place = { rear = "300 mm", against = "right wall", on = "floor" }
)";

inline const char* kLopsidedSlideTable = R"(
[module.pullout]
kind = "table"
stands = "slide"
faces = "rear"
width = "1000 mm"
depth = "520 mm"
height = "713.5 mm"
top_sheet = "birch_21"
rail_sheet = "birch_15"
rail_height = "100 mm"
slide = "slide_500"
slide_screw = "wood_3x12"
screw = "wood_4x50"
leg = "table_leg_folding"
leg_screw = "wood_4x20"
place = { rear = "100 mm", middle = "0 mm", on = "floor" }
)";

inline std::vector<KindSample> kind_samples() {
  return {{"rack", kLopsidedRack},           {"galley", kLopsidedGalley},
          {"deck", kLopsidedFloor},          {"hatch", kLopsidedHatch},
          {"lining", kLopsidedLining},       {"bunk", kLopsidedBunk},
          {"folding", kLopsidedFoldingBunk}, {"drop", kLopsidedDropBunk},
          {"stand", kLopsidedCustom},        {"partition", kLopsidedPartition},
          {"planks", kLopsidedPlanks},       {"sled", kLopsidedSled},
          {"slides", kLopsidedSlides},       {"bench", kLopsidedBench},
          {"locker", kLopsidedLocker},       {"table", kLopsidedTable},
          {"pullout", kLopsidedSlideTable},  {"tray", kLopsidedTray}};
}

}  // namespace ribbay::testing
