#include "laid_out.hpp"
#include "shape/pieces.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

/// Walls that stand straight up to 900 and then lean in by 100 over 600; without ribs.
const char* kKinkedVan = R"(
format = 1
[vehicle]
title = "Kinked test van"
heights = [0, 900, 1500, 1890, 1900]
surveyed = "skin"
uncertainty = "2 mm"
floor_thickness = "12 mm"
gross_limit = "3500 kg"
[station.rear]
x = "0 mm"
both = [800, 800, 700, 600, 30]
[station.front]
x = "3000 mm"
both = [800, 800, 700, 600, 30]
)";

/// A sheet large enough for every panel here, 5 mm thick.
const char* kBendySheet = R"(
[sheet.bendy]
title = "Bendy"
material = "poplar_plywood"
nominal = "5 mm"
thickness = "5 mm"
length = "3000 mm"
width = "2000 mm"
grain = true
flex_radius = "600 mm"
assumption = true
)";

std::string lining(const std::string& more = "") {
  return std::string(kBendySheet) + R"(
[module.lining]
kind = "lining"
faces = "right"
sheet = "bendy"
width = "1000 mm"
height = "1500 mm"
place = { rear = "500 mm", against = "left wall", gap = "3 mm", on = "floor" }
)" + more;
}

/// In the van with the kink.
Layout kinked(const std::string& modules, const std::vector<std::string>& overrides = {},
              const std::string& van = kKinkedVan) {
  return good(modules, overrides, van);
}

std::string van_file(const std::string& name) {
  const auto text = read_file(std::string(RIBBAY_SOURCE_DIR) + "/params/vehicles/" + name);
  REQUIRE(text);
  return *text;
}

const Finding& finding(const Findings& findings, std::string_view code) {
  const auto found = std::ranges::find(findings, code, &Finding::code);
  INFO(words(findings));
  REQUIRE(found != findings.end());
  return *found;
}

}  // namespace

TEST_CASE("a lining is as long when flat as its flats and the middle of its bends",
          "[layout][lining]") {
  // One bend: at 900 the wall turns by atan(100/600). The arc lies in the corner: its back has the
  // radius 600 + 5, and takes 605 tan(turn/2) of both flats; its middle fibre has 600 + 2.5.
  const double turn = std::atan(100.0 / 600.0);
  const double tangent = 605.0 * std::tan(turn / 2);
  const double flats = 900.0 + std::hypot(100.0, 600.0) - 2 * tangent;
  const Layout layout = kinked(lining());
  const Part& panel = *layout.find("lining/piece_1");
  CHECK(panel.kind == PartKind::panel);
  CHECK(panel.stock.length == Approx(1000.0));
  CHECK(panel.stock.width == Approx(flats + turn * 602.5).epsilon(1e-12));
  REQUIRE(panel.flat);
  REQUIRE(panel.flat->bends.size() == 1);
  CHECK(panel.flat->bends.front().radius == Approx(600.0));
  // Whole, of flats and a sector of a ring.
  const double sector = turn / 2 * (605.0 * 605.0 - 600.0 * 600.0);
  CHECK(volume(*panel.shape) == Approx(1000.0 * (flats * 5.0 + sector)).epsilon(1e-9));
  // It stands 3 off the wall, and its inner face 5 further in.
  CHECK(bounds(panel).hi.y == Approx(797.0));
  CHECK(bounds(panel).lo.z == Approx(0.0).margin(1e-9));
}

TEST_CASE("its envelope reaches from the innermost face to the widest place of the wall",
          "[layout][lining]") {
  const Box box = kinked(lining()).module("lining")->envelope;
  CHECK(box.hi.y == Approx(797.0));
  CHECK(box.lo.y == Approx(700.0 - 3.0 - 5.0));
  const Layout right =
      kinked(lining(), {"module.lining.faces=left", "module.lining.place.against=right wall"});
  CHECK(bounds(*right.find("lining/piece_1")).lo.y == Approx(-797.0));
  CHECK(right.module("lining")->envelope.hi.y == Approx(-692.0));
}

