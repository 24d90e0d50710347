// Where joints drill, cut and put their hardware: every number by hand from the sample's text.
#include "kind_samples.hpp"
#include "small_project.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

const Layout& stand() {
  static const Layout layout = [] {
    auto built = lay_out_text(kLopsidedCustom);
    INFO(words(built.findings));
    REQUIRE(built.value);
    REQUIRE(built.findings.empty());
    return *built.value;
  }();
  return layout;
}

/// The stand faces the rear at x = 100, its middle at y = 0, 600 wide: its left front corner is at
/// (100, 300, 0), its right is the van's -y, its back the van's +x.
Vec3 in_module(Vec3 van) {
  return {300 - van.y, van.x - 100, van.z};
}
Vec3 way_in_module(Vec3 van) {
  return {-van.y, van.x, van.z};
}

Box box_of(const std::string& id) {
  const Part* part = stand().find("stand/" + id);
  REQUIRE(part != nullptr);
  Box box;
  box.add(in_module(bounds(*part).lo));
  box.add(in_module(bounds(*part).hi));
  return box;
}

bool same(Vec3 a, Vec3 b) {
  return length(a - b) < 1e-6;
}

void check_box(const std::string& id, Vec3 lo, Vec3 hi) {
  CAPTURE(id);
  const Box box = box_of(id);
  CAPTURE(box.lo.x, box.lo.y, box.lo.z, box.hi.x, box.hi.y, box.hi.z);
  CHECK(same(box.lo, lo));
  CHECK(same(box.hi, hi));
}

/// The bore of a part that starts at `at`, in module axes.
struct Found {
  Bore bore;
  Vec3 direction;
};
std::vector<Found> bores_at(const std::string& id, Vec3 at) {
  const Part* part = stand().find("stand/" + id);
  REQUIRE(part != nullptr);
  std::vector<Found> all;
  for (const Bore& bore : part->shape->prisms.front().prism.bores) {
    if (same(in_module(part->frame.point(bore.at)), at)) {
      all.push_back({bore, way_in_module(part->frame.direction(bore.direction))});
    }
  }
  return all;
}

void check_bore(const std::string& id, Vec3 at, Vec3 direction, double diameter, double depth,
                BoreRole role, const std::string& thread = {}) {
  CAPTURE(id, at.x, at.y, at.z, diameter);
  const auto all = bores_at(id, at);
  const bool found = std::ranges::any_of(all, [&](const Found& f) {
    return same(f.direction, direction) && std::abs(f.bore.diameter - diameter) < 1e-9 &&
           std::abs(f.bore.depth - depth) < 1e-9 && f.bore.role == role && f.bore.thread == thread;
  });
  CHECK(found);
}

const Joint& joint(const std::string& id) {
  const auto found = std::ranges::find(stand().joints, "stand/joint." + id, &Joint::id);
  REQUIRE(found != stand().joints.end());
  return *found;
}

}  // namespace

TEST_CASE("an end bolt with its head in the slot taps the rail and lets the driver in",
          "[layout][joints]") {
  // M8 x 25 button: head 4.4 high, hexagon 5; slot with lips of 4.5; core bore 6.8.
  // It holds over 25 - 4.5 = 20.5 and the thread is cut 5 deeper.
  check_bore("rail_low", {40, 20, 100}, {1, 0, 0}, 6.8, 25.5, BoreRole::end_tap, "M8");
  check_bore("rail_low", {560, 20, 100}, {-1, 0, 0}, 6.8, 25.5, BoreRole::end_tap, "M8");
  // 5 across flats is 5.7735 across corners, and 1 of play; through 40 less the lips.
  check_bore("post_a", {0, 20, 100}, {1, 0, 0}, 5 * 2 / std::sqrt(3.0) + 1, 35.5, BoreRole::access);
  check_bore("post_b", {600, 20, 100}, {-1, 0, 0}, 5 * 2 / std::sqrt(3.0) + 1, 35.5,
             BoreRole::access);
  // The head bears on the lips' inside, 4.5 behind the face at x = 40.
  check_box("bolt.low_1", {40 - 4.5 - 4.4, 20 - 7, 93}, {40 - 4.5 + 25, 27, 107});
  CHECK(joint("low_1").kind == "end bolt");
  CHECK(joint("low_1").parts == std::vector<std::string>{"stand/rail_low", "stand/post_a"});
  CHECK(joint("low_2").hardware == std::vector<std::string>{"stand/bolt.low_2"});
}

