#include "laid_out.hpp"

#include <catch2/catch.hpp>

#include <numbers>
#include <set>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

const char* kFloor = R"(
[module.deck]
kind = "floor"
faces = "rear"
sheet = "birch_12"
batten_sheet = "birch_21"
insulation = "insulation_20"
screw = "wood_4x30"
depth = "1000 mm"
place = { rear = "100 mm", between = "walls", on = "floor" }
)";

const char* kArch = R"(
[arch.left]
side = "left"
from = 400
to = 800
height = 200
half_width = 600
radius = 100
edge_radius = 20
)";

std::vector<const Part*> parts_of(const Layout& layout, const std::string& prefix) {
  std::vector<const Part*> found;
  for (const Part& part : layout.parts) {
    if (part.id.starts_with(prefix) && part.kind == PartKind::panel) found.push_back(&part);
  }
  return found;
}

}  // namespace

TEST_CASE("a floor builds up from battens, insulation and deck", "[layout][floor]") {
  const Layout layout = good(kFloor);
  // 1600 between the walls, 5 left free at each; birch of 20.5 and 12.
  CHECK(layout.module("deck")->envelope.hi.z == Approx(32.5));
  const Box deck = bounds(*layout.find("deck/deck_1"));
  CHECK(deck.lo.z == Approx(20.5));
  CHECK(deck.size().y == Approx(1590.0));
  CHECK(deck.size().x == Approx(1000.0));
  // Battens 45 wide: 955 from the first middle to the last, at most 400 apart: three spans.
  const auto battens = parts_of(layout, "deck/batten_");
  REQUIRE(battens.size() == 4);
  std::set<int> middles;
  for (const Part* batten : battens) {
    CHECK(bounds(*batten).size().x == Approx(45.0));
    CHECK(bounds(*batten).size().y == Approx(1590.0));
    middles.insert(static_cast<int>(std::lround(bounds(*batten).centre().x * 100)));
  }
  CHECK(middles == std::set<int>{12250, 44083, 75917, 107750});
  // Insulation fills what is between: 1000 less four battens, over the same width.
  double filled = 0.0;
  for (const Part* board : parts_of(layout, "deck/insulation_"))
    filled += volume(*board->shape) / 20.0;
  CHECK(filled == Approx(1590.0 * (1000 - 4 * 45)).epsilon(1e-9));
}

TEST_CASE("a floor goes around a wheel arch", "[layout][floor]") {
  const Layout layout = good(kFloor, {}, std::string(kStraightVan) + kArch);
  // 195 deep from the deck's edge at 795 to 5 off the arch's face at 600, 5 longer at each end; the
  // ends are drawn as slopes half a millimetre long.
  const double area = volume(*layout.find("deck/deck_1")->shape) / 12.0;
  CHECK(area == Approx(1590.0 * 1000.0 - 200.0 * (400 + 10 - 0.5)).epsilon(1e-5));
  for (const Part* batten : parts_of(layout, "deck/batten_")) {
    const Box box = bounds(*batten);
    const bool beside = box.hi.x > 395 && box.lo.x < 805;
    CHECK(box.hi.y == Approx(beside ? 595.0 : 795.0));
  }
}

TEST_CASE("seams of a deck lie on battens, and both pieces are screwed there", "[layout][floor]") {
  const Layout layout = good(kFloor, {"module.deck.pieces=[\"1 share\", \"300 mm\"]"});
  const Box a = bounds(*layout.find("deck/deck_1"));
  const Box b = bounds(*layout.find("deck/deck_2"));
  CHECK(b.lo.x - a.hi.x == Approx(1.0));
  CHECK((a.hi.x + b.lo.x) / 2 == Approx(759.1667).epsilon(1e-6));  // said 800: the third batten
  std::set<std::string> joined;
  for (const Joint& joint : layout.joints) {
    for (const std::string& part : joint.parts) {
      if (part.starts_with("deck/batten_") && joint.kind == "screwed")
        joined.insert(joint.parts.front() + "+" + part);
    }
  }
  CHECK(joined.size() == 5);  // one batten carries both
}