TEST_CASE("grain across the bends turns the blank", "[layout][lining]") {
  const Layout along = kinked(lining());
  const Layout across = kinked(lining(), {"module.lining.grain=across"});
  const Part& a = *along.find("lining/piece_1");
  const Part& b = *across.find("lining/piece_1");
  CHECK(b.stock.length == Approx(a.stock.width));
  CHECK(b.stock.width == Approx(a.stock.length));
  CHECK(b.flat->bends.size() == 1);
  CHECK(volume(*b.shape) == Approx(volume(*a.shape)));
  const Vec3 off = a.frame.point(centroid(*a.shape)) - b.frame.point(centroid(*b.shape));
  CHECK(length(off) < 1e-9);
  CHECK(std::abs(b.frame.x.z) == Approx(1.0));  // the grain of the first flat runs up
}

TEST_CASE("what is left on for scribing is on the blank and not in the van", "[layout][lining]") {
  const Layout plain = kinked(lining());
  const Layout scribed = kinked(
      lining("[module.lining.scribe]\nrear = \"10 mm\"\ntop = \"4 mm\"\nbottom = \"6 mm\"\n"));
  const Part& a = *plain.find("lining/piece_1");
  const Part& b = *scribed.find("lining/piece_1");
  CHECK(volume(*a.shape) == Approx(volume(*b.shape)));
  CHECK(b.stock.length - a.stock.length == Approx(10.0));
  CHECK(b.stock.width - a.stock.width == Approx(10.0));
  // The bend keeps its place on the sheet: 6 further from the edge.
  CHECK(b.flat->bends.front().a.y - a.flat->bends.front().a.y == Approx(6.0));
  CHECK(has_code(
      lay_out_text(lining("[module.lining.scribe]\nleft = \"10 mm\"\n"), {}, kKinkedVan).findings,
      "lining.no_such_edge"));
}

TEST_CASE("pieces meet with the seam gap, over ribs when asked", "[layout][lining]") {
  const std::string pieces = "pieces = [\"1 share\", \"400 mm\"]\n";
  const auto seam = [&](const std::vector<std::string>& set) {
    std::vector<std::string> all = set;
    all.emplace_back("module.lining.height=1000mm");
    const Layout layout = kinked(lining(pieces), all, kStraightVan);
    const Box a = bounds(*layout.find("lining/piece_1"));
    const Box b = bounds(*layout.find("lining/piece_2"));
    CHECK(b.lo.x - a.hi.x == Approx(2.0));
    return (a.hi.x + b.lo.x) / 2;
  };
  CHECK(seam({}) == Approx(1100.0));
  CHECK(seam({"module.lining.seams=on_ribs"}) == Approx(1250.0));  // the nearest rib
}

TEST_CASE("magnets stand over the ribs, in each row, and reach to them", "[layout][lining]") {
  const std::string held = "fitting = \"magnet_20\"\nrows = [\"300 mm\", \"900 mm\"]\n";
  const Layout layout = kinked(
      lining(held), {"module.lining.height=1000mm", "module.lining.place.gap=6mm"}, kStraightVan);
  // Ribs at 750 and 1250 stand 30 in from 800; the magnet is 6 high and 20 across.
  std::vector<Box> magnets;
  for (const Part& part : layout.parts) {
    if (part.stock.key == "magnet_20") magnets.push_back(bounds(part));
  }
  REQUIRE(magnets.size() == 4);
  for (const Box& box : magnets) {
    CHECK(box.hi.y == Approx(770.0));
    CHECK(box.lo.y == Approx(764.0));
    const double x = box.centre().x;
    CHECK((std::abs(x - 750) < 1e-9 || std::abs(x - 1250) < 1e-9));
  }
  CHECK(layout.find("lining/piece_1.fitting_1")->hosts ==
        std::vector<std::string>{"lining/piece_1", "vehicle/rib.pair_left_2"});
}

