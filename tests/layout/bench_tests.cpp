#include "laid_out.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>

using namespace ribbay;
using namespace ribbay::testing;

// Sheets as bought: birch_12 is 12 thick, birch_18 17.7, birch_21 20.5. The straight van leaves 770
// to each side between its ribs; its joists lie across at x = 150, 450 and so on.

namespace {

/// 1200 wide, 500 deep, 450 high; its x is the van's from 1300 to the rear, its front at y = -270.
const char* const kBench = R"(
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
panel_screw = "wood_3_5x25"
stay = "lid_stay"
stay_screw = "wood_3_5x16"
floor_bolt = "m8_40"
persons = 2
head_room = "900 mm"
cushion = "80 mm"
place = { rear = "100 mm", against = "right wall", on = "floor" }
[module.bench.bays.small]
width = "400 mm"
vents = 5
[module.bench.bays.large]
front = "open"
)";

/// The straight van with a wheel arch at the right: 300 high, 220 into the room.
std::string van_with_arch() {
  return std::string(kStraightVan) + R"(
[arch.right]
side = "right"
from = "400 mm"
to = "900 mm"
height = "300 mm"
half_width = "580 mm"
radius = "100 mm"
edge_radius = "40 mm"
)";
}

Layout good_bench(const std::vector<std::string>& overrides = {},
                  const std::string& van = kStraightVan) {
  return good(kBench, overrides, van);
}

const Part& part(const Layout& layout, const std::string& name) {
  return part_named(layout, "bench/" + name);
}

void check_box(const Layout& layout, const std::string& name, Vec3 lo, Vec3 hi) {
  check_bounds(part(layout, name), lo, hi);
}

}  // namespace

TEST_CASE("a bench is a box with a bottom in every bay and lids on it", "[layout][bench]") {
  const Layout layout = good_bench();
  std::set<std::string> made;
  for (const Part& each : layout.parts) {
    if (is_made(each.kind)) made.insert(each.id.substr(6));
  }
  CHECK(made == std::set<std::string>{"back", "bottom.large", "bottom.small", "divider.small",
                                      "front", "lid_1", "lid_2", "side.left", "side.right",
                                      "strip"});
  // Boxes in the van: x = 1300 - own x, y = -270 - own y.
  check_box(layout, "front", {100, -287.7, 0}, {1300, -270, 429.5});
  check_box(layout, "back", {100, -770, 0}, {1300, -752.3, 429.5});
  check_box(layout, "side.left", {1282.3, -752.3, 0}, {1300, -287.7, 429.5});
  check_box(layout, "divider.small", {864.6, -752.3, 0}, {882.3, -287.7, 429.5});
  // Bays of 400 and 1200 - 3 x 17.7 - 400 = 746.9; rebates of 5.5 in boards of 17.7.
  check_box(layout, "bottom.small", {882.3 - 5.5, -752.3, 0}, {1282.3 + 5.5, -287.7, 12});
  check_box(layout, "bottom.large", {117.7 - 5.5, -752.3, 0}, {864.6 + 5.5, -287.7, 12});
  // The strip is 60 deep; lids end two leaves of 0.8 in front of it, 3 apart.
  check_box(layout, "strip", {100, -770, 429.5}, {1300, -710, 450});
  check_box(layout, "lid_1", {1300 - 425.05, -708.4, 429.5}, {1300, -270, 450});
  check_box(layout, "lid_2", {100, -708.4, 429.5}, {1300 - 428.05, -270, 450});
}

