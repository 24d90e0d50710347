#include "laid_out.hpp"
#include "layout/wood.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

const char* kPlainPartition = R"(
[module.partition]
kind = "partition"
faces = "front"
sheet = "birch_18"
height = "1000 mm"
pieces = ["1 share", "1 share"]
seam_screw = "wood_3_5x16"
place = { rear = "900 mm", between = "walls", on = "floor" }
)";

}  // namespace

TEST_CASE(
    "a partition is as thick as its sheet really is and reaches the walls but for the edge gap",
    "[layout][partition]") {
  const Layout layout = good(kPlainPartition);
  // Nominal 18, actual mean 17.7 mm (params/stock/sheets.toml names the source).
  CHECK(layout.module("partition")->envelope.size().x == Approx(17.7));
  CHECK(bounds(*layout.find("partition/piece_1")).lo.y == Approx(-800 + 3));
  CHECK(bounds(*layout.find("partition/piece_2")).hi.y == Approx(800 - 3));
}

TEST_CASE("two pieces lap by the lap, half the thickness each", "[layout][partition]") {
  const Layout layout = good(kPlainPartition);
  const Box a = bounds(*layout.find("partition/piece_1"));
  const Box b = bounds(*layout.find("partition/piece_2"));
  CHECK(a.hi.y - b.lo.y == Approx(30));
  // Together they make the whole wall: 1594 by 1000 by 17.7, nothing twice.
  const double together = volume(*layout.find("partition/piece_1")->shape) +
                          volume(*layout.find("partition/piece_2")->shape);
  CHECK(together == Approx(1594.0 * 1000.0 * 17.7).epsilon(1e-9));
}

TEST_CASE("a partition in a rib's place is notched around it", "[layout][partition]") {
  const Layout layout =
      good(kPlainPartition, {"module.partition.place.rear=740mm"}, std::string(kStraightVan));
  // The rib at 750 stands 30 into the room from z = 100 up: the whole wall less two strips 30 wide
  // that begin an edge gap below the ribs.
  const double full = 1594.0 * 1000.0;
  const double ribs = 2 * 30.0 * (1000 - 100 + 3);
  const double made = volume(*layout.find("partition/piece_1")->shape) +
                      volume(*layout.find("partition/piece_2")->shape);
  CHECK(made / 17.7 == Approx(full - ribs).epsilon(1e-4));
}

TEST_CASE("a partition beside a door that stands into the room is notched around its leaf",
          "[layout][partition]") {
  const std::string van = std::string(kStraightVan) + R"(
[opening.side]
kind = "hinged"
side = "left"
from = "800 mm"
to = "1000 mm"
bottom = "200 mm"
top = "600 mm"
leaf = { intrudes = "20 mm" }
)";
  const Layout layout = good(kPlainPartition, {}, van);
  const double full = 1594.0 * 1000.0;
  const double leaf = 20.0 * (400 + 2 * 3);  // an edge gap below and above it
  const double made = volume(*layout.find("partition/piece_1")->shape) +
                      volume(*layout.find("partition/piece_2")->shape);
  CHECK(made / 17.7 == Approx(full - leaf).epsilon(1e-5));
}

TEST_CASE("an opening follows what another module pokes through it", "[layout][partition]") {
  const std::string text = std::string(kPlainRack) + kPlainPartition + R"(
[module.rack.holds.heater]
item = "water_heater"
bay = 1
level = 2
[module.partition.passes.heater]
left = "rack.heater_burner.left + 10 mm"
right = "rack.heater_burner.right - 10 mm"
bottom = "rack.heater_burner.bottom - 10 mm"
top = "rack.heater_burner.top + 10 mm"
)";
  const auto hole = [&](const std::vector<std::string>& set) {
    const Layout layout = good(text, set);
    for (const Part& part : layout.parts) {
      if (part.module != "partition" || part.kind != PartKind::panel) continue;
      for (const Cut& cut : part.shape->prisms.front().prism.cuts) {
        if (cut.role == CutRole::cut_out)
          return part.frame.point({cut.outline[0].at.x, cut.outline[0].at.y, 0});
      }
    }
    return Vec3{};
  };
  const Vec3 before = hole({});
  const Vec3 after = hole({"module.rack.levels=[0, 450, 860]"});
  CHECK(after.z - before.z == Approx(50));
  CHECK(after.y == Approx(before.y));
}

