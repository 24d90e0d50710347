#include "assembly/assembly.hpp"
#include "projects.hpp"
#include "replay.hpp"
#include "sample_layout.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

/// A part of several boxes: rails with grooves, clamps.
Part boxes_part(const std::string& id, const std::vector<Box>& boxes) {
  Part part = box_part(id, PartKind::panel, {}, {1, 1, 1});
  Shape shape;
  for (const Box& box : boxes) {
    Shape one = box_shape(box.lo, box.hi);
    shape.prisms.insert(shape.prisms.end(), one.prisms.begin(), one.prisms.end());
  }
  part.shape = std::make_shared<const Shape>(std::move(shape));
  return part;
}

Layout layout_of(std::vector<Part> parts) {
  Layout layout;
  layout.project.name = "test";
  layout.catalogue = std::make_shared<Catalogue>();
  layout.modules = {
      {.name = "m", .kind = "custom", .title = "M", .envelope = {}, .front = "rear", .place = {}}};
  std::ranges::sort(parts, {}, &Part::id);
  layout.parts = std::move(parts);
  return layout;
}

/// A rail with a groove 10 mm deep and 12 mm wide that looks to the middle of the frame: along x
/// from x0 to x1, below or above.
Part grooved_rail(const std::string& id, double x0, double x1, double z, double inward) {
  const auto slab = [&](double from, double to, double y0, double y1) {
    const auto [lo, hi] = std::minmax({z + inward * from, z + inward * to});
    return Box{{x0, y0, lo}, {x1, y1, hi}};
  };
  return boxes_part(id, {slab(0, 30, -14, 26), slab(30, 40, -14, 0), slab(30, 40, 12, 26)});
}
Part grooved_post(const std::string& id, double x, double inward) {
  const auto slab = [&](double from, double to, double y0, double y1) {
    const auto [lo, hi] = std::minmax({x + inward * from, x + inward * to});
    return Box{{lo, y0, 0}, {hi, y1, 500}};
  };
  return boxes_part(id, {slab(0, 30, -14, 26), slab(30, 40, -14, 0), slab(30, 40, 12, 26)});
}

std::size_t step_of(const AssemblyUnit& unit, const std::string& part) {
  const auto at = std::ranges::find_if(unit.steps, [&](const AssemblyStep& step) {
    return std::ranges::find(step.parts, part) != step.parts.end();
  });
  REQUIRE(at != unit.steps.end());
  return static_cast<std::size_t>(at - unit.steps.begin());
}

/// A screw along -z whose head lies on `at`.
Part screw_down(const std::string& id, Vec3 at, std::vector<std::string> hosts) {
  Part screw = box_part(id, PartKind::hardware, {}, {1, 1, 1});
  Shape shape;
  shape.prisms = {cylinder(4, 30), cylinder(8, 3, Frame{.origin = {0, 0, -3}})};
  screw.shape = std::make_shared<const Shape>(std::move(shape));
  screw.frame = frame_zx(at, {0, 0, -1}, {1, 0, 0});
  screw.stock.key = "screw";
  screw.hosts = std::move(hosts);
  return screw;
}

Layout with_screw_type(Layout layout) {
  auto catalogue = std::make_shared<Catalogue>();
  Bolt& bolt = catalogue->bolts["screw"];
  bolt.key = "screw";
  bolt.kind = BoltKind::wood;
  bolt.diameter = 4;
  bolt.length = 30;
  bolt.head_diameter = 8;
  bolt.head_height = 3;
  layout.catalogue = std::move(catalogue);
  return layout;
}

}  // namespace