TEST_CASE("a hinged lid turns about the pin at its upper rear edge", "[layout][bench]") {
  const Layout layout = good_bench({"module.bench.opens=95 deg"});
  REQUIRE(layout.motions.size() == 2);
  const Motion& lid = layout.motions.front();
  CHECK(lid.id == "bench/lid_1");
  CHECK(lid.kind == MotionKind::rotation);
  CHECK(lid.travel == Approx(95 * std::numbers::pi / 180));
  CHECK(lid.required == lid.travel);
  CHECK(lid.origin.y == Approx(-270 - 438.4 - 0.8));
  CHECK(lid.origin.z == Approx(450));
  // Right-hand rule: the front edge, at greater y in the van, rises.
  const Vec3 front{1000, -270, 450};
  CHECK(cross(lid.axis, front - lid.origin).z > 0);
  // Its hinge is as long as the lid less 10 at each end: screws at most 60 apart, 25 from its ends.
  const auto screws = std::ranges::count_if(lid.parts, [](const std::string& id) {
    return id.starts_with("bench/lid_1.hinge_1.moving.screw_");
  });
  CHECK(screws == 1 + 6);  // (405.05 - 50) / 60 = 5.9
}

TEST_CASE("a lift-out lid is held by cleats and comes out upwards", "[layout][bench]") {
  const Layout layout = good_bench({"module.bench.lid=lift-out", "module.bench.finger_hole=0"});
  CHECK(layout.find("bench/strip") == nullptr);
  check_box(layout, "lid_1", {1300 - 425.05, -770, 429.5}, {1300, -270, 450});
  // A cleat of the carcass's sheet, 2 inside the bay and the front, 40 wide.
  check_box(layout, "lid_1.cleat.front", {882.3 + 2, -287.7 - 42, 429.5 - 17.7},
            {1282.3 - 2, -287.7 - 2, 429.5});
  const Motion& lid = layout.motions.front();
  CHECK(lid.kind == MotionKind::translation);
  CHECK(lid.axis.z == Approx(1));
  CHECK(lid.travel == Approx(17.7 + 50));
  REQUIRE(layout.removals.size() == 2);
  CHECK(layout.removals.front().id == "bench/lid_1");
  CHECK(layout.removals.front().fasteners == 0);
  CHECK(std::ranges::count(layout.removals.front().along, "bench/lid_1.cleat.rear") == 1);
}

TEST_CASE("a bench is bolted to the joists under its bottoms and loaded by who sits on it",
          "[layout][bench]") {
  const Layout layout = good_bench();
  REQUIRE(layout.floor_bolts.size() == 4);
  std::set<std::pair<double, double>> places;
  for (const FloorBolt& bolt : layout.floor_bolts) {
    CHECK(bolt.over_joist);
    places.emplace(std::round(bolt.at.x), std::round(bolt.at.y));
  }
  // The first and the last joist under a bottom, 60 from front and back.
  CHECK(places ==
        std::set<std::pair<double, double>>{{150, -710}, {150, -330}, {1050, -710}, {1050, -330}});
  REQUIRE(layout.supports.size() == 2);
  CHECK(layout.supports[0].owner == "bench/lid_1");
  CHECK(layout.supports[1].owner == "bench/lid_2");
  CHECK(layout.supports[1].load_kg == 75.0);
  CHECK(layout.supports[1].at.x == Approx(1300 - 900));
  CHECK(layout.supports[1].at.z == Approx(450));
  REQUIRE(layout.zones.size() == 1);
  const Box room = bounds(layout.zones.front().shape, layout.zones.front().frame);
  CHECK(room.lo.z == Approx(530));
  CHECK(room.hi.z == Approx(1430));
}

TEST_CASE("the front of a bay is open to its rim, or has vents", "[layout][bench]") {
  const Layout layout = good_bench();
  const Prism& front = part(layout, "front").shape->prisms.front().prism;
  std::vector<Box> cuts;
  for (const Cut& cut : front.cuts) {
    if (cut.role == CutRole::cut_out)
      cuts.push_back(bounds(Shape{{{{{cut.outline, {}}, 1, {}, {}, {}}, {}}}}));
  }
  REQUIRE(cuts.size() == 6);
  std::ranges::sort(cuts, {}, [](const Box& box) { return -box.size().x; });
  // 746.9 and 417.5 high inside, less a rim of 50 all round.
  CHECK(cuts[0].size().x == Approx(646.9));
  CHECK(cuts[0].size().y == Approx(317.5));
  for (std::size_t i = 1; i < cuts.size(); ++i) {
    CHECK(cuts[i].size().x == Approx(10));
    CHECK(cuts[i].size().y == Approx(80));
    CHECK(cuts[i].hi.y == Approx(429.5 - 20));
  }
}