TEST_CASE("a cycle through what pokes through is reported once with its path",
          "[layout][partition]") {
  const std::string text = std::string(kPlainRack) + kPlainPartition + R"(
[module.rack.holds.heater]
item = "water_heater"
bay = 1
level = 2
[module.partition.passes.heater]
left = "rack.heater_burner.left"
right = "rack.heater_burner.right"
bottom = "rack.heater_burner.bottom"
top = "rack.heater_burner.top"
)";
  const auto built = lay_out_text(text, {"module.rack.depth=partition.pass_heater.top"});
  INFO(words(built.findings));
  int cycles = 0;
  for (const Finding& f : built.findings) cycles += f.code == "expression.cycle" ? 1 : 0;
  CHECK(cycles == 1);
}

TEST_CASE("what a partition cannot be is reported", "[layout][partition]") {
  CHECK(has_code(
      lay_out_text(kPlainPartition, {"module.partition.faces=left", "module.partition.width=500mm"})
          .findings,
      "partition.not_across"));
  CHECK(has_code(lay_out_text(kPlainPartition, {"module.partition.pieces=[\"300 mm\"]"}).findings,
                 "partition.pieces"));
  const std::string pass =
      std::string(kPlainPartition) +
      "[module.partition.passes.x]\nleft = 100\nright = 0\nbottom = 500\ntop = 995\n";
  CHECK(has_code(lay_out_text(pass).findings, "partition.pass_outside"));
  CHECK(has_code(lay_out_text(pass, {"module.partition.passes.x.left=-50mm"}).findings,
                 "partition.pass_reversed"));
  CHECK(has_code(lay_out_text(pass, {"module.partition.passes.x.radius=60mm"}).findings,
                 "partition.pass_outside"));
  CHECK(has_code(lay_out_text(pass, {"module.partition.passes.x.top=900mm",
                                     "module.partition.passes.x.radius=60mm"})
                     .findings,
                 "partition.pass_radius"));
}

namespace {

/// Maple boards that cover 84 of 90 (tongue 6), 9.5 thick, plain-sawn: 0.00353 per percent point.
const char* kPlankWall = R"(
[sheet.wide]
based_on = "birch_9"
width = "1800 mm"
[module.partition]
kind = "partition"
faces = "front"
sheet = "wide"
height = "1000 mm"
place = { rear = "900 mm", between = "walls", on = "floor" }
planks = { plank = "maple_9", moisture = [8, 12], today = 10 }
)";

/// Wood Handbook, FPL-GTR-190, equation 13-2 with table 13-5, sugar maple tangential.
constexpr double kMapleGap = 84 * 0.00353 * 2;

std::vector<const Part*> boards(const Layout& layout) {
  std::vector<const Part*> all;
  for (const Part& part : layout.parts) {
    if (part.kind == PartKind::plank) all.push_back(&part);
  }
  std::ranges::stable_sort(all, {}, [](const Part* part) { return part->order; });
  return all;
}

/// The same, van axes: y of what a board covers, from its groove edge on.
double left_of(const Part& part) {
  return bounds(part).hi.y;
}

}  // namespace

TEST_CASE("a board moves as the handbook says", "[layout][partition][planks]") {
  // 300 mm plain-sawn from 8 to 12 %: cherry 2.976, walnut 3.288, sugar maple 4.236 mm: width times
  // the coefficients of FPL-GTR-190, table 13-5, times 4.
  const Layout layout = good(kPlankWall);
  const auto movement = [&](const char* wood) {
    return wood_movement(300, movement_coefficient(layout.catalogue->materials.at(wood), false), 4);
  };
  CHECK(movement("cherry") == Approx(2.976));
  CHECK(movement("walnut") == Approx(3.288));
  CHECK(movement("maple") == Approx(4.236));
}