TEST_CASE("a panel that sits in grooves all round goes in before the frame closes", "[assembly]") {
  const Layout layout =
      layout_of({grooved_rail("m/bottom", 0, 600, -40, 1), grooved_rail("m/top", 0, 600, 540, -1),
                 grooved_post("m/left", -40, 1), grooved_post("m/right", 640, -1),
                 boxes_part("m/panel", {{{-8, 0, -8}, {608, 12, 508}}})});
  const AssemblyPlan plan = plan_assembly(layout);
  REQUIRE(plan.units.size() == 1);
  CHECK(plan.findings.empty());
  const AssemblyUnit& unit = plan.units.front();
  REQUIRE(unit.steps.size() == 5);
  // By hand: the last of the four sides to come closes the frame, so the panel is never last.
  CHECK(step_of(unit, "m/panel") < 4);
  // Lids that come from above are tried first.
  CHECK(step_of(unit, "m/top") == 4);
  CHECK(unit.steps[4].direction == Vec3{0, 0, -1});
  CHECK(replay(layout, plan).empty());
}

TEST_CASE("parts that hold each other are told as an interlock", "[assembly]") {
  // A tube along x, a core in it that is wider than its ends, and plugs outside that are one part
  // with a bar through the core: nothing comes out by a straight move.
  const Layout layout = layout_of({boxes_part("m/tube", {{{0, 0, 0}, {100, 10, 100}},
                                                         {{0, 90, 0}, {100, 100, 100}},
                                                         {{0, 10, 0}, {100, 90, 10}},
                                                         {{0, 10, 90}, {100, 90, 100}}}),
                                   boxes_part("m/core", {{{10, 10.5, 10.5}, {90, 45, 89.5}},
                                                         {{10, 55, 10.5}, {90, 89.5, 89.5}},
                                                         {{10, 45, 10.5}, {90, 55, 45}},
                                                         {{10, 45, 55}, {90, 55, 89.5}}}),
                                   boxes_part("m/plug", {{{-20, -10, -10}, {-0.5, 110, 110}},
                                                         {{100.5, -10, -10}, {120, 110, 110}},
                                                         {{-0.5, 46, 46}, {100.5, 54, 54}}})});
  const AssemblyPlan plan = plan_assembly(layout);
  REQUIRE(plan.findings.size() == 1);
  const Finding& finding = plan.findings.front();
  CHECK(finding.code == "assembly.interlock");
  CHECK(finding.status == Status::not_proven);
  CHECK_FALSE(finding.subjects.empty());
  const std::string by = std::get<std::string>(finding.argument("by")->value);
  CHECK(by.find("m/") != std::string::npos);
  const auto forced = std::ranges::count_if(
      plan.units.front().steps, [](const AssemblyStep& step) { return !step.straight; });
  CHECK(forced == 2);  // the core, and then tube and plug, which hold each other still
}

TEST_CASE("without the plug the same tube and core come apart", "[assembly]") {
  const Layout layout = layout_of({boxes_part("m/tube", {{{0, 0, 0}, {100, 10, 100}},
                                                         {{0, 90, 0}, {100, 100, 100}},
                                                         {{0, 10, 0}, {100, 90, 10}},
                                                         {{0, 10, 90}, {100, 90, 100}}}),
                                   boxes_part("m/core", {{{10, 10.5, 10.5}, {90, 89.5, 89.5}}})});
  const AssemblyPlan plan = plan_assembly(layout);
  CHECK(plan.findings.empty());
  // By hand: clear of the tube when its far end has passed the tube's end: 100 - 10, and 1 more.
  const AssemblyStep& last = plan.units.front().steps.back();
  CHECK(std::abs(last.direction.x) == Approx(1.0));
  CHECK(replay(layout, plan).empty());
}

TEST_CASE("what would hide a screw comes after it", "[assembly]") {
  // The lid lies 20 mm over the shelf's screw. It is listed with a lower place than nothing else
  // asks for, so that height alone would not order it.
  const Layout layout =
      with_screw_type(layout_of({box_part("m/base", PartKind::panel, {0, 0, 0}, {400, 300, 40}),
                                 box_part("m/shelf", PartKind::panel, {100, 0, 40}, {300, 300, 12}),
                                 box_part("m/lid", PartKind::panel, {0, 0, 75}, {400, 300, 12}),
                                 screw_down("m/screw", {250, 150, 52}, {"m/shelf", "m/base"})}));
  const AssemblyPlan plan = plan_assembly(layout);
  const AssemblyUnit& unit = plan.units.front();
  CHECK(plan.findings.empty());
  CHECK(step_of(unit, "m/shelf") < step_of(unit, "m/lid"));
  REQUIRE(unit.steps[step_of(unit, "m/shelf")].fasteners.size() == 1);
  CHECK(unit.steps[step_of(unit, "m/shelf")].fasteners[0].reach == Reach::straight);
  CHECK(unit.steps[step_of(unit, "m/shelf")].fasteners[0].tool == "screwdriver");
}