TEST_CASE("an end bolt from outside goes through the other member, its head sunk",
          "[layout][joints]") {
  // M8 x 50, head 13 x 8, hole 9: sunk 9 of 40 leaves a grip of 31; it holds over 19, tapped 24.
  check_bore("post_c", {20, 400, 550}, {0, -1, 0}, 9, 40, BoreRole::bolt);
  check_bore("post_c", {20, 400, 550}, {0, -1, 0}, 14, 9, BoreRole::bolt);
  check_bore("cross", {20, 360, 550}, {0, -1, 0}, 6.8, 24, BoreRole::end_tap, "M8");
  check_box("bolt.cross_back", {13.5, 391 - 50, 543.5}, {26.5, 399, 556.5});
  // And so through a panel: M8 x 30 in 14.9 of sheet, sunk 8; grip 6.9, tapped 23.1 + 5.
  check_bore("top", {20, 20, 714.9}, {0, 0, -1}, 9, 14.9, BoreRole::bolt);
  check_bore("top", {20, 20, 714.9}, {0, 0, -1}, 14, 8, BoreRole::bolt);
  check_bore("post_a", {20, 20, 700}, {0, 0, -1}, 6.8, 28.1, BoreRole::end_tap, "M8");
  check_box("bolt.top", {13.5, 13.5, 706.9 - 30}, {26.5, 26.5, 714.9});
}

TEST_CASE("a hidden connector sits in a cross hole, its foot in the other member's slot",
          "[layout][joints]") {
  // Hole 17, 20 from the end at x = 560, 20 deep; more of post_b lies below, so it is drilled from
  // below. Foot 20 along the slot, 6 high behind lips of 4.5.
  check_bore("rail_high", {540, 20, 380}, {0, 0, 1}, 17, 20, BoreRole::bolt);
  check_box("connector.hidden", {540 - 8.5, 20 - 8.5, 380}, {560 + 4.5 + 6, 28.5, 410});
  // From the side that is told.
  check_bore("stub", {600, 60, 600}, {-1, 0, 0}, 17, 20, BoreRole::bolt);
  check_box("connector.stub", {580 - 5.5, 40 - 4.5 - 6, 590}, {600, 60 + 8.5, 610});
}

TEST_CASE("a gusset plate lies so that its holes come over the slots", "[layout][joints]") {
  // Holes 20 from its sides: its corner lies 20 outside the crossing of the slots at (20, 400).
  check_box("plate.high", {0, -4, 380}, {120, 0, 500});
  // M8 x 14 button in the holes at 60 and 85 along the rail, and up the post.
  check_box("bolt.high_1", {53, -8.4, 393}, {67, 10, 407});
  check_box("bolt.high_2", {78, -8.4, 393}, {92, 10, 407});
  check_box("bolt.high_3", {13, -8.4, 433}, {27, 10, 447});
  check_box("bolt.high_4", {13, -8.4, 458}, {27, 10, 472});
  // Slot nut 22 x 13 x 5 behind the lips, along the slot.
  check_box("nut.high_1", {49, 4.5, 393.5}, {71, 9.5, 406.5});
  check_box("nut.high_3", {13.5, 4.5, 429}, {26.5, 9.5, 451});
  CHECK(joint("high").hardware.size() == 9);
  CHECK(stand().find("stand/bolt.high_3")->hosts ==
        std::vector<std::string>{"stand/plate.high", "stand/post_a", "stand/nut.high_3"});
  // Half of 120 x 120 less four holes of 9, 4 thick, of aluminium at 2700 kg/m3.
  const double area = 120 * 120 / 2.0 - 4 * 3.14159265358979 * 4.5 * 4.5;
  CHECK(stand().find("stand/plate.high")->mass_kg == Approx(area * 4 * 2.7e-6).epsilon(1e-9));
}

TEST_CASE("a bracket stands in the corner that is told", "[layout][joints]") {
  const Bracket& bracket = stand().catalogue->brackets.at("bracket_40");
  check_box("bracket.cross_front", {20 - bracket.width / 2, 40, 530 - bracket.leg},
            {20 + bracket.width / 2, 40 + bracket.leg, 530});
}

TEST_CASE("a panel on a face is bolted to the slot beneath", "[layout][joints]") {
  // They meet over 520: from 40 inside both ends, 440 in two gaps of at most 250.
  for (const double x : {80.0, 300.0, 520.0}) {
    check_bore("shelf", {x, 20, 434.9}, {0, 0, -1}, 9, 14.9, BoreRole::bolt);
  }
  check_box("bolt.shelf_1", {73.5, 13.5, 434.9 - 25}, {86.5, 26.5, 442.9});
  check_box("nut.shelf_1", {69, 13.5, 420 - 4.5 - 5}, {91, 26.5, 415.5});
  CHECK(joint("shelf").hardware.size() == 6);
}

