#include "laid_out.hpp"

#include <catch2/catch.hpp>

#include <set>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

std::set<std::string> ids(const Layout& layout) {
  std::set<std::string> all;
  for (const Part& part : layout.parts) all.insert(part.id);
  return all;
}

}  // namespace

TEST_CASE("a rack's members have the lengths that its sizes leave", "[layout][rack]") {
  const Layout layout = good(kPlainRack);
  // 1000 wide: three posts of 40 leave 880; the second bay takes 400, the share 480.
  CHECK(size_of(layout, "rack/post.front_left").z == Approx(900));
  CHECK(size_of(layout, "rack/rail.level_1.bay_1.front").y == Approx(480));
  CHECK(size_of(layout, "rack/rail.level_1.bay_2.front").y == Approx(400));
  CHECK(size_of(layout, "rack/rail.level_2.side_left").x == Approx(600 - 2 * 40));
  // Three levels: the underside of the second is at 400.
  CHECK(bounds(*layout.find("rack/rail.level_2.side_1")).lo.z == Approx(400));
}

TEST_CASE("a rack facing the rear shows its left side on the van's left", "[layout][rack]") {
  // Somebody behind the van looks forward: left is +y.
  const Layout layout = good(kPlainRack);
  CHECK(bounds(*layout.find("rack/post.front_left")).hi.y == Approx(500));
  CHECK(bounds(*layout.find("rack/post.front_left")).lo.x == Approx(100));
  CHECK(bounds(*layout.find("rack/post.back_right")).hi.x == Approx(700));
  CHECK(bounds(*layout.find("rack/post.back_right")).lo.y == Approx(-500));
}

TEST_CASE("part ids stay the same when sizes change", "[layout][rack]") {
  const Layout before = good(kPlainRack);
  const Layout after = good(kPlainRack, {"module.rack.width=1111mm", "module.rack.depth=555mm",
                                         "module.rack.height=1000mm"});
  // Feet come and go with the joists they cross; everything else is named, not numbered by size.
  const auto without_feet = [](std::set<std::string> all) {
    std::erase_if(all, [](const std::string& id) { return id.find("foot.") != std::string::npos; });
    return all;
  };
  CHECK(without_feet(ids(before)) == without_feet(ids(after)));
}

TEST_CASE("every rail end has a bracket with two bolts and two slot nuts", "[layout][rack]") {
  const Layout layout = good(kPlainRack);
  int brackets = 0;
  int bolts = 0;
  int nuts = 0;
  for (const Part& part : layout.parts) {
    if (part.id.find("/bracket.") == std::string::npos) continue;
    if (part.stock.key == "bracket_40") ++brackets;
    if (part.stock.key == "m8_16") ++bolts;
    if (part.stock.key == "slot_nut_8_m8") ++nuts;
  }
  // Three levels with four rails across and three side rails each, two ends each.
  CHECK(brackets == 3 * (4 + 3) * 2);
  CHECK(bolts == 2 * brackets);
  CHECK(nuts == 2 * brackets);
}

TEST_CASE("feet stand where side rails cross a joist, and their bolts are in it",
          "[layout][rack]") {
  const Layout layout = good(kPlainRack);
  // Joists at 150, 450, 750, ...; a rail from 140 to 660 leaves 450 only, once for each of three
  // side rails.
  REQUIRE(layout.floor_bolts.size() == 3);
  for (const FloorBolt& bolt : layout.floor_bolts) {
    CHECK(bolt.at.x == Approx(450));
    CHECK(bolt.over_joist);
  }
  CHECK(has_code(lay_out_text(kPlainRack).findings, "rack.few_feet"));
  CHECK_FALSE(
      has_code(lay_out_text(kPlainRack, {"module.rack.depth=800mm"}).findings, "rack.few_feet"));
}

TEST_CASE("equipment stands on a shelf when there is one, else on seat rails", "[layout][rack]") {
  const std::string holds = R"(
[module.rack.shelves.low]
level = 1
sheet = "birch_12"
[module.rack.holds.on_shelf]
item = "battery_small"
bay = 1
level = 1
[module.rack.holds.on_seats]
item = "battery_small"
bay = 1
level = 2
)";
  const Layout layout = good(std::string(kPlainRack) + holds);
  CHECK(bounds(*layout.find("rack/on_shelf")).lo.z ==
        Approx(40 + layout.catalogue->sheets.at("birch_12").thickness));
  CHECK(bounds(*layout.find("rack/on_seats")).lo.z == Approx(440));
  CHECK(layout.find("rack/seat.on_seats.left") != nullptr);
  CHECK(layout.find("rack/seat.on_shelf.left") == nullptr);
  double load = 0;
  for (const Support& support : layout.supports) {
    if (support.owner == "rack/on_shelf") load += support.load_kg;
  }
  CHECK(load == Approx(layout.catalogue->equipment.at("battery_small").mass_kg));
}

TEST_CASE("equipment that comes out at the left turns its front there", "[layout][rack]") {
  const std::string holds = R"(
[module.rack.holds.box]
item = "battery_small"
bay = 1
level = 2
comes_out = "left"
)";
  const Layout layout = good(std::string(kPlainRack) + holds);
  const Vec3 own = layout.catalogue->equipment.at("battery_small").boxes.front().size;
  // The rack faces the rear, so its left is the van's left, and the box's width lies along x.
  CHECK(size_of(layout, "rack/box").x == Approx(own.x));
  CHECK(size_of(layout, "rack/box").y == Approx(own.y));
  CHECK(layout.find("rack/box")->frame.direction({0, -1, 0}).y == Approx(1));
}