TEST_CASE("a screw that its own parts hide is told", "[assembly]") {
  // The shelf is a box that is open to one side only: its screw lies on the floor of it, 20 mm
  // under its roof.
  const Layout layout =
      with_screw_type(layout_of({box_part("m/base", PartKind::panel, {0, 0, 0}, {400, 300, 40}),
                                 boxes_part("m/shelf", {{{0, 0, 40}, {400, 300, 52}},
                                                        {{0, 0, 72}, {400, 300, 84}},
                                                        {{0, 0, 52}, {400, 12, 72}}}),
                                 screw_down("m/screw", {200, 150, 52}, {"m/shelf", "m/base"})}));
  const AssemblyPlan plan = plan_assembly(layout);
  REQUIRE(plan.findings.size() == 1);
  CHECK(plan.findings[0].code == "assembly.tool");
  CHECK(plan.findings[0].subjects == std::vector<std::string>{"m/screw"});
}

TEST_CASE("a screw in a hollow that no hand gets into is told", "[assembly]") {
  // The shelf is a box 240 mm high inside, so that the driver finds room over its floor.
  const auto with_walls = [](std::vector<Box> walls) {
    walls.insert(walls.end(), {{{0, 0, 40}, {400, 300, 52}}, {{0, 0, 292}, {400, 300, 304}}});
    return with_screw_type(
        layout_of({box_part("m/base", PartKind::panel, {0, 0, 0}, {400, 300, 40}),
                   boxes_part("m/shelf", walls),
                   screw_down("m/screw", {200, 150, 52}, {"m/shelf", "m/base"})}));
  };
  const std::vector<Box> three{
      {{0, 0, 52}, {400, 12, 292}}, {{0, 288, 52}, {400, 300, 292}}, {{0, 12, 52}, {12, 288, 292}}};
  CHECK(plan_assembly(with_walls(three)).findings.empty());
  std::vector<Box> four = three;
  four.push_back({{388, 12, 52}, {400, 288, 292}});
  const AssemblyPlan plan = plan_assembly(with_walls(four));
  REQUIRE(plan.findings.size() == 1);
  CHECK(plan.findings[0].code == "assembly.tool");
}

TEST_CASE("the parts of a drawer are put together first", "[assembly]") {
  Layout layout =
      layout_of({box_part("m/floor", PartKind::panel, {0, 0, 0}, {400, 400, 18}),
                 box_part("m/drawer_left", PartKind::panel, {20, 20, 30}, {300, 12, 80}),
                 box_part("m/drawer_right", PartKind::panel, {20, 300, 30}, {300, 12, 80}),
                 box_part("m/roof", PartKind::panel, {0, 0, 130}, {400, 400, 18})});
  layout.motions = {{.id = "m/drawer",
                     .title = "Drawer",
                     .kind = MotionKind::translation,
                     .parts = {"m/drawer_left", "m/drawer_right"},
                     .axis = {-1, 0, 0},
                     .origin = {},
                     .travel = 300,
                     .required = 300,
                     .gives_way = {}}};
  const AssemblyPlan plan = plan_assembly(layout);
  REQUIRE(plan.units.size() == 2);
  CHECK(plan.units[0].name == "m/drawer");
  CHECK(plan.units[0].steps.size() == 2);
  CHECK(plan.units[1].steps.size() == 3);
  const AssemblyStep& drawer = plan.units[1].steps[step_of(plan.units[1], "m/drawer_left")];
  CHECK(drawer.parts.size() == 2);
  CHECK(drawer.title == "Drawer");
}