TEST_CASE("planks stand before the sheet, with the gap that they swell by until they are wettest",
          "[layout][partition][planks]") {
  const Layout layout = good(kPlankWall);
  CHECK(layout.module("partition")->envelope.size().x == Approx(9.2 + 9.5));
  const std::vector<const Part*> row = boards(layout);
  // 1594 wide: whole boards of 84 and 0.593 between them.
  const double pitch = 84 + kMapleGap;
  const int whole = static_cast<int>((1594 + kMapleGap) / pitch);
  const double rest = 1594 - whole * pitch;
  REQUIRE(row.size() == static_cast<std::size_t>(whole) + 1);
  REQUIRE(rest > 84.0 / 3);
  // Faces the front: the module's left is the van's right.
  CHECK(bounds(*row[0]).lo.y == Approx(-797));
  CHECK(bounds(*row[1]).lo.y - bounds(*row[0]).lo.y == Approx(pitch));
  CHECK(row.front()->stock.width == Approx(90));
  CHECK(row.back()->stock.width == Approx(rest));  // its tongue is sawn off
  CHECK(left_of(*row.back()) == Approx(797));
  CHECK(bounds(*row[3]).size().x == Approx(9.5));
  CHECK(bounds(*row[3]).hi.x == Approx(900 + 9.2 + 9.5));
  // At the wettest they just touch: swollen by what the gap was.
  CHECK(84 * (1 + 2 * 0.00353) == Approx(pitch));
}

TEST_CASE("a last board too narrow is shared with the first", "[layout][partition][planks]") {
  // Chosen so that 15 mm would be left over after 18 whole boards.
  const double pitch = 84 + kMapleGap;
  const double edge = (1600 - (18 * pitch + 15)) / 2;
  const Layout layout =
      good(kPlankWall, {"module.partition.edge_gap=" + std::to_string(edge) + "mm"});
  const std::vector<const Part*> row = boards(layout);
  REQUIRE(row.size() == 19);
  CHECK(row.front()->stock.width == Approx((84 + 15) / 2.0 + 6).epsilon(1e-5));
  CHECK(row.back()->stock.width == Approx((84 + 15) / 2.0).epsilon(1e-5));
  // Laid from the other edge it is the mirror image.
  const Layout other = good(kPlankWall, {"module.partition.edge_gap=" + std::to_string(edge) + "mm",
                                         "module.partition.planks.datum=right"});
  CHECK(bounds(*boards(other).front()).hi.y == Approx(-bounds(*row.front()).lo.y));
}

TEST_CASE("horizontal boards are counted from below and end at the walls",
          "[layout][partition][planks]") {
  const Layout layout =
      good(kPlankWall, {"module.partition.planks.run=horizontal",
                        "module.partition.place.rear=740mm", "module.partition.planks.trim=5mm"});
  const std::vector<const Part*> row = boards(layout);
  CHECK(bounds(*row[0]).lo.z == Approx(5));
  // The lowest stands below the ribs, which begin at 100 and reach 30 into the room.
  CHECK(bounds(*row[0]).size().y == Approx(1594 - 2 * 5));
  CHECK(bounds(*row[4]).size().y == Approx(1594 - 2 * 5 - 2 * 30));
  CHECK(bounds(*row.back()).hi.z == Approx(1000 - 5));
}

TEST_CASE("planks stop short of an opening by the reveal", "[layout][partition][planks]") {
  const std::string pass = R"(
[module.partition.passes.x]
left = 300
right = -300
bottom = 400
top = 600
radius = 0
)";
  const std::vector<std::string> reveal = {"module.partition.planks.reveal=8mm"};
  const Layout whole = good(kPlankWall);
  const Layout layout = good(std::string(kPlankWall) + pass, reveal);
  const auto covered = [](const Layout& of) {
    double sum = 0.0;
    for (const Part* board : boards(of)) sum += volume(*board->shape);
    return sum;
  };
  // What is gone lies within the opening and 8 around it, less the gaps between boards.
  const double gone = (covered(whole) - covered(layout)) / 9.5;
  CHECK(gone < 616.0 * 216);
  CHECK(gone > 616.0 * 216 * 0.97);
  // A board in the middle of it is two.
  const auto parts = std::ranges::count_if(
      boards(layout), [](const Part* board) { return board->id.ends_with(".part_2"); });
  CHECK(parts >= 6);
  for (const Part* board : boards(layout)) {
    const Box box = bounds(*board);
    const bool beside = box.lo.y > -300 && box.hi.y < 300;
    if (!beside) continue;
    CHECK((box.hi.z < 400 - 8 + 1e-6 || box.lo.z > 600 + 8 - 1e-6));
  }
}