TEST_CASE("every screw of a deck stands in its piece and in a batten", "[layout][floor]") {
  const Layout layout = good(kFloor, {"module.deck.pieces=[\"1 share\", \"300 mm\"]"},
                             std::string(kStraightVan) + kArch);
  int count = 0;
  for (const Part& part : layout.parts) {
    if (part.stock.key != "wood_4x30") continue;
    ++count;
    REQUIRE(part.hosts.size() == 2);
    const Vec3 at = bounds(part).centre();
    for (const std::string& host : part.hosts) {
      const Box box = bounds(*layout.find(host));
      CHECK(at.x > box.lo.x + 5);
      CHECK(at.x < box.hi.x - 5);
      CHECK(at.y > box.lo.y + 20);
      CHECK(at.y < box.hi.y - 20);
    }
    CHECK(bounds(part).lo.z > 0.9);  // 1 mm of batten is left below it
    CHECK(bounds(part).hi.z == Approx(32.5));
  }
  CHECK(count > 30);
}

TEST_CASE("hard points stay open, and a batten ends beside them", "[layout][floor]") {
  const std::string ring =
      "[hard_point.ring]\nx = 440\ny = 300\nthread = \"M8\"\nstrength = \"not known\"\n";
  const Layout open = good(kFloor, {}, kStraightVan + ring);
  const Layout shut = good(kFloor, {"module.deck.hard_points_open=false"}, kStraightVan + ring);
  const auto deck = [](const Layout& layout) {
    return volume(*layout.find("deck/deck_1")->shape) / 12.0;
  };
  CHECK(deck(shut) - deck(open) == Approx(std::numbers::pi * 40 * 40).epsilon(1e-9));
  // The batten from 418 to 463 stops 40 to either side of y = 300.
  const auto parts = parts_of(open, "deck/batten_");
  CHECK(parts.size() == 5);
  for (const Part* part : parts) {
    const Box box = bounds(*part);
    if (box.hi.x < 400 || box.lo.x > 480) continue;
    CHECK((box.lo.y > 339.9 || box.hi.y < 260.1));
  }
}

TEST_CASE("a pass goes through deck, batten and insulation", "[layout][floor]") {
  const std::string text = std::string(kFloor) +
                           "[module.deck.passes.bolt]\nx = 440\ny = 100\ndiameter = 12\n"
                           "[module.deck.passes.hose]\nx = 600\ny = -200\ndiameter = 60\n";
  const Layout layout = good(text);
  const auto cuts_at = [&](const std::string& prefix, Vec2 at) {
    int found = 0;
    for (const Part* part : parts_of(layout, prefix)) {
      for (const Cut& cut : part->shape->prisms.front().prism.cuts) {
        Box box;
        for (const Corner& c : cut.outline) box.add(part->frame.point({c.at.x, c.at.y, 0}));
        const Vec3 middle = box.centre();
        if (std::abs(middle.x - at.x) < 1e-6 && std::abs(middle.y - at.y) < 1e-6) ++found;
      }
    }
    return found;
  };
  CHECK(cuts_at("deck/deck_", {440, 100}) == 1);
  CHECK(cuts_at("deck/batten_", {440, 100}) == 1);
  CHECK(cuts_at("deck/insulation_", {440, 100}) == 0);
  CHECK(cuts_at("deck/deck_", {600, -200}) == 1);
  CHECK(cuts_at("deck/insulation_", {600, -200}) == 1);
}

TEST_CASE("battens over joists are bolted into them", "[layout][floor]") {
  // Joists at 150, 450, 750, 1050, ...; the floor from 100 to 1100. Those at its ends are near
  // enough to the end battens.
  const Layout layout =
      good(kFloor, {"module.deck.battens=on_joists", "module.deck.floor_bolt=m8_40"});
  std::set<int> middles;
  for (const Part* batten : parts_of(layout, "deck/batten_"))
    middles.insert(static_cast<int>(std::lround(bounds(*batten).centre().x * 10)));
  CHECK(middles == std::set<int>{1225, 4500, 7500, 10775});
  int over = 0;
  for (const FloorBolt& bolt : layout.floor_bolts) over += bolt.over_joist ? 1 : 0;
  CHECK(layout.floor_bolts.size() == 16);  // four along each: 1590 less the ends, at most 700
  CHECK(over == 8);
  for (const Part& part : layout.parts) {  // the heads lie in the battens, under the deck
    if (part.stock.key == "m8_40") CHECK(bounds(part).hi.z == Approx(20.5));
  }
}