TEST_CASE("what has dowels comes along them, and a floor in grooves goes in before or after",
          "[assembly]") {
  // A front, two sides dowelled to it along y, and a floor 6 mm deep in both sides, along x.
  const auto dowel = [](const std::string& id, double x, const std::string& side) {
    Part part = box_part(id, PartKind::hardware, {}, {1, 1, 1});
    Shape shape;
    shape.prisms = {cylinder(6, 30)};
    part.shape = std::make_shared<const Shape>(std::move(shape));
    part.frame = frame_zx({x, -15, 60}, {0, 1, 0}, {1, 0, 0});
    part.stock.key = "dowel";
    part.hosts = {"m/front", side};
    return part;
  };
  const auto side = [](const std::string& id, double x, double inward) {
    const auto [lo, hi] = std::minmax({x, x + inward * 6});
    const auto [from, to] = std::minmax({x + inward * 6, x + inward * 12});
    return boxes_part(id, {{{lo, 0, 0}, {hi, 300, 100}},
                           {{from, 0, 0}, {to, 300, 20}},
                           {{from, 0, 30}, {to, 300, 100}}});
  };
  Layout layout =
      layout_of({boxes_part("m/front", {{{0, -15, 0}, {400, 0, 100}}}), side("m/side_a", 0, 1),
                 side("m/side_b", 400, -1), boxes_part("m/floor", {{{6, 0, 20}, {394, 300, 30}}}),
                 dowel("m/dowel_a", 6, "m/side_a"), dowel("m/dowel_b", 394, "m/side_b")});
  auto catalogue = std::make_shared<Catalogue>();
  catalogue->dowels["dowel"].key = "dowel";
  layout.catalogue = std::move(catalogue);
  for (const char* which : {"a", "b"}) {
    const std::string end(which);
    layout.joints.push_back(
        {"m/joint_" + end, "dowels", {"m/side_" + end, "m/front"}, {"m/dowel_" + end}});
  }
  const AssemblyPlan plan = plan_assembly(layout);
  CHECK(plan.findings.empty());
  const AssemblyUnit& unit = plan.units.front();
  REQUIRE(unit.steps.size() == 4);
  for (std::size_t i = 1; i < 4; ++i) {
    const AssemblyStep& step = unit.steps[i];
    CAPTURE(step.parts.front());
    CHECK(step.straight);
    if (step.parts.front() != "m/floor" || i == 3) CHECK(std::abs(step.direction.y) == Approx(1.0));
  }
  CHECK(replay(layout, plan).empty());
}

TEST_CASE("a board with a tongue goes in from its side, over the tongue's depth", "[assembly]") {
  // A wall, and boards before it: each has a tongue 5 mm deep that the groove of the next one
  // takes.
  const auto board = [](const std::string& id, double y) {
    return boxes_part(id, {{{-12, y, 0}, {0, y + 80, 900}},
                           {{-8, y + 80, 0}, {-4, y + 85, 900}},  // tongue
                           {{-12, y - 5.2, 0}, {-8.2, y, 900}},   // cheeks of the groove
                           {{-3.8, y - 5.2, 0}, {0, y, 900}}});
  };
  const Layout layout =
      layout_of({box_part("m/wall", PartKind::panel, {0, 0, 0}, {18, 400, 900}),
                 board("m/board_1", 10), board("m/board_2", 95.2), board("m/board_3", 180.4)});
  const AssemblyPlan plan = plan_assembly(layout);
  const AssemblyUnit& unit = plan.units.front();
  REQUIRE(unit.steps.size() == 4);
  CHECK(plan.findings.empty());
  int from_the_side = 0;
  for (const AssemblyStep& step : unit.steps) {
    if (step.parts.front() == "m/wall" || step.travel == 0.0) continue;
    ++from_the_side;
    CHECK(std::abs(step.direction.y) == Approx(1.0));
    CHECK(step.travel == Approx(5.0).margin(0.5));  // by hand: tongue and groove overlap so far
    CHECK(step.clear > step.travel);
  }
  CHECK(from_the_side == 2);
  CHECK(replay(layout, plan).empty());
}

