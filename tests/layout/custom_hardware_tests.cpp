#include "small_project.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <numbers>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

/// A chest, 600 x 350: a lid on hinges beside a strip, boards on its front, a handle on the lid.
const char* kChest = R"(
[module.chest]
kind = "custom"
faces = "front"
width = 600
depth = 350
height = 470
place = { rear = 1000, middle = 0 }
panels.front = { sheet = "birch_9", at = [0, 20, 0], size = [600, 430], faces = "front" }
panels.lid = { sheet = "birch_12", at = [0, 0, 430], size = [600, 300] }
panels.strip = { sheet = "birch_12", at = [0, 302, 430], size = [600, 48] }
planks.boards = { plank = "maple_9", on = ["front"], at = [0, "20 mm - T", 0], size = [600, 430], screw = "wood_3_5x16" }
hinges.lid_hinge = { hinge = "butt_50", leaf = "lid", on = "strip", at = [0, 301, "430 mm + S + L"], leaf_side = "up", on_side = "up", moves = ["pull"] }
handles.pull = { handle = "bow_128", on = "lid", at = [300, 40, "430 mm + S"], stands_out = "up" }
)";

const Catalogue& stock() {
  static const auto built = lay_out_text(kPlainRack);
  return *built.value->catalogue;
}

std::string chest() {
  std::string text = kChest;
  const auto put = [&](const std::string& mark, double mm) {
    for (auto at = text.find(mark); at != std::string::npos; at = text.find(mark))
      text.replace(at, mark.size(), number_text(mm) + " mm");
  };
  put("20 mm - T", 20 - stock().planks.at("maple_9").thickness);
  put("430 mm + S + L",
      430 + stock().sheets.at("birch_12").thickness + stock().butt_hinges.at("butt_50").thickness);
  put("430 mm + S", 430 + stock().sheets.at("birch_12").thickness);
  return text;
}

std::vector<const Bore*> bores(const Layout& layout, const std::string& part, BoreRole role) {
  std::vector<const Bore*> found;
  for (const Bore& bore : layout.find(part)->shape->prisms.front().prism.bores)
    if (bore.role == role) found.push_back(&bore);
  return found;
}

}  // namespace

TEST_CASE("a custom module has planks, hinges and handles of the catalogue", "[layout][custom]") {
  const auto built = lay_out_text(chest());
  INFO(words(built.findings));
  REQUIRE(built.value);
  REQUIRE_FALSE(has_errors(built.findings));
  const Layout& layout = *built.value;

  // Boards side by side over 600: each covers what it covers, with the gap to swell between.
  const Plank& plank = stock().planks.at("maple_9");
  const int fewest = static_cast<int>(600 / (plank.cover + 3));
  int boards = 0;
  for (const Part& part : layout.parts) boards += part.kind == PartKind::plank ? 1 : 0;
  CHECK(boards >= fewest);
  CHECK(boards <= static_cast<int>(600 / plank.cover) + 1);
  const Box first = bounds(*layout.find("chest/boards_1"));
  CHECK(first.size().z == Approx(430));
  CHECK(first.size().x == Approx(plank.thickness));
  // A screw of 16 through 9 of panel into each board, 30 from its ends: 370 in one stretch.
  CHECK(bores(layout, "chest/boards_1", BoreRole::pilot).size() == 2);
  // Each hole has its countersink.
  CHECK(bores(layout, "chest/front", BoreRole::screw).size() ==
        static_cast<std::size_t>(2 * 2 * boards));

  // The hinge's leaves lie flat on both panels; the lid turns up about the pin.
  const auto motion = std::ranges::find(layout.motions, "chest/motion.lid_hinge", &Motion::id);
  REQUIRE(motion != layout.motions.end());
  CHECK(motion->travel == Approx(std::numbers::pi / 2));
  // Module axes look to the front of the van: its back is the van's rear, 301 behind the front
  // face.
  CHECK(motion->origin.x == Approx(1350 - 301));
  CHECK(motion->origin.z == Approx(430 + stock().sheets.at("birch_12").thickness +
                                   stock().butt_hinges.at("butt_50").thickness));
  for (const char* part : {"chest/lid", "chest/pull", "chest/lid_hinge.hinge_1.moving"})
    CHECK(std::ranges::find(motion->parts, part) != motion->parts.end());
  // Its free edge is at the front and rises: a point there moves up.
  const Vec3 arm{100, 0, 0};
  CHECK(cross(motion->axis, arm).z > 0.0);
  const auto holes =
      stock().butt_hinges.at("butt_50").holes(stock().butt_hinges.at("butt_50").length);
  CHECK(bores(layout, "chest/lid", BoreRole::pilot).size() == 2 * holes.size());

  // The handle's two holes, 128 apart.
  const auto handle = bores(layout, "chest/lid", BoreRole::handle);
  REQUIRE(handle.size() == 2);
  CHECK(length(handle[0]->at - handle[1]->at) == Approx(128));
  CHECK(layout.find("chest/pull")->stock.key == "bow_128");
}