TEST_CASE("a board with many openings is as many pieces and one more",
          "[layout][partition][planks]") {
  std::string passes;
  for (int i = 0; i < 12; ++i) {
    const std::string low = std::to_string(100 + 60 * i);
    const std::string high = std::to_string(110 + 60 * i);
    passes += "[module.partition.passes.slot_" + std::to_string(i) +
              "]\nleft = 300\nright = -300\nradius = 0\nbottom = " + low + "\ntop = " + high + "\n";
  }
  const Layout layout = good(std::string(kPlankWall) + passes);
  const auto pieces = std::ranges::count_if(boards(layout), [](const Part* board) {
    return board->id.starts_with("partition/plank_10.part_");
  });
  CHECK(pieces == 13);
}

TEST_CASE("planks are screwed from behind in their middle", "[layout][partition][planks]") {
  const Layout layout = good(kPlankWall, {"module.partition.planks.screw=wood_3_5x16"});
  const Part* screw = layout.find("partition/plank_2.screw_1");
  REQUIRE(screw != nullptr);
  const Box board = bounds(*layout.find("partition/plank_2"));
  CHECK(screw->frame.origin.y == Approx(board.lo.y + 42));
  CHECK(screw->frame.origin.x == Approx(900));  // its head lies on the back
  CHECK(screw->frame.z.x == Approx(1));
  CHECK(screw->hosts == std::vector<std::string>{"partition/piece_1", "partition/plank_2"});
}

TEST_CASE("what planks cannot be is reported", "[layout][partition][planks]") {
  const auto code = [](const std::vector<std::string>& overrides, const char* expected,
                       const std::string& more = {}) {
    const Findings findings = lay_out_text(kPlankWall + more, overrides).findings;
    INFO(words(findings));
    CHECK(has_code(findings, expected));
  };
  code({"module.partition.planks.moisture=[4, 12]"}, "planks.moisture");
  code({"module.partition.planks.today=13"}, "planks.moisture");
  code({"module.partition.planks.datum=bottom"}, "partition.datum");
  code({"module.partition.planks.first=20mm"}, "planks.narrow_board");
  code({"module.partition.planks.screw=wood_4x30"}, "planks.screw_comes_out");
  code({"module.partition.planks.screw=wood_3x12"}, "planks.screw_short");
  code({"plank.maple_9.width=86mm"}, "planks.tongue_out");
  code({"plank.maple_9.material=birch_plywood"}, "planks.no_movement");
  code({}, "partition.cleat_on_planks",
       "[module.partition.cleats.low]\nleft = 300\nright = -300\nsheet = \"birch_12\"\n"
       "screw = \"wood_3x12\"\n");
  // The second board begins at x = 3 + 84.6; an opening from x = 96 leaves 8.4 mm of it.
  code({}, "partition.sliver",
       "[module.partition.passes.x]\nleft = 100\nright = -704\nbottom = 400\ntop = 600\nradius = "
       "0\n");
}

TEST_CASE("a board ends where the arc of an opening's corner lets it, and is screwed to there",
          "[layout][partition][planks]") {
  const std::string pass =
      "[module.partition.passes.x]\nleft = 300\nright = -300\nbottom = 400\ntop = 600\n"
      "radius = 20\n";
  const Layout layout =
      good(std::string(kPlankWall) + pass,
           {"module.partition.planks.reveal=10mm", "module.partition.planks.screw=wood_3_5x16"});
  // By hand: the boards' opening is 620 wide, from -310, its corners R30. Board 7 begins at
  // -797 + 6 x 84.593 = -289.44, 20.56 from the side: there the arc stands 30 - sqrt(30^2 - 9.44^2)
  // into the opening.
  const double from_side = -797 + 6 * (84 + kMapleGap) + 310;
  const double sag = 30 - std::sqrt(30.0 * 30.0 - (30 - from_side) * (30 - from_side));
  CHECK(sag == Approx(1.52).margin(0.01));
  const Box low = bounds(*layout.find("partition/plank_7.part_1"));
  CHECK(low.lo.y == Approx(-310 + from_side));
  CHECK(low.hi.z == Approx(390 + sag).margin(1e-6));
  CHECK(bounds(*layout.find("partition/plank_7.part_2")).lo.z == Approx(610 - sag).margin(1e-6));
  // At a pitch of 400 two screws are enough, counted from above: 30 from both ends of whole wood,
  // which is looked for in steps of 5.
  const double top = layout.find("partition/plank_7.part_1.screw_1")->frame.origin.z;
  CHECK(top <= 390 - 30 + 1e-6);
  CHECK(top >= 390 - 30 - 5);
  CHECK(layout.find("partition/plank_7.part_1.screw_2")->frame.origin.z == Approx(30));
  CHECK(layout.find("partition/plank_7.part_1.screw_3") == nullptr);
  // Where an arc takes less than a saw shows the end is straight: board 8 is the same as board 9.
  CHECK(bounds(*layout.find("partition/plank_8.part_1")).hi.z == Approx(390));
  CHECK(bounds(*layout.find("partition/plank_9.part_1")).hi.z == Approx(390));
}