TEST_CASE("an infill panel reaches into the slots on all four sides", "[layout][rack]") {
  const std::string infill = R"(
[module.rack.infill.back]
side = "back"
bay = 1
above_level = 1
sheet = "birch_6"
)";
  const Layout layout = good(std::string(kPlainRack) + infill);
  // Slots are 12.3 deep, 2 of it stays free: 480 + 2 * 10.3 by 360 + 2 * 10.3.
  CHECK(size_of(layout, "rack/infill.back").y == Approx(500.6));
  CHECK(size_of(layout, "rack/infill.back").z == Approx(380.6));
}

TEST_CASE("what a rack cannot be is reported at its place", "[layout][rack]") {
  struct Row {
    const char* name;
    std::vector<std::string> set;
    const char* code;
  };
  const auto row = GENERATE(values<Row>({
      {"bays wider than the rack", {"module.rack.bays=[\"700 mm\", \"700 mm\"]"}, "rack.bays"},
      {"bays that do not fill it", {"module.rack.bays=[\"100 mm\", \"100 mm\"]"}, "rack.bays"},
      {"levels that fall", {"module.rack.levels=[0, 400, 300]"}, "rack.levels_fall"},
      {"a level above the top", {"module.rack.levels=[0, 870]"}, "rack.levels"},
      {"an oblong profile", {"module.rack.profile=slotted_40_80"}, "rack.profile"},
      {"no depth between the posts", {"module.rack.depth=100mm"}, "rack.too_shallow"},
      {"wider than the van", {"module.rack.width=1700mm"}, "layout.wider_than_van"},
      {"a shelf at no level",
       {"module.rack.shelves.x.level=7", "module.rack.shelves.x.sheet=birch_12"},
       "rack.no_such_place"},
      {"a shelf above the top",
       {"module.rack.shelves.x.level=3", "module.rack.shelves.x.sheet=birch_12"},
       "rack.shelf_above_top"},
      {"equipment too wide for its bay",
       {"module.rack.holds.x.item=battery_large", "module.rack.holds.x.bay=2",
        "module.rack.holds.x.level=2"},
       "rack.item_too_wide"},
      {"equipment deeper than the rack",
       {"module.rack.holds.x.item=fridge_top", "module.rack.holds.x.bay=1",
        "module.rack.holds.x.level=2", "module.rack.depth=520mm"},
       "rack.item_too_deep"},
      {"infill thicker than the slot",
       {"module.rack.infill.x.side=left", "module.rack.infill.x.above_level=1",
        "module.rack.infill.x.sheet=birch_12"},
       "rack.infill_too_thick"},
      {"longer than the stock",
       {"module.rack.height=6500mm", "module.rack.place.between=walls"},
       "layout.larger_than_stock"},
  }));
  CAPTURE(row.name);
  std::string van = kStraightVan;
  if (std::string_view(row.name) == "longer than the stock") {
    van.replace(van.find("[0, 900, 1890, 1900]"), 20, "[0, 900, 7890, 7900]");
  }
  const auto built = lay_out_text(kPlainRack, row.set, van);
  INFO(words(built.findings));
  const auto found = std::ranges::find(built.findings, row.code, &Finding::code);
  REQUIRE(found != built.findings.end());
  CHECK(found->severity == Severity::error);
  CHECK(found->place);
  CHECK(message_text(*found, LengthStyle::millimetres).find('?') == std::string::npos);
}

TEST_CASE("a rack that is to have feet and stands in the air says so", "[layout][rack]") {
  std::string text = kPlainRack;
  const std::string place = "on = \"floor\"";
  REQUIRE(text.find(place) != std::string::npos);
  text.replace(text.find(place), place.size(), "bottom = \"32 mm\"");
  const auto built = lay_out_text(text);
  INFO(words(built.findings));
  const auto found = std::ranges::find(built.findings, "rack.feet_in_air", &Finding::code);
  REQUIRE(found != built.findings.end());
  CHECK(found->severity == Severity::warning);
  CHECK(found->place);
  CHECK(std::get<double>(found->argument("measured")->value) == Approx(32.0));
}

TEST_CASE("a rack with feet but no floor bolt says so", "[layout][rack]") {
  std::string text = kPlainRack;
  text.erase(text.find("floor_bolt"), std::string("floor_bolt = \"m8_40\"\n").size());
  CHECK(has_code(lay_out_text(text).findings, "rack.no_floor_bolt"));
}

TEST_CASE("a bolt that does not suit its slot is reported", "[layout][rack]") {
  // Bracket 5, lip 4.5, nut 5: at least 14.5; the slot is 12.3 deep: at most 17.3.
  CHECK(has_code(lay_out_text(kPlainRack, {"bracket.bracket_40.bolt=m8_20"}).findings,
                 "layout.bolt_too_long"));
  CHECK(has_code(lay_out_text(kPlainRack, {"bracket.bracket_40.bolt=m8_12_button"}).findings,
                 "layout.bolt_too_short"));
}