TEST_CASE("what planks, hinges and handles of a custom module cannot do is told",
          "[layout][custom]") {
  struct Row {
    std::vector<std::string> set;
    const char* code;
  };
  const auto row = GENERATE(values<Row>({
      {{"module.chest.planks.boards.at=[0, 0, 0]"}, "custom.planks_off"},
      {{"module.chest.planks.boards.run=front"}, "custom.grain_across"},
      {{"module.chest.planks.boards.first=5 mm"}, "planks.narrow_board"},
      {{"module.chest.planks.boards.screw=wood_4x40"}, "planks.screw_comes_out"},
      {{"module.chest.planks.boards.moisture=[2, 14]"}, "planks.moisture"},
      {{"module.chest.planks.boards.on=frnt"}, "custom.unknown_part"},
      {{"module.chest.hinges.lid_hinge.at=[0, 301, 460]"}, "custom.hinge_off"},
      {{"module.chest.hinges.lid_hinge.leaf_side=right"}, "custom.hinge_panel"},
      {{"module.chest.hinges.lid_hinge.leaf=boards_1"}, "custom.hinge_panel"},
      {{"module.chest.hinges.lid_hinge.leaves=part", "module.chest.hinges.lid_hinge.opens=200"},
       "carcass.hinge_opens_too_little"},
      {{"module.chest.hinges.lid_hinge.leaves=close", "module.chest.hinges.lid_hinge.opens=200"},
       "custom.hinge_closes"},
      {{"module.chest.planks.boards.screw=wood_3x12"}, "planks.screw_short"},
      {{"module.chest.motions.lid_hinge.moves=lid", "module.chest.motions.lid_hinge.slides=5"},
       "custom.same_name"},
      {{"module.chest.handles.pull.stands_out=front"}, "custom.handle_off"},
      {{"module.chest.handles.pull.stands_out=front", "module.chest.handles.pull.at=[200, 0, 436]"},
       "custom.handle_edge"},
      {{"module.chest.handles.pull.along=up"}, "custom.grain_across"},
  }));
  CAPTURE(row.code, row.set.front());
  const auto built = lay_out_text(chest(), row.set);
  INFO(words(built.findings));
  CHECK(has_code(built.findings, row.code));
}

TEST_CASE("a galley's columns hold equipment, and its fronts have handles", "[layout][galley]") {
  const std::string galley = R"(
[equipment.oven]
mass = 18
assumption = true
box.body = { at = [0, 0, 0], size = [380, 400, 350] }
[module.galley]
kind = "galley"
faces = "front"
width = 1200
depth = 550
height = 850
sheet = "birch_15"
screw = "wood_4x40"
panel_screw = "wood_4x20"
slide_screw = "wood_3x12"
slide = "slide_400"
hinge = "hinge_110"
shelf_pin = "shelf_pin_5"
handle = "bow_96"
place = { rear = 800, middle = 0 }
columns.drawers = { width = "1 share", drawers = ["1 share", "1 share"] }
columns.oven = { width = "1 share", open = true, shelves = [200], holds.oven = { item = "oven", on_shelf = 1 } }
columns.door = { width = "1 share", door = "right" }
)";
  const auto built = lay_out_text(galley);
  INFO(words(built.findings));
  REQUIRE(built.value);
  REQUIRE_FALSE(has_errors(built.findings));
  const Layout& layout = *built.value;
  const Box oven = bounds(*layout.find("galley/oven"));
  CHECK(oven.lo.z == Approx(bounds(*layout.find("galley/shelf.oven_1")).hi.z));
  // Its front is flush with the boards beside it.
  CHECK(oven.hi.x == Approx(bounds(*layout.find("galley/side.left")).hi.x));

  // 96 apart on each front, and through the inner front of a drawer as well; no finger pulls.
  for (const char* front : {"galley/drawer.drawers_1.front", "galley/drawer.drawers_1.inner_front",
                            "galley/door.door.leaf"}) {
    CAPTURE(front);
    const auto holes = bores(layout, front, BoreRole::handle);
    REQUIRE(holes.size() == 2);
    CHECK(length(holes[0]->at - holes[1]->at) == Approx(96));
  }
  for (const char* motion : {"galley/drawer.drawers_1", "galley/door.door"}) {
    const auto found = std::ranges::find(layout.motions, motion, &Motion::id);
    REQUIRE(found != layout.motions.end());
    const std::string handle = std::string(motion) + ".handle";
    CHECK(std::ranges::find(found->parts, handle) != found->parts.end());
  }

  const auto code = [&](const char* set) { return lay_out_text(galley, {set}).findings; };
  CHECK(has_code(code("module.galley.columns.oven.holds.oven.on_shelf=2"), "galley.no_such_shelf"));
  CHECK(has_code(code("module.galley.columns.oven.shelves=[500]"), "galley.item_no_room"));
  CHECK(has_code(code("module.galley.columns.drawers.holds.oven.item=oven"),
                 "galley.shelves_behind_drawers"));
  CHECK(has_code(code("handle.bow_96.length=2000mm"), "galley.handle_no_room"));
}