TEST_CASE("a gasket lies between panel and member, as thick as it is pressed", "[layout][joints]") {
  check_box("gasket.rear", {15, 400, 100}, {25, 401.5, 620});
  CHECK(stand().find("stand/gasket.rear")->mass_kg == Approx(0.003 * 0.52));
  // 520: from 40 inside both ends, two gaps of 220.
  for (const double z : {140.0, 360.0, 580.0}) {
    check_bore("rear", {20, 413.5, z}, {0, -1, 0}, 9, 12, BoreRole::bolt);
  }
  check_box("bolt.rear_1", {13, 413.5 - 25, 133}, {27, 417.9, 147});
}

TEST_CASE("dowels lie in blind holes of both parts", "[layout][joints]") {
  // Over 300 of edge, 17.7 wide: 40 inside both ends. 31 of hole for 30 of dowel.
  for (const double y : {100.0, 320.0}) {
    check_bore("cheek", {208.85, y, 434.9}, {0, 0, 1}, 6, 20, BoreRole::dowel);
    check_bore("shelf", {208.85, y, 434.9}, {0, 0, -1}, 6, 11, BoreRole::dowel);
  }
  check_box("dowel.cheek_1", {205.85, 97, 424.4}, {211.85, 103, 454.4});
}

TEST_CASE("a dado and a rebate are as deep as the other panel reaches in", "[layout][joints]") {
  const auto cuts = [](const std::string& id, CutRole role) {
    std::vector<Cut> all;
    for (const Cut& cut : stand().find("stand/" + id)->shape->prisms.front().prism.cuts) {
      if (cut.role == role) all.push_back(cut);
    }
    return all;
  };
  const auto cheek = cuts("cheek", CutRole::dado);
  REQUIRE(cheek.size() == 1);
  CHECK(cheek[0].from == Approx(17.7 - 6));  // from its face
  CHECK(cheek[0].to == Approx(17.7));
  CHECK(area({cheek[0].outline, {}}) == Approx(290 * 12));
  const auto partner = cuts("partner", CutRole::dado);
  REQUIRE(partner.size() == 1);
  CHECK(partner[0].from == Approx(0));  // from its back
  CHECK(partner[0].to == Approx(6));
  CHECK(joint("floor_1").glued);
  CHECK_FALSE(joint("shelf").glued);
  // One told as such, 10 x 200 and 6 deep; one by the joint: 6 of 12 mm for 100, 12.7 deep.
  const auto rebates = cuts("cheek", CutRole::rebate);
  REQUIRE(rebates.size() == 2);
  CHECK(area({rebates[0].outline, {}}) * (rebates[0].to - rebates[0].from) == Approx(12000));
  CHECK(area({rebates[1].outline, {}}) * (rebates[1].to - rebates[1].from) ==
        Approx(6 * 100 * 12.7));
  // What a part weighs leaves out its cuts: 300 x 200 x 17.7 less those three, which overlap where
  // the joint's rebate cuts through that of the file (6 x 100 x 6).
  const Part& part = *stand().find("stand/cheek");
  CHECK(volume(*part.shape) ==
        Approx(300 * 200 * 17.7 - 290 * 12 * 6 - 12000 - 6 * 100 * 12.7 + 6 * 100 * 6));
}

TEST_CASE("screws go through one part into the other", "[layout][joints]") {
  // Wood 4 x 40 in 12 mm of lid: its tip is 28 deep in the cheek.
  const Bolt& screw = stand().catalogue->bolts.at("wood_4x40");
  for (const double y : {100.0, 320.0}) {
    check_bore("lid", {208.85, y, 646.9}, {0, 0, -1}, screw.clearance_hole, 12, BoreRole::screw);
    check_bore("cheek", {208.85, y, 634.9}, {0, 0, -1}, screw.pilot_hole, 28, BoreRole::pilot);
  }
  const Box box = box_of("screw.lid_1_1");
  CHECK(box.hi.z == Approx(646.9));
  CHECK(box.lo.z == Approx(606.9));
  check_bore("cheek", {208, 200, 634.9}, {0, 0, -1},
             stand().catalogue->bolts.at("wood_3_5x25").pilot_hole, 13, BoreRole::pilot);
}