TEST_CASE("other modules stand on a floor, and it tells what it takes", "[layout][floor]") {
  const std::string text = std::string(kFloor) + kPlainRack;
  const auto on_deck = lay_out_text(text, {"module.rack.place.on=deck"});
  REQUIRE(on_deck.value);
  CHECK(on_deck.value->module("rack")->envelope.lo.z == Approx(32.5));
  const auto told = std::ranges::find(on_deck.findings, "floor.takes_height", &Finding::code);
  REQUIRE(told != on_deck.findings.end());
  CHECK(told->severity == Severity::note);
  CHECK(std::get<double>(told->argument("left")->value) == Approx(1900 - 32.5));
}

TEST_CASE("a floor does not bar the way in at a door", "[layout][floor]") {
  const std::string door =
      "[opening.side]\nkind = \"sliding\"\nside = \"right\"\nfrom = 300\nto = 900\nbottom = 0\n"
      "top = 1400\nleaf = { clear_way = \"400 mm\" }\n";
  const Layout layout = good(kFloor, {}, kStraightVan + door);
  REQUIRE(layout.zones.size() == 1);
  CHECK(layout.zones.front().allowed == std::vector<std::string>{"deck"});
}

TEST_CASE("what a floor cannot be is told", "[layout][floor]") {
  const auto codes = [&](const std::vector<std::string>& set, const std::string& more = "") {
    return lay_out_text(kFloor + more, set).findings;
  };
  CHECK_FALSE(has_errors(codes({})));
  std::string free_standing = kFloor;
  free_standing.replace(free_standing.find("between = \"walls\""), 17, "middle = 0");
  CHECK(has_code(
      lay_out_text(free_standing, {"module.deck.faces=left", "module.deck.width=900mm"}).findings,
      "floor.faces"));
  CHECK(has_code(codes({"module.deck.height=50mm"}), "floor.height"));
  CHECK(has_code(codes({"module.deck.pieces=[\"300 mm\"]"}), "floor.pieces"));
  CHECK(has_code(
      codes({"module.deck.batten_pitch=2000mm", "module.deck.pieces=[\"1 share\", \"1 share\"]"}),
      "floor.seam_batten"));
  CHECK(has_code(codes({"module.deck.depth=80mm"}), "floor.too_short"));
  CHECK(has_code(codes({"module.deck.screw=wood_4x40"}), "floor.screw_length"));
  CHECK(has_code(codes({"module.deck.insulation=insulation_30"}), "floor.thick_insulation"));
  CHECK(has_code(codes({"module.deck.batten_sheet=birch_9", "module.deck.screw=wood_4x20",
                        "sheet.insulation_20.thinnest=5", "sheet.insulation_20.thickness=5",
                        "module.deck.floor_bolt=m8_40"}),
                 "floor.bolt_head"));
  std::string passes;  // where each bolt of one batten would go
  for (const FloorBolt& bolt : good(kFloor, {"module.deck.floor_bolt=m8_40"}).floor_bolts) {
    if (!bolt.id.starts_with("deck/batten_2.")) continue;
    passes += "[module.deck.passes.p" + bolt.id.substr(bolt.id.size() - 1) +
              "]\nx = " + std::to_string(bolt.at.x) + "\ny = " + std::to_string(bolt.at.y) +
              "\ndiameter = 6\n";
  }
  CHECK(has_code(codes({"module.deck.floor_bolt=m8_40"}, passes), "floor.batten_loose"));
  CHECK(has_code(codes({}, "[module.deck.passes.far]\nx = 2000\ny = 0\ndiameter = 20\n"),
                 "floor.pass_outside"));
}