TEST_CASE("what cannot hold a lining is told", "[layout][lining]") {
  const std::string held = "fitting = \"magnet_20\"\n";
  const std::vector<std::string> set{"module.lining.height=1000mm", "module.lining.place.gap=6mm"};
  const auto findings_in = [&](const std::string& van, std::vector<std::string> more = {}) {
    more.insert(more.begin(), set.begin(), set.end());
    return lay_out_text(lining(held), more, van).findings;
  };
  CHECK_FALSE(has_code(findings_in(kStraightVan), "lining.nothing_behind"));
  CHECK(has_code(findings_in(kKinkedVan), "lining.nothing_behind"));

  std::string van = kStraightVan;
  van.replace(van.find("depth = \"30 mm\""), 15, "depth = \"30 mm\"\nsteel = false");
  CHECK(has_code(findings_in(van), "lining.not_steel"));
  CHECK_FALSE(has_code(findings_in(kStraightVan), "lining.not_steel"));

  CHECK(has_code(findings_in(kStraightVan, {"module.lining.place.gap=2mm"}),
                 "lining.no_room_for_fitting"));

  // One row above the feet of the ribs: two magnets of 40 N keep a fifth of 80 N from sliding, and
  // the panel weighs what 1000 x 1000 x 5 of poplar does.
  const auto weak = lay_out_text(lining(held),
                                 {"module.lining.height=1000mm", "module.lining.place.gap=6mm",
                                  "module.lining.mount=floating"},
                                 kStraightVan);
  CHECK_FALSE(has_errors(weak.findings));  // it can be laid out and checked all the same
  const Finding& told = finding(weak.value->judged, "lining.magnets_weak");
  CHECK(number(told, "measured") == Approx(16.0));
  CHECK(number(told, "required") ==
        Approx(weak.value->find("lining/piece_1")->mass_kg * 9.80665).epsilon(1e-12));
  const auto strong =
      lay_out_text(lining(held),
                   {"module.lining.height=1000mm", "module.lining.place.gap=6mm",
                    "module.lining.mount=floating", "module.lining.rows=[300, 600, 900]"},
                   kStraightVan);
  CHECK(strong.value->judged.empty());
}

TEST_CASE("what magnets carry is weighed with its finishes", "[layout][lining][finish]") {
  // Three rows hold 48 N. 1000 x 1000 of a film of 2 kg/m2 alone weigh 19.6 N, and the sheet less
  // than 29 N: with two such films it is too much.
  const auto hung = [](const std::string& area_mass) {
    return lay_out_text(lining("fitting = \"magnet_20\"\n") +
                            "[module.lining.finishes.film]\nparts = [\"piece_*\"]\nfinish = "
                            "\"wrap\"\n[finish.wrap]\ntitle = \"Film\"\nkind = "
                            "\"film\"\nthickness = 1\nassumption = true\narea_mass = \"" +
                            area_mass + " kg/m2\"\n",
                        {"module.lining.height=1000mm", "module.lining.place.gap=6mm",
                         "module.lining.mount=floating", "module.lining.rows=[300, 600, 900]"},
                        kStraightVan);
  };
  const auto light = hung("0.1");
  INFO(words(light.findings));
  REQUIRE(light.value);
  CHECK(light.value->judged.empty());
  CHECK(has_code(hung("4").value->judged, "lining.magnets_weak"));
}