TEST_CASE("what reaches from wall to wall is put together in the van, board by board",
          "[assembly]") {
  // Tongues of 5.1 (layout of the example): a board stands off by so much, comes up to the sheet,
  // and slides home.
  const Layout layout = laid_out_file(RIBBAY_SOURCE_DIR "/params/examples/partition.toml");
  const AssemblyPlan plan = plan_assembly(layout);
  CHECK(plan.findings.empty());
  const AssemblyUnit& unit = plan.units.back();
  CHECK_FALSE(unit.bench);
  int round_a_corner = 0;
  for (const AssemblyStep& step : unit.steps) {
    if (length(step.first) < 0.5) continue;
    ++round_a_corner;
    CAPTURE(step.parts.front());
    CHECK(step.parts.front().starts_with("partition/plank_"));
    CHECK(std::abs(step.first.x) == Approx(1.0));
    CHECK(std::abs(step.direction.y) == Approx(1.0));
    CHECK(step.travel > 5.0);
    CHECK(step.travel < 5.5);
  }
  CHECK(round_a_corner > 10);
  CHECK(replay(layout, plan).empty());
  // So is the demo's bunk, from rib to rib; its galley, 930 wide, is turned in the van.
  std::map<std::string, bool> on_bench;
  for (const AssemblyUnit& each : plan_assembly(demo()).units) on_bench[each.name] = each.bench;
  CHECK_FALSE(on_bench.at("bunk"));
  CHECK_FALSE(on_bench.at("partition"));
  CHECK(on_bench.at("galley/frame"));
}

TEST_CASE("in the van things come in past what stood there before, where there is such a way",
          "[assembly]") {
  const Layout layout = demo();
  const auto all = placed_parts(layout);
  std::vector<std::string> before;
  std::size_t moves = 0;
  for (const AssemblyUnit& unit : plan_assembly(layout).units) {
    for (const AssemblyStep& step : unit.steps) {
      if (unit.bench || !step.straight) continue;
      ++moves;
      for (const std::string& mover : step.parts) {
        for (const std::string& other : before) {
          if (meet(all.at(mover), {}, all.at(other))) continue;
          for (double back = 0.0; back <= way_of(step); back += 4.0) {
            CAPTURE(unit.name, mover, other, back);
            const bool runs_in = meet(all.at(mover), off_by(step, back), all.at(other));
            CHECK_FALSE(runs_in);
            if (runs_in) break;
          }
        }
      }
    }
    if (unit.name != unit.module) continue;
    for (const Part& part : layout.parts) {
      if (part.module == unit.module && part.kind != PartKind::hardware) before.push_back(part.id);
    }
  }
  CHECK(moves > 60);
}

TEST_CASE("modules come after what they stand on, whatever the file says", "[assembly]") {
  Layout layout =
      layout_of({box_part("upper/box", PartKind::panel, {0, 0, 40}, {300, 300, 300}),
                 box_part("lower/plate", PartKind::panel, {0, 0, 0}, {600, 600, 40}),
                 box_part("beside/box", PartKind::panel, {900, 0, 0}, {300, 300, 300})});
  const auto named = [](const std::string& name) {
    return Module{.name = name,
                  .kind = "custom",
                  .title = name,
                  .envelope = {},
                  .front = "rear",
                  .place = {}};
  };
  layout.modules = {named("upper"), named("beside"), named("lower")};
  for (Part& part : layout.parts) part.module = part.id.substr(0, part.id.find('/'));
  std::vector<std::string> order;
  for (const AssemblyUnit& unit : plan_assembly(layout).units) order.push_back(unit.name);
  CHECK(order == std::vector<std::string>{"beside", "lower", "upper"});
}