TEST_CASE("a bench over a wheel arch reaches the wall and is cut round the arch",
          "[layout][bench]") {
  const Layout layout = good_bench({"module.bench.arch_gap=10 mm"}, van_with_arch());
  // As deep as without the arch.
  CHECK(bounds(part(layout, "back")).lo.y == Approx(-770));
  const auto inside = [&](const std::string& name, Vec3 at) {
    const Part& board = part(layout, name);
    for (const ConvexPiece& piece : pieces(*board.shape)) {
      const ConvexPiece here = placed(piece, board.frame);
      const bool in = std::ranges::all_of(here.normals, [&](Vec3 normal) {
        double lo = 1e9;
        double hi = -1e9;
        for (const Vec3 v : here.vertices) {
          lo = std::min(lo, dot(v, normal));
          hi = std::max(hi, dot(v, normal));
        }
        return dot(at, normal) > lo && dot(at, normal) < hi;
      });
      if (in) return true;
    }
    return false;
  };
  // The arch reaches from x = 400 to 900, to y = -580, to z = 300; the cut 10 further.
  CHECK_FALSE(inside("back", {650, -760, 305}));
  CHECK(inside("back", {650, -760, 315}));
  CHECK_FALSE(inside("back", {395, -760, 100}));
  CHECK(inside("back", {385, -760, 100}));
  CHECK_FALSE(inside("divider.small", {873, -575, 100}));
  CHECK(inside("divider.small", {873, -565, 100}));
  CHECK(inside("divider.small", {873, -600, 315}));
  CHECK_FALSE(inside("bottom.large", {650, -575, 6}));
  CHECK(inside("bottom.large", {650, -565, 6}));
  // The upper corners of the cut in the back are rounded as the arch, 100 and the gap.
  CHECK(inside("back", {395, -760, 305}));
  // No screw is driven into the air over the arch.
  for (const Part& each : layout.parts) {
    if (each.kind != PartKind::hardware || !each.id.starts_with("bench/back.screw.")) continue;
    const Vec3 at = each.frame.origin;
    CAPTURE(each.id, at.x, at.z);
    CHECK_FALSE((at.x > 390 && at.x < 910 && at.z < 310));
  }
}

TEST_CASE("edge bands belong to a lid's finished size and are sawn off it first",
          "[layout][bench]") {
  const Layout layout = good_bench({"module.bench.edge_band=edge_abs"});
  check_box(layout, "lid_1", {1300 - 425.05, -708.4, 429.5}, {1300, -270, 450});
  const Part& lid = part(layout, "lid_1");
  // 2 at each end and at the front, nothing at the hinge.
  CHECK(lid.stock.length == Approx(425.05 - 4));
  CHECK(lid.stock.width == Approx(438.4 - 2));
  REQUIRE(lid.coverings.size() == 1);
  CHECK(lid.coverings.front().edges.size() == 3);
  CHECK(lid.coverings.front().finish == "edge_abs");
}