TEST_CASE("a hatch lies on what covers its lining, and its lid on what covers the ring",
          "[layout][lining][finish]") {
  const std::string opening =
      "[module.lining.openings.o]\nrear = \"600 mm\"\nfront = \"800 mm\"\nbottom = \"400 "
      "mm\"\ntop = \"600 mm\"\nhatch = { ring_sheet = \"birch_9\", lid_sheet = \"birch_6\", lid = "
      "\"overlapping\", ring_screw = \"wood_3_5x16\", latch = \"cam_latch\" }\n";
  const std::string film =
      "[finish.wrap]\ntitle = \"Film\"\nkind = \"film\"\nthickness = 1.5\nassumption = true\n"
      "[module.lining.finishes.film]\nparts = [\"*\"]\nfinish = \"wrap\"\n";
  const auto bare = lay_out_text(lining("") + opening, {}, kStraightVan);
  const auto wrapped = lay_out_text(lining("") + opening + film, {}, kStraightVan);
  INFO(words(bare.findings) + words(wrapped.findings));
  REQUIRE(wrapped.value);
  const auto out_by = [&](const std::string& id) {
    return length(wrapped.value->find(id)->frame.origin - bare.value->find(id)->frame.origin);
  };
  // 1.5 on the lining's face; turned over onto nothing, as the film does not say so.
  CHECK(out_by("lining/hatch.o.ring") == Approx(1.5));
  CHECK(out_by("lining/hatch.o.lid") == Approx(3.0));
  CHECK(out_by("lining/hatch.o.lid.latch_1") == Approx(4.5));
}

TEST_CASE("a panel at a wall that bends along the van stands off it", "[layout][lining]") {
  // The wall runs from 800 at both ends to 770 in the middle; the panel from 500 to 2500.
  std::string van = kStraightVan;
  van.replace(van.find("[rib.pair]"), 0,
              "[station.middle]\nx = \"1500 mm\"\nboth = [770, 770, 770, 30]\n");
  const std::vector<std::string> set{"module.lining.height=1000mm", "module.lining.width=2000mm"};
  const auto built = lay_out_text(lining("screw = \"wood_3_5x25\"\n"), set, van);
  const Finding& off = finding(built.findings, "lining.stands_off");
  CHECK(off.severity == Severity::warning);
  // Ribs at 1250 and 1750 stand nearest, with their edges towards the middle: 1280 and 1720. The
  // rib at 750 stands as much further out as the wall does.
  CHECK(number(off, "measured") == Approx(30.0 * (1280.0 - 750.0) / 1500.0));
  auto more = set;
  more.emplace_back("module.lining.shim=11mm");
  CHECK_FALSE(has_code(lay_out_text(lining("screw = \"wood_3_5x25\"\n"), more, van).findings,
                       "lining.stands_off"));
}

TEST_CASE("openings are cut on one flat, measured in the van or on the sheet", "[layout][lining]") {
  const std::string opening =
      "[module.lining.openings.window]\nrear = 700\nfront = 1100\nbottom = 200\ntop = 600\n"
      "radius = 30\n";
  const auto cut = [&](const Layout& layout) {
    const Shape& shape = *layout.find("lining/piece_1")->shape;
    Box box;
    for (const PlacedPrism& placed : shape.prisms) {
      for (const Cut& c : placed.prism.cuts) {
        for (const Corner& corner : c.outline) {
          CHECK(corner.radius == Approx(30.0));
          box.add(layout.find("lining/piece_1")
                      ->frame.point(placed.frame.point({corner.at.x, corner.at.y, 0})));
        }
      }
    }
    return box;
  };
  const Layout in_van = kinked(lining(opening));
  CHECK(cut(in_van).lo.z == Approx(200.0));
  CHECK(cut(in_van).hi.z == Approx(600.0));
  CHECK(cut(in_van).lo.x == Approx(700.0));
  // Along the sheet the upper flat begins where the bend's arc of (600 + 2.5) turn ends.
  const double turn = std::atan(100.0 / 600.0);
  const double tangent = 605.0 * std::tan(turn / 2);
  const double start = 900.0 - tangent + 602.5 * turn;
  const Layout on_sheet =
      kinked(lining(opening), {"module.lining.openings.window.measured=on_sheet",
                               "module.lining.openings.window.bottom=" + std::to_string(start + 20),
                               "module.lining.openings.window.top=" + std::to_string(start + 220)});
  const double slope = std::cos(turn);
  CHECK(cut(on_sheet).lo.z == Approx(900.0 + (tangent + 20) * slope).margin(1e-4));
  CHECK(cut(on_sheet).hi.z == Approx(900.0 + (tangent + 220) * slope).margin(1e-4));
}