TEST_CASE("beside an opening a board is screwed in the wood that is left of it",
          "[layout][partition][planks]") {
  const std::string pass =
      "[module.partition.passes.x]\nleft = 300\nright = -240\nbottom = 300\ntop = 600\n"
      "radius = 0\n";
  const Layout layout =
      good(std::string(kPlankWall) + pass, {"module.partition.planks.screw=wood_3_5x16"});
  // Board 7 covers -289.44 to -205.44, and is 49.4 wide beside the opening: its middle is 7.4 from
  // there, and the next step of 5 is far enough.
  const double edge = -797 + 6 * (84 + kMapleGap);
  std::vector<const Part*> screws;
  for (int i = 1; const Part* screw = layout.find("partition/plank_7.screw_" + std::to_string(i));
       ++i)
    screws.push_back(screw);
  REQUIRE(screws.size() == 4);  // 940 at a pitch of 400 at most, from above
  CHECK(screws[0]->frame.origin.z == Approx(970));
  CHECK(screws[0]->frame.origin.y == Approx(edge + 42));
  CHECK(screws[2]->frame.origin.z == Approx(30 + 940.0 / 3));
  CHECK(screws[2]->frame.origin.y == Approx(edge + 42 - 5));
  CHECK(screws[3]->frame.origin.z == Approx(30));
}

TEST_CASE("a screw through a lap has its recess in the half that its head lies in",
          "[layout][partition][planks][screws]") {
  const Layout layout = good(kPlankWall, {"module.partition.pieces=[\"1 share\", \"1 share\"]",
                                          "module.partition.planks.screw=wood_3_5x16"});
  // The seam is at y = 0, and board 10 covers -35.7 to 48.3: its middle lies in the lap of 30.
  const Part* screw = layout.find("partition/plank_10.screw_1");
  REQUIRE(std::abs(screw->frame.origin.y) < 15);
  REQUIRE(screw->hosts.size() == 3);
  const auto at_screw = [&](const char* id) {
    const Part& part = *layout.find(id);
    std::vector<double> diameters;
    for (const Bore& bore : part.shape->prisms.front().prism.bores) {
      const Vec3 off = part.frame.point(bore.at) - screw->frame.origin;
      if (std::abs(off.y) < 1e-6 && std::abs(off.z) < 1e-6) diameters.push_back(bore.diameter);
    }
    std::ranges::sort(diameters);
    return diameters;
  };
  // Screwed from behind: the rear half is the right piece's.
  CHECK(at_screw("partition/piece_1") == std::vector{4.0});
  CHECK(at_screw("partition/piece_2") == std::vector{4.0, 7.0});
}

TEST_CASE("screws of a cleat keep off the shoulders of a lap", "[layout][partition]") {
  const Layout layout = good(std::string(kPlainPartition) +
                             "[module.partition.cleats.low]\nleft = 500\nright = -500\n"
                             "side = \"back\"\nsheet = \"birch_12\"\nscrew = \"wood_3_5x25\"\n");
  // Five at a pitch of 250 at most: the middle one would be on the seam, whose lap ends at 15.
  std::vector<double> places;
  for (int i = 1; i <= 5; ++i)
    places.push_back(layout.find("partition/cleat.low.screw_" + std::to_string(i))->frame.origin.y);
  std::ranges::sort(places);
  const std::vector<double> expected{-470, -235, 30, 235, 470};
  for (std::size_t i = 0; i < 5; ++i) CHECK(places[i] == Approx(expected[i]));
}