TEST_CASE("a lining goes in before what would cover its screws or close its way", "[assembly]") {
  // A panel is screwed to the van's left wall from the room: the screw's head looks to the right.
  // In the file the box before it comes first.
  struct Row {
    const char* name;
    Vec3 box;  ///< lower corner of the box, 300 x 280 x 300
    std::vector<std::string> hosts;
    std::vector<std::string> order;
    std::vector<AfterWhy> why;
  };
  const std::vector<std::string> to_rib{"lining/panel", "vehicle/rib.left_1"};
  const auto row = GENERATE_COPY(values<Row>({
      {"over the screw", {400, 400, 300}, to_rib, {"lining", "box"}, {AfterWhy::covers_fixing}},
      {"beside the screw", {0, 400, 0}, to_rib, {"lining", "box"}, {AfterWhy::closes_way}},
      {"where there is room before it", {0, 200, 0}, to_rib, {"box", "lining"}, {}},
      {"and the lining needs it",
       {0, 400, 0},
       {"lining/panel", "box/box"},
       {"box", "lining"},
       {AfterWhy::fixed}},
  }));
  CAPTURE(row.name);
  Layout layout = with_screw_type(
      layout_of({box_part("box/box", PartKind::panel, row.box, {300, 280, 300}),
                 box_part("lining/panel", PartKind::panel, {0, 700, 0}, {1000, 12, 900}),
                 screw_down("lining/screw", {500, 700, 450}, row.hosts)}));
  for (Part& part : layout.parts) {
    part.module = part.id.substr(0, part.id.find('/'));
    if (part.id == "lining/screw") part.frame = frame_zx({500, 700, 450}, {0, 1, 0}, {1, 0, 0});
  }
  layout.modules = {{.name = "box",
                     .kind = "custom",
                     .title = "Box",
                     .envelope = {},
                     .front = "rear",
                     .place = {}},
                    {.name = "lining",
                     .kind = "custom",
                     .title = "Lining",
                     .envelope = {},
                     .front = "rear",
                     .place = {}}};
  const AssemblyPlan plan = plan_assembly(layout);
  std::vector<std::string> order;
  for (const AssemblyUnit& unit : plan.units) order.push_back(unit.name);
  CHECK(order == row.order);
  std::vector<AfterWhy> why;
  for (const AfterModule& each : plan.units.back().after) why.push_back(each.why);
  CHECK(why == row.why);
}

TEST_CASE("a frame's diagonals are those of its outer corners", "[assembly]") {
  const Layout layout =
      layout_of({box_part("m/a", PartKind::member, {100, -200, 0}, {300, 40, 40}),
                 box_part("m/b", PartKind::member, {100, 160, 0}, {300, 40, 40}),
                 box_part("m/c", PartKind::member, {100, -160, 0}, {40, 320, 40}),
                 box_part("m/d", PartKind::member, {360, -160, 0}, {40, 320, 40})});
  const AssemblyPlan plan = plan_assembly(layout);
  REQUIRE_FALSE(plan.squares.empty());
  CHECK(plan.squares[0].view == "plan");
  CHECK(plan.squares[0].width == Approx(400));  // across the van
  CHECK(plan.squares[0].height == Approx(40).margin(360));
  // By hand: 300 and 400 make 500.
  CHECK(plan.squares[0].diagonal == Approx(500));
  CHECK(plan.squares[0].from == Vec3{100, -200, 0});
  CHECK(plan.squares[0].to == Vec3{400, 200, 0});
}

TEST_CASE("what would fall is told, what lies on something is not", "[assembly]") {
  // A foot, a post on it, a beam on the post, and a board glued under the beam.
  Layout layout = layout_of({box_part("m/bottom", PartKind::panel, {0, 0, 0}, {400, 400, 18}),
                             box_part("m/post", PartKind::panel, {0, 0, 18}, {40, 40, 382}),
                             box_part("m/beam", PartKind::panel, {0, 0, 400}, {40, 400, 40}),
                             box_part("m/under", PartKind::panel, {0, 60, 382}, {200, 200, 18})});
  const auto glue = [&](const std::string& a, const std::string& b) {
    layout.joints.push_back({.id = "m/joint." + a,
                             .kind = "rebate",
                             .parts = {"m/" + a, "m/" + b},
                             .hardware = {},
                             .glued = true});
  };
  glue("post", "bottom");
  glue("beam", "post");
  glue("under", "beam");
  const AssemblyPlan plan = plan_assembly(layout);
  REQUIRE(plan.units.size() == 1);
  const AssemblyUnit& unit = plan.units.front();
  const auto step = [&](const std::string& id) { return unit.steps[step_of(unit, "m/" + id)]; };
  CHECK(step("bottom").held);
  CHECK(step("post").held);
  CHECK(step("beam").held);
  CHECK_FALSE(step("under").held);  // nothing is below it
  CHECK(step("under").glued == std::vector<std::string>{"m/beam"});
  CHECK_FALSE(step("under").held_later);
  CHECK(step("bottom").held_later);
}