TEST_CASE("openings that cannot be cut are told", "[layout][lining]") {
  const std::string opening =
      "[module.lining.openings.window]\nrear = 700\nfront = 1100\nbottom = 200\ntop = 600\n";
  const auto codes = [&](const std::vector<std::string>& set) {
    return lay_out_text(lining(opening), set, kKinkedVan).findings;
  };
  CHECK_FALSE(has_errors(codes({})));
  const std::string window = "module.lining.openings.window.";
  CHECK(has_code(codes({window + "top=900mm"}), "lining.opening_over_bend"));
  CHECK(has_code(codes({window + "bottom=5mm"}), "lining.opening_off_panel"));
  CHECK(has_code(codes({window + "rear=400mm"}), "lining.opening_over_seam"));
  CHECK(has_code(codes({window + "rear=1200mm"}), "lining.opening_reversed"));
  CHECK(has_code(codes({window + "radius=250mm"}), "lining.opening_radius"));
  std::string without = opening;
  without.replace(without.find("top = 600\n"), 10, "");
  CHECK(has_code(lay_out_text(lining(without), {}, kKinkedVan).findings, "lining.opening_ends"));
}

TEST_CASE("a sprung panel takes one arc, and its radius is told when the sheet breaks",
          "[layout][lining]") {
  // Walls like a flat roof: 100 over 800 up and down again. The panel from 0 to 1600 lies along the
  // wall at its ends, over 12 mm, and turns by 2 atan(1/8) between: the arc's tangents are
  // 800 / cos - 12, its radius is their length by tan.
  std::string van = kKinkedVan;
  const auto replace = [&](const std::string& from, const std::string& to) {
    for (auto at = van.find(from); at != std::string::npos; at = van.find(from, at + to.size()))
      van.replace(at, from.size(), to);
  };
  replace("[0, 900, 1500, 1890, 1900]", "[0, 800, 1600, 1890, 1900]");
  replace("[800, 800, 700, 600, 30]", "[700, 800, 700, 600, 30]");
  const double half = std::atan(1.0 / 8.0);
  const double radius = (std::hypot(800.0, 100.0) - 12.0) / std::tan(half) - 5.0;
  const std::vector<std::string> set{"module.lining.height=1600mm", "module.lining.sprung=true"};
  const Layout layout = kinked(lining(), set, van);
  const Part& panel = *layout.find("lining/piece_1");
  REQUIRE(panel.flat->bends.size() == 1);
  CHECK(panel.flat->bends.front().radius == Approx(radius).epsilon(1e-4));
  CHECK(panel.stock.width == Approx(24.0 + 2 * half * (radius + 2.5)).epsilon(1e-6));

  const std::string stiff = std::string("[sheet.stiff]\nbased_on = \"bendy\"\n") +
                            "flex_radius = \"7000 mm\"\n" + lining();
  std::vector<std::string> more = set;
  more.emplace_back("module.lining.sheet=stiff");
  const auto built = lay_out_text(stiff, more, van);
  const Finding& told = finding(built.findings, "lining.sprung_too_tight");
  CHECK(number(told, "measured") == Approx(radius).epsilon(1e-4));
  // Sagitta of an arc: R (1 - cos(half)); the strain of its outer fibre t / (2 R + t).
  CHECK(number(told, "bow") ==
        Approx((radius + 5) * (1 - std::cos(half)) + 12 * std::sin(half)).epsilon(1e-3));
  CHECK(number(told, "strain") == Approx(100 * 5.0 / (2 * radius + 5)).epsilon(1e-4));
}