TEST_CASE("what is joined is told, and nothing else", "[layout][joints]") {
  CHECK(joint("infill_1").kind == "panel in slot");
  CHECK(joint("infill_2").parts == std::vector<std::string>{"stand/infill", "stand/rail_high"});
  CHECK(joint("tabs_3").parts == std::vector<std::string>{"stand/tab_3", "stand/shelf"});
  // 2 low, high, hidden, 2 cross, stub, top, shelf, rear, 2 infill, cheek, 2 floor, 2 lid, back, 3
  // tabs, 2 of the drawer's front, the magnet and the single screw; 5 boards, the last one cut; 2
  // hinges each of wing and door, 2 slides, 2 handles.
  CHECK(stand().joints.size() == 25 + 5 + 4 + 2 + 2);
}

namespace {

/// One rule broken once in the sample.
struct Row {
  const char* code;
  const char* from;
  const char* to;
  const char* says;  ///< part of the message
};

}  // namespace

TEST_CASE("a joint that does not fit is told where the file asks for it", "[layout][joints]") {
  const auto row = GENERATE(values<Row>({
      {"joint.apart", "to = [560, 20, 100]", "to = [550, 20, 100]",
       "stand/joint.low_2: stand/rail_low and stand/post_b are 10 mm apart"},
      {"joint.overlap", "to = [560, 20, 100]", "to = [565, 20, 100]", "reach 5 mm into each other"},
      {"joint.not_square", "from = [20, 40, 550], along = \"back\", length = \"320 mm\"",
       "from = [20, 54.15, 550], to = [60, 360, 590]", "do not meet at right angles"},
      {"joint.not_at_end", "[\"rail_low\", \"post_a\", \"post_b\"]", "[\"post_a\", \"rail_low\"]",
       "stand/post_a does not end at stand/rail_low"},
      {"joint.no_member", "[\"rail_high\", \"post_b\"]", "[\"shelf\", \"rail_high\"]",
       "stand/shelf is no member"},
      {"joint.no_panel", "[\"shelf\", \"rail_high\"]", "[\"rail_high\", \"post_a\"]",
       "stand/rail_high is no panel"},
      {"joint.no_core_bore", "rail_low = { profile = \"slotted_40\"",
       "rail_low = { profile = \"aluminium_tube_30_30_2\"", "has no core bore"},
      {"joint.wrong_thread", "bolt = \"m8_25_button\"", "bolt = \"m6_20_button\"",
       "is 6.8 mm, and the thread of m6_20_button is cut into 5 mm"},
      {"joint.bolt_too_short", "bolt = \"m8_25_button\"", "bolt = \"m8_14_button\"",
       "14 mm long, holds over 9.5 mm in the core bore of stand/rail_low; it should over 12 mm"},
      {"joint.head_in_slot", "bolt = \"m8_25_button\"", "bolt = \"m8_25\"",
       "is 8 mm high, and the slot of stand/post_a takes 7.8 mm"},
      {"joint.tap_too_deep", "from = [20, 40, 550], along = \"back\", length = \"320 mm\"",
       "from = [20, 340, 550], along = \"back\", length = \"20 mm\"",
       "the thread would be 24 mm deep, and stand/cross is 20 mm long"},
      {"joint.sunk_too_deep", "sunk = 9", "sunk = 40", "is sunk by 40 mm"},
      {"joint.edge_only", "from = [40, 20, 400], to = [560, 20, 400]",
       "from = [40, 60, 400], to = [560, 60, 400]", "meet along an edge only"},
      {"joint.core_misses", "from = [40, 20, 400], to = [560, 20, 400]",
       "from = [40, 42, 400], to = [560, 42, 400]", "no core bore of stand/rail_high ends on"},
      {"joint.connector_short", "connector = \"hidden_40\" }\ncross",
       "connector = \"hidden_30\" }\ncross", "is 15 mm deep and does not reach a core bore"},
      {"joint.connector_too_large", "from = [580, 40, 600], along = \"back\", length = \"200 mm\"",
       "from = [580, 40, 600], along = \"back\", length = \"25 mm\"",
       "the distance from the end of hidden_40 takes 28.5 mm, and there is 25 mm"},
      {"joint.side", "side = \"right\" }\ntop", "side = \"back\" }\ntop",
       "is no face across both parts"},
      {"joint.towards", "side = \"front\", towards = \"up\"",
       "side = \"front\", towards = \"right\"", "is not along stand/post_a"},
      {"joint.not_flush", "from = [40, 20, 400], to = [560, 20, 400]",
       "from = [40, 30, 400], to = [560, 30, 400]", "under the plate differ by 10 mm"},
      {"joint.plate_hole", "to = [560, 20, 400]", "to = [80, 20, 400]",
       "does not lie over a slot of stand/rail_high"},
      {"joint.no_slot", "stub = { profile = \"slotted_40\", from = [580, 40, 600]",
       "stub = { profile = \"slotted_40\", from = [584, 40, 600]",
       "no slot of stand/post_b lies where stand/stub meets it"},
      {"joint.no_room_for_bracket", "from = [20, 40, 550]", "from = [20, 40, 30]",
       "and there is 10 mm of profile for it"},
      {"joint.threads_differ", "parts = [\"shelf\", \"rail_high\"], bolt = \"m8_25\"",
       "parts = [\"shelf\", \"rail_high\"], bolt = \"m6_25\"",
       "the bolt is 6 mm thick, and its nut has a thread of 8 mm"},
      {"joint.no_room", "spacing = \"250 mm\"", "at = [3, 500]",
       "a fastener at 3 mm of 520 mm comes nearer than 6.5 mm"},
      {"joint.not_on_face", "at = [40, 0, 420]\nsize = [520, 400]",
       "at = [40, 0, 420]\nsize = [520, 200]\nfaces = \"front\"",
       "the edge of stand/shelf lies on"},
      {"joint.panel_too_thick", "sheet = \"birch_6\"\nat = [60, 16.8, 111]",
       "sheet = \"birch_9\"\nat = [60, 15.4, 111]",
       "stands 0 mm beside the middle of a slot 8.2 mm wide"},
      {"joint.panel_too_deep", "at = [60, 16.8, 111]", "at = [60, 16.8, 108]",
       "reaches 12 mm into the slot of stand/rail_low, which takes 10.3 mm"},
      {"joint.not_inside", "at = [60, 16.8, 111]\nsize = [440, 278]",
       "at = [60, 16.8, 111]\nsize = [440, 200]", "does not reach into stand/rail_high"},
      {"joint.cuts_through", "at = [211.7, 60, 500]\nsize = [194.3, 290]",
       "at = [200, 60, 500]\nsize = [206, 290]", "reaches 17.7 mm into stand/cheek"},
      {"joint.not_at_edge", "at = [205, 354, 520]", "at = [205, 300, 520]",
       "meets no edge of stand/cheek"},
      {"joint.dowel_too_long", "depths = [20, 11]", "depths = [18, 11]",
       "is 30 mm long, and its two holes take 29 mm"},
      {"joint.hole_too_deep", "depths = [20, 11]", "depths = [18, 13]",
       "a dowel hole 13 mm deep would come through stand/shelf; at most 11.9 mm"},
      {"joint.dowel_too_thick", "sheet = \"birch_18\"\nat = [200, 60, 434.9]",
       "sheet = \"birch_9\"\nat = [200, 60, 434.9]",
       "is 6 mm thick; where stand/cheek and stand/shelf meet there is room for 4.6 mm"},
      {"joint.screw_misses", "at = [208, 200, 646.9]", "at = [230, 200, 646.9]",
       "does not meet stand/cheek"},
      {"joint.screw_too_long", "tabs = { kind = \"contact\", parts = [\"tab\", \"shelf\"]",
       "tabs = { kind = \"screw\", parts = [\"tab\", \"shelf\"], screw = \"wood_3_5x25\"",
       "is 25 mm long and would come out of stand/shelf"},
      {"joint.screw_too_short", "screw = \"wood_4x40\"", "screw = \"wood_3x12\"",
       "wood_3x12 holds over 0 mm in stand/cheek; it should over 4.5 mm"},
      {"layout.bolt_too_long", "parts = [\"shelf\", \"rail_high\"], bolt = \"m8_25\"",
       "parts = [\"shelf\", \"rail_high\"], bolt = \"m8_30\"", "would meet the floor of the slot"},
      {"layout.bolt_too_short", "parts = [\"shelf\", \"rail_high\"], bolt = \"m8_25\"",
       "parts = [\"shelf\", \"rail_high\"], bolt = \"m8_20\"", "does not fill its nut"},
  }));
  CAPTURE(row.code);
  std::string text = kLopsidedCustom;
  const auto at = text.find(row.from);
  REQUIRE(at != std::string::npos);
  text.replace(at, std::string(row.from).size(), row.to);
  const auto built = lay_out_text(text);
  INFO(words(built.findings));
  const auto found = std::ranges::find(built.findings, row.code, &Finding::code);
  REQUIRE(found != built.findings.end());
  const std::string message = message_text(*found, LengthStyle::millimetres);
  CHECK_THAT(message, Catch::Contains(row.says));
  CHECK_FALSE(message.ends_with("?"));
  CHECK_FALSE(advice_text(*found, LengthStyle::millimetres).empty());
  REQUIRE(found->place);
  CHECK(found->place->line > 0);
}