TEST_CASE("a floor is laid from below upwards", "[assembly][projects]") {
  const Layout layout = laid_out_file(RIBBAY_SOURCE_DIR "/params/examples/floor.toml");
  const AssemblyPlan plan = plan_assembly(layout);
  std::size_t pairs = 0;
  for (const AssemblyUnit& unit : plan.units) {
    for (std::size_t i = 0; i < unit.steps.size(); ++i) {
      CAPTURE(unit.steps[i].parts.front());
      CHECK(unit.steps[i].held);  // the van's floor bears it
      const Box one = bounds(*layout.find(unit.steps[i].parts.front()));
      for (std::size_t later = i + 1; later < unit.steps.size(); ++later) {
        const Box other = bounds(*layout.find(unit.steps[later].parts.front()));
        const bool over_each_other = one.lo.x < other.hi.x - 1 && other.lo.x < one.hi.x - 1 &&
                                     one.lo.y < other.hi.y - 1 && other.lo.y < one.hi.y - 1;
        CAPTURE(unit.steps[later].parts.front());
        if (over_each_other) CHECK(other.lo.z > one.hi.z - 1);
        pairs += over_each_other ? 1 : 0;
      }
    }
  }
  CHECK(pairs > 10);
}

TEST_CASE("halves of slides and hinges come with what they are screwed to",
          "[assembly][projects]") {
  const Layout layout = demo();
  const AssemblyPlan plan = plan_assembly(layout);
  std::map<std::string, int> screwed, met;
  for (const AssemblyUnit& unit : plan.units) {
    for (const AssemblyStep& step : unit.steps) {
      if (step.parts.size() > 1) continue;  // told by the unit that it is
      for (const std::string& id : step.halves) ++screwed[id];
    }
    for (const AssemblyStep& step : unit.steps) {
      for (const std::string& id : step.meeting) {
        ++met[id];
        // Both sides have theirs by then.
        CHECK(screwed[id] == 1);
      }
    }
  }
  // Three drawers with two slides each of two halves, and two hinges.
  CHECK(std::ranges::count_if(screwed, [](const auto& half) {
          return half.first.find(".slide.") != std::string::npos && half.second == 1;
        }) == 12);
  CHECK(std::ranges::count_if(screwed, [](const auto& half) {
          return half.first.find("hinge") != std::string::npos && half.second == 1;
        }) == 4);
  CHECK(met.size() >= 14);
}

TEST_CASE("a frame goes together on the bench where its place leaves no room for the tool",
          "[assembly][projects]") {
  // Carriers between two cheeks, screwed to them from inside and to the board behind from outside:
  // by the time that they stand no driver reaches the screws behind the cheeks.
  const Layout layout = laid_out_file(RIBBAY_SOURCE_DIR "/params/examples/table.toml");
  const AssemblyPlan plan = plan_assembly(layout);
  const auto frame = std::ranges::find(plan.units, "pullout/frame", &AssemblyUnit::name);
  REQUIRE(frame != plan.units.end());
  CHECK(frame->bench);
  CHECK(frame->steps.size() == 3);
  const auto whole = std::ranges::find(plan.units, "pullout", &AssemblyUnit::name);
  REQUIRE(whole != plan.units.end());
  CHECK(frame < whole);
  CHECK(whole->steps.front().unit == "pullout/frame");
  CHECK(whole->steps.front().parts.size() == 3);
  for (const AssemblyUnit* unit : {&*frame, &*whole}) {
    for (const AssemblyStep& step : unit->steps) {
      for (const Driven& each : step.fasteners) CHECK(each.reach != Reach::none);
    }
  }
  CHECK(std::ranges::none_of(plan.findings,
                             [](const Finding& each) { return each.code == "assembly.tool"; }));
}