TEST_CASE("a wall that the sheet cannot follow is told with the radius that would fit",
          "[layout][lining]") {
  // At 1500 the wall turns by another 5 degrees: between the bends 608.3 are left.
  std::vector<std::string> set{"module.lining.height=1700mm", "module.lining.bend_radius=9000mm"};
  const auto built = lay_out_text(lining(), set, kKinkedVan);
  const Finding& tight = finding(built.findings, "lining.tight_bend");
  const double first = std::atan(100.0 / 600.0);
  const double second = std::atan(100.0 / 390.0) - first;
  const double middle =
      (std::hypot(100.0, 600.0) - 12.0) / (std::tan(first / 2) + std::tan(second / 2)) - 5.0;
  const double upper =
      (200.0 / 390.0 * std::hypot(100.0, 390.0) - 12.0) / std::tan(second / 2) - 5.0;
  CHECK(number(tight, "measured") == Approx(std::min(middle, upper)).epsilon(1e-9));
  CHECK(has_code(lay_out_text(lining(), {"module.lining.sheet=birch_6"}, kKinkedVan).findings,
                 "lining.stiff_sheet"));
  CHECK(has_code(lay_out_text(lining(), {"module.lining.bend_radius=500mm"}, kKinkedVan).findings,
                 "lining.bend_radius"));
  // 1220 by 2500 with its grain across: turned, the panel is cut from one.
  const auto across = lay_out_text(lining(), {"module.lining.sheet=bending_5"}, kKinkedVan);
  const Finding& turned = finding(across.findings, "layout.larger_than_stock_turned");
  CHECK(std::get<std::string>(turned.argument("field")->value) == "lining.grain");
}

TEST_CASE("where a lining cannot be is told", "[layout][lining]") {
  CHECK(has_code(
      lay_out_text(lining(), {"module.lining.faces=rear", "module.lining.depth=9mm"}, kKinkedVan)
          .findings,
      "lining.faces"));
  CHECK(has_code(lay_out_text(lining(), {"module.lining.pieces=[\"300 mm\"]"}, kKinkedVan).findings,
                 "lining.pieces"));
  const std::string arch =
      "[arch.left]\nside = \"left\"\nfrom = 600\nto = 900\nheight = 200\nhalf_width = 600\n";
  CHECK(has_code(lay_out_text(lining(), {}, kKinkedVan + arch).findings, "lining.arch"));
  std::string above = lining();
  above.replace(above.find("on = \"floor\""), 12, "bottom = 210");
  CHECK_FALSE(
      has_errors(lay_out_text(above, {"module.lining.height=1200mm"}, kKinkedVan + arch).findings));
  const std::string door =
      "[opening.side]\nkind = \"sliding\"\nside = \"left\"\nfrom = 1200\nto = 2000\nbottom = 0\n"
      "top = 1400\n";
  CHECK(has_code(lay_out_text(lining(), {}, kKinkedVan + door).findings, "lining.over_door"));
  CHECK(has_code(lay_out_text(lining("pieces = [\"1 share\", \"1 share\"]\nseams = \"on_ribs\"\n"),
                              {}, kKinkedVan)
                     .findings,
                 "lining.seam_rib"));
}