TEST_CASE("each fault of a bench is told with both numbers", "[layout][bench]") {
  struct Row {
    const char* name;
    std::vector<std::string> overrides;
    const char* code;
    double measured;
    double required;
  };
  const auto row = GENERATE(values<Row>({
      // 1200 less a gap of 3.
      {"lids too narrow",
       {"module.bench.lids=[\"400 mm\", \"400 mm\"]"},
       "bench.lids_do_not_fit",
       800,
       1197},
      {"bays too wide",
       {"module.bench.bays.small.width=1300mm"},
       "carcass.widths_do_not_fit",
       1300,
       1146.9},
      // 417.5 high inside: 40 are left of it at a rim of 188.75.
      {"no opening", {"module.bench.bays.large.rim=200mm"}, "bench.rim_too_wide", 200, 188.75},
      // 20 slots of 10 with 19 times 10 between them, in 400 less 40.
      {"vents too many", {"module.bench.bays.small.vents=20"}, "bench.vents_do_not_fit", 390, 360},
      {"vents too high", {"module.bench.vent_height=400mm"}, "bench.vents_do_not_fit", 400, 377.5},
      {"hinge too wide", {"module.bench.hinge=butt_70"}, "carcass.hinge_too_wide", 26, 20.5},
      {"hinge too long",
       {"module.bench.lids=[\"100 mm\", \"1 share\"]", "module.bench.hinge=butt_50",
        "module.bench.persons=0"},
       "carcass.hinge_too_long",
       60,
       50},
      {"stay too long", {"module.bench.depth=280mm"}, "carcass.stay_no_room", 248, 224.6},
      {"too low", {"module.bench.height=120mm"}, "carcass.too_small", 120, 132.5},
      {"too shallow", {"module.bench.depth=130mm"}, "carcass.too_small", 130, 135.4},
      {"too few joists",
       {"module.bench.width=500mm", "module.bench.lids=[\"1 share\"]",
        "module.bench.bays.small.width=100mm"},
       "bench.few_floor_bolts",
       2,
       4},
  }));
  CAPTURE(row.name);
  const auto built = lay_out_text(kBench, row.overrides);
  const auto found = std::ranges::find(built.findings, row.code, &Finding::code);
  INFO(words(built.findings));
  REQUIRE(found != built.findings.end());
  CHECK(number(*found, "measured") == Approx(row.measured));
  CHECK(number(*found, "required") == Approx(row.required));
  CHECK(found->place);
  CHECK(message_text(*found, LengthStyle::millimetres).find('?') == std::string::npos);
  CHECK_FALSE(advice_text(*found, LengthStyle::millimetres).empty());
}

TEST_CASE("two lids over one bay have their stays on the boards at both sides of it",
          "[layout][bench]") {
  const auto with_lids = [](const std::string& lids) {
    return lay_out_text(kBench, {"module.bench.lids=" + lids, "module.bench.bays.small.width=100mm"});
  };
  const auto two = with_lids("[\"1 share\", \"1 share\"]");
  INFO(words(two.findings));
  REQUIRE(two.value);
  const Part* first = two.value->find("bench/lid_1.stay");
  const Part* second = two.value->find("bench/lid_2.stay");
  REQUIRE((first != nullptr && second != nullptr));
  CHECK(first->hosts != second->hosts);
  const auto three = with_lids("[\"200 mm\", \"1 share\", \"1 share\", \"1 share\"]");
  CHECK(has_code(three.findings, "bench.stay_no_board"));
}

TEST_CASE("what a bench needs and does not name is told", "[layout][bench]") {
  const auto told = [](const std::vector<std::string>& overrides, const char* code,
                       const std::string& van = kStraightVan) {
    const auto built = lay_out_text(kBench, overrides, van);
    const Finding& finding = only(built.findings, code);
    CHECK(finding.place);
    CHECK(message_text(finding, LengthStyle::millimetres).find('?') == std::string::npos);
    return finding.severity;
  };
  CHECK(told({"module.bench.bays.large.vents=3"}, "bench.vents_in_open_front") == Severity::error);
  // The joint lies 173 beside the divider.
  CHECK(told({"module.bench.lids=[\"1 share\", \"1 share\"]"}, "bench.lid_unsupported") ==
        Severity::warning);
  // An arch that is higher than the bench and reaches further in than it.
  std::string van = van_with_arch();
  van.replace(van.find("height = \"300 mm\""), 17, "height = \"480 mm\"");
  van.replace(van.find("to = \"900 mm\""), 13, "to = \"2000 mm\"");
  van.replace(van.find("from = \"400 mm\""), 15, "from = \"50 mm\"");
  CHECK(told({}, "bench.board_in_arch", van) == Severity::error);
}