TEST_CASE("what is pushed up from below is told to be held", "[assembly][projects]") {
  const Layout layout = laid_out_file(RIBBAY_SOURCE_DIR "/params/examples/locker.toml");
  const AssemblyPlan plan = plan_assembly(layout);
  std::size_t pushed = 0;
  for (const AssemblyUnit& unit : plan.units) {
    for (const AssemblyStep& step : unit.steps) {
      if (step.direction.z < 0.5 || !step.fasteners.empty() || !step.hardware.empty()) continue;
      CAPTURE(step.parts.front());
      CHECK_FALSE(step.held);
      ++pushed;
    }
  }
  CHECK(pushed >= 3);
}

TEST_CASE("what runs on slides comes along them, as far as their halves lie in each other",
          "[assembly][projects]") {
  const Layout layout = demo();
  const AssemblyPlan plan = plan_assembly(layout);
  int drawers = 0;
  for (const AssemblyUnit& unit : plan.units) {
    for (const AssemblyStep& step : unit.steps) {
      const auto motion = std::ranges::find(layout.motions, step.unit, &Motion::id);
      const bool on_slides = std::ranges::any_of(step.meeting, [](const std::string& half) {
        return half.find(".slide.") != std::string::npos;
      });
      if (!on_slides) continue;
      REQUIRE(motion != layout.motions.end());
      CAPTURE(step.title);
      CHECK(step.straight);
      CHECK(dot(step.direction, motion->axis) == Approx(-1.0));
      // Shut, halves of the same length lie in each other all along.
      const Slide& slide = layout.catalogue->slides.at("slide_400");
      CHECK(step.travel == Approx(slide.length));
      ++drawers;
    }
  }
  CHECK(drawers == 3);
}

TEST_CASE("what would close the fixings of a module goes on after they are driven",
          "[assembly][projects]") {
  // Angles under the bottoms of the demo's galley: sides, back, bottoms and toe board close them
  // in.
  const Layout layout = demo();
  const AssemblyPlan plan = plan_assembly(layout);
  const auto galley = std::ranges::find(plan.units, "galley", &AssemblyUnit::name);
  REQUIRE(galley != plan.units.end());
  CHECK_FALSE(galley->bench);
  const AssemblyStep& frame = galley->steps.front();
  CHECK(frame.unit == "galley/frame");
  CHECK(std::ranges::count_if(frame.fasteners, [](const Driven& each) {
          return each.id.starts_with("galley/floor_angle.") && each.reach != Reach::none;
        }) == 8);
  CHECK(std::ranges::find(frame.parts, "galley/toe") == frame.parts.end());
  const AssemblyStep& toe = galley->steps[step_of(*galley, "galley/toe")];
  CHECK(toe.fasteners.size() == 6);
  CHECK(std::ranges::all_of(toe.fasteners,
                            [](const Driven& each) { return each.reach == Reach::straight; }));
}

TEST_CASE("what a removal takes out goes in the same way, past what stands already",
          "[assembly][projects]") {
  const Layout layout = demo();
  const AssemblyPlan plan = plan_assembly(layout);
  const auto sled = std::ranges::find(plan.units, "heater_sled", &AssemblyUnit::name);
  REQUIRE(sled != plan.units.end());
  const auto removal = std::ranges::find(layout.removals, "heater_sled/item", &Removal::id);
  REQUIRE(removal != layout.removals.end());
  const AssemblyStep& heater = sled->steps.back();
  // The heater is set on its base before, as it comes out on it.
  CHECK(heater.unit == "heater_sled/slide");
  CHECK(heater.parts == std::vector<std::string>{"heater_sled/base", "heater_sled/item"});
  CHECK(dot(heater.direction, removal->direction) == Approx(-1.0));
  // Before it stands the partition, beside it the posts: runners and stop come from the rear too.
  for (const AssemblyStep& step : sled->steps) {
    CAPTURE(step.parts.front());
    CHECK(step.direction.x == Approx(1.0));
  }
}