TEST_CASE("a ceiling follows the roof under its bows", "[layout][lining]") {
  const std::string bow = "[bow.roof]\nx = 1000\nwidth = 60\ndepth = 20\nfrom = -500\nto = 500\n";
  const std::string ceiling = std::string(kBendySheet) + R"(
[module.lining]
kind = "lining"
surface = "roof"
faces = "right"
sheet = "bendy"
smooth = "0.1 mm"
width = "1000 mm"
screw = "wood_3_5x16"
place = { rear = "500 mm", left = "400 mm", right = "-400 mm", under = "roof", gap = "4 mm" }
)";
  const Layout layout = kinked(ceiling, {}, kStraightVan + bow);
  const Part& panel = *layout.find("lining/piece_1");
  // The roof is flat at 1900 between the top points at y = 30 and -30, the bow hangs 20 below it.
  double highest = 0.0;
  for (const ConvexPiece& piece : pieces(*panel.shape)) {
    for (const Vec3& vertex : piece.vertices)
      highest = std::max(highest, panel.frame.point(vertex).z);
  }
  CHECK(highest == Approx(1900.0 - 20 - 4));
  CHECK(panel.flat->bends.size() == 2);
  // From 30 to 800 the roof falls by 10: two flats of 370 along, one of 60, and the bends.
  const double turn = std::atan(10.0 / 770.0);
  const double tangent = 605.0 * std::tan(turn / 2);
  CHECK(panel.stock.width ==
        Approx(2 * (370.0 / std::cos(turn) - 2 * tangent) + 60.0 + 2 * 602.5 * turn).epsilon(1e-9));
  CHECK(layout.find("lining/piece_1.screw_2") != nullptr);
  CHECK(has_code(lay_out_text(ceiling,
                              {"module.lining.place={rear=\"500mm\", against=\"left "
                               "wall\", under=\"roof\"}"},
                              kStraightVan)
                     .findings,
                 "layout.under_at_wall"));
  CHECK(has_code(lay_out_text(ceiling, {"module.lining.place.left=900mm"}, kStraightVan).findings,
                 "layout.not_under_roof"));
}

TEST_CASE("linings lie inside the room of every van", "[layout][lining]") {
  struct Wall {
    const char* van;
    const char* side;
    const char* faces;
    double from, to, bottom, top;
  };
  const auto wall = GENERATE(values<Wall>({
      {"long_high.toml", "left wall", "right", 1400, 3650, 0, 1600},
      {"long_high.toml", "right wall", "left", 40, 2440, 320, 1500},
      {"long_mid.toml", "left wall", "right", 1350, 3500, 100, 1440},
      {"long_mid.toml", "right wall", "left", 1350, 2400, 0, 1400},
      {"short_low.toml", "right wall", "left", 1420, 2480, 0, 1150},
      {"short_low.toml", "left wall", "right", 20, 1500, 300, 1100},
  }));
  CAPTURE(wall.van, wall.side);
  const std::string text = std::string(kBendySheet) + R"(
[module.lining]
kind = "lining"
sheet = "bendy"
grain = "across"
pieces = ["1 share", "1 share"]
seams = "on_ribs"
shim = "30 mm"
screw = "wood_3_5x16"
)" + "faces = \"" + wall.faces +
                           "\"\nwidth = " + std::to_string(wall.to - wall.from) +
                           "\nheight = " + std::to_string(wall.top - wall.bottom) +
                           "\nplace = { rear = " + std::to_string(wall.from) + ", against = \"" +
                           wall.side + "\", gap = 3, bottom = " + std::to_string(wall.bottom) +
                           " }\n";
  const Layout layout = kinked(text, {}, van_file(wall.van));
  int looked_at = 0;
  double nearest = 1e9;
  for (const Part& part : layout.parts) {
    if (part.kind != PartKind::panel) continue;
    for (const ConvexPiece& piece : pieces(*part.shape)) {
      for (const Vec3& vertex : piece.vertices) {
        // The panel runs straight along the van: look at each point at its ends and at the ribs.
        const Vec3 p = part.frame.point(vertex);
        std::vector<double> places{p.x};
        for (const Rib& rib : layout.vehicle->ribs) {
          if (rib.x > bounds(part).lo.x && rib.x < bounds(part).hi.x) places.push_back(rib.x);
        }
        for (const double x : places) {
          const auto width = clear_width(*layout.vehicle, x, x, p.z, p.z);
          REQUIRE(width);
          nearest = std::min({nearest, width->left - p.y, p.y - width->right});
          ++looked_at;
        }
      }
    }
  }
  CHECK(looked_at > 100);
  // Never nearer than the gap but for the chords that cover its arcs from outside (0.05 mm).
  CHECK(nearest > 3.0 - 0.05);
  CHECK(nearest < 3.0 + 2.0);
}
