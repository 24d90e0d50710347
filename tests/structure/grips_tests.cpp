#include "projects.hpp"
#include "small_project.hpp"
#include "structure/grips.hpp"
#include "structure/turned_on.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

const Grip& grip_of(const std::vector<Grip>& all, const std::string& id) {
  const auto found = std::ranges::find(all, id, &Grip::id);
  INFO(id);
  REQUIRE(found != all.end());
  return *found;
}

Layout rack(const std::vector<std::string>& set = {}) {
  auto built = lay_out_text(kPlainRack, set);
  INFO(words(built.findings));
  REQUIRE(built.value);
  return *built.value;
}

std::string first_bracket_bolt(const Layout& layout) {
  for (const Part& part : layout.parts) {
    if (part.stock.key == "m8_16") return part.id;
  }
  return {};
}

}  // namespace

TEST_CASE("a bolt in a slot nut is as long as bracket, lips and nut, and no longer than the slot",
          "[structure][grip]") {
  const Layout layout = rack();
  const std::string id = first_bracket_bolt(layout);
  const Grip grip = grip_of(grips(layout), id);
  const Catalogue& stock = *layout.catalogue;
  const double bracket = stock.brackets.at("bracket_40").thickness;
  const Slot slot = *stock.profiles.at("slotted_40").slot;
  const Nut& nut = stock.nuts.at("slot_nut_8_m8");
  REQUIRE(grip.layers.size() == 2);
  CHECK(layout.find(grip.layers[0].what)->stock.key == "bracket_40");
  CHECK(grip.layers[0].thickness == Approx(bracket));
  CHECK(grip.layers[1].what == "slot lips");
  CHECK(grip.layers[1].thickness == Approx(slot.lip));
  CHECK(layout.find(grip.into)->stock.key == "slot_nut_8_m8");
  CHECK(grip.clamped == Approx(bracket + slot.lip));
  CHECK(grip.shortest == Approx(bracket + slot.lip + nut.height));
  CHECK(grip.longest == Approx(bracket + slot.depth));
  CHECK(grip.held == Approx(std::min(nut.height, 16 - bracket - slot.lip)));
  CHECK(grip.verdict == GripVerdict::reaches);
}

TEST_CASE("a bolt that bottoms or does not fill its nut is told as the layout tells it",
          "[structure][grip]") {
  for (const auto& [length, verdict, code] :
       {std::tuple{"30mm", GripVerdict::bottoms, "layout.bolt_too_long"},
        std::tuple{"10mm", GripVerdict::too_short, "layout.bolt_too_short"}}) {
    CAPTURE(length);
    const auto built = lay_out_text(kPlainRack, {std::string("bolt.m8_16.length=") + length});
    REQUIRE(built.value);
    CHECK(has_code(built.findings, code));
    CHECK(grip_of(grips(*built.value), first_bracket_bolt(*built.value)).verdict == verdict);
  }
}

TEST_CASE("a bolt through the van's floor needs room for washer and nut below",
          "[structure][grip]") {
  // By hand: foot, floor of 12 mm, washer of 1.6 (ISO 7089, M8); below them a nut of 6.8 (ISO 4032,
  // M8, from memory) and two turns of 1.25 mm (ISO 261).
  const Layout layout = rack();
  const Grip grip = grip_of(grips(layout), layout.floor_bolts.front().id);
  const double foot = layout.catalogue->brackets.at("foot_40").thickness;
  REQUIRE(grip.layers.size() == 3);
  CHECK(grip.layers[1].what == "vehicle/floor");
  CHECK(grip.into == "nut M8");
  CHECK(grip.clamped == Approx(foot + 12 + 1.6));
  CHECK(grip.held == Approx(6.8));
  CHECK(grip.shortest == Approx(foot + 12 + 1.6 + 6.8 + 2.5));
  CHECK(grip.longest == 0.0);
  // It meets a joist, of which the survey tells no metal.
  CHECK(grip.not_counted.starts_with("cross"));
  CHECK(grip.verdict == GripVerdict::reaches);
  const Layout less = rack({"bolt.m8_40.length=20mm"});
  CHECK(grip_of(grips(less), less.floor_bolts.front().id).verdict == GripVerdict::too_short);
}

TEST_CASE("a floor bolt clamps every layer, the joist and the plate below", "[structure][grip]") {
  // By hand: foot t, mat 3, insulation 20 with a sleeve, skin 1.2, flange 2, plate 4, washer 1.6:
  // t + 31.8; the nut of 6.8 and two turns of 1.25: t + 41.1.
  Layout layout = rack();
  auto van = std::make_shared<Vehicle>(*layout.vehicle);
  van->floor_layers = {{"mat", 3, "rubber", false}, {"foam", 20, "", true}, {"skin", 1.2, "steel"}};
  van->floor_thickness = 24.2;
  van->floor_backing = 4;
  for (Joist& joist : van->joists) joist.flange = 2;
  layout.vehicle = van;
  const double foot = layout.catalogue->brackets.at("foot_40").thickness;
  const FloorBolt bolt = layout.floor_bolts.front();
  const Grip grip = grip_of(grips(layout), bolt.id);
  std::vector<std::string> names;
  for (const GripLayer& layer : grip.layers) names.push_back(layer.what);
  REQUIRE(names.size() == 7);
  CHECK(std::vector<std::string>(names.begin() + 1, names.begin() + 4) ==
        std::vector<std::string>{"vehicle/mat", "vehicle/foam", "vehicle/skin"});
  CHECK(grip.layers[2].sleeve);
  CHECK_FALSE(grip.layers[1].sleeve);
  CHECK(names[4].starts_with("vehicle/cross"));
  CHECK(names[5] == "plate under the floor");
  CHECK(names[6] == "washer M8");
  CHECK(grip.clamped == Approx(foot + 31.8));
  CHECK(grip.shortest == Approx(foot + 41.1));
  CHECK(grip.not_counted.empty());
  CHECK(grip.verdict == GripVerdict::too_short);  // of 40 mm
  // In a hard point it clamps the floor and goes into its thread by a diameter.
  layout.floor_bolts.front().hard_point = "ring";
  const Grip ring = grip_of(grips(layout), bolt.id);
  CHECK(ring.into == "vehicle/ring");
  CHECK(ring.clamped == Approx(foot + 24.2));
  CHECK(ring.shortest == Approx(foot + 24.2 + 8));
}

TEST_CASE("a screw into a body of the van is told by that, whatever it is made of",
          "[structure][grip]") {
  // 20 mm through a panel of 5 mm: 15 in the rib, of which 1.5 x 4 would do.
  Layout layout = rack();
  auto stock = std::make_shared<Catalogue>(*layout.catalogue);
  Bolt screw;
  screw.key = "screw";
  screw.kind = BoltKind::wood;
  screw.diameter = 4;
  screw.length = 20;
  stock->bolts["screw"] = screw;
  layout.catalogue = stock;
  Part panel;
  panel.id = "m/panel";
  panel.kind = PartKind::panel;
  panel.shape = std::make_shared<const Shape>(box_shape({-50, -50, 0}, {50, 50, 5}));
  panel.frame = frame_zx({0, 0, 500}, {0, 1, 0}, {1, 0, 0});
  Part part;
  part.id = "m/screw";
  part.kind = PartKind::hardware;
  part.stock.key = "screw";
  part.shape = std::make_shared<const Shape>(box_shape({-2, -2, 0}, {2, 2, 20}));
  part.frame = frame_zx({0, 0, 500}, {0, 1, 0}, {1, 0, 0});
  part.hosts = {"m/panel", "vehicle/rib_1"};
  layout.parts = {panel, part};
  const Grip grip = grips(layout).front();
  CHECK(grip.into == "vehicle/rib_1");
  REQUIRE(grip.layers.size() == 1);
  CHECK(grip.layers.front().thickness == Approx(5));
  CHECK(grip.held == Approx(15));
  CHECK(grip.shortest == Approx(11));
  CHECK(grip.longest == 0.0);
  CHECK(grip.verdict == GripVerdict::reaches);
  layout.parts[1].shape = std::make_shared<const Shape>(box_shape({-2, -2, 0}, {2, 2, 10}));
  stock->bolts["screw"].length = 10;
  CHECK(grips(layout).front().verdict == GripVerdict::too_short);
}

TEST_CASE("a bolt through clear holes takes washer and nut, one into a rib a rivet nut",
          "[structure][grip]") {
  // By hand: beam laid flat 46 high, web 3.8: head 24.9 above the bearer of 5; washer 1.6 (ISO
  // 7089), nut 6.8 (ISO 4032, from memory), two turns of 1.25 (ISO 261).
  const Layout layout = demo();
  const std::vector<Grip> all = grips(layout);
  const Grip beam = grip_of(all, "bunk/beam_1.bolt_left");
  CHECK(beam.into == "nut M8");
  CHECK(beam.clamped == Approx(24.9 + 5 + 1.6));
  CHECK(beam.shortest == Approx(24.9 + 5 + 1.6 + 6.8 + 2.5));
  CHECK(beam.held == Approx(6.8));
  const Grip rib = grip_of(all, "bunk/bearer.left.wall_bolt_1");
  CHECK(rib.into == "rivet nut M8");
  CHECK(rib.shortest == Approx(5 + 8));
  // Deck screws bite in the deck, not in the beams.
  CHECK(layout.find(grip_of(all, "bunk/deck_1.screw_1_1").into)->title == "Deck panel");

  std::map<std::string, int> count;
  for (const TurnedOn& on : turned_on(layout)) count[on.module + ": " + on.title] = on.count;
  CHECK(count["bunk: Hexagon nut M8, ISO 4032"] == 8);
  CHECK(count["bunk: Plain washer M8, ISO 7089"] == 8);
  CHECK(count["bunk: Rivet nut M8, for the sheet of the rib"] == 6);
  CHECK(count["rack: Hexagon nut M8, ISO 4032, under the floor"] == 6);
  // The rack's bolts meet joists; two of the partition and four of the galley go through the deck
  // alone.
  CHECK_FALSE(count.contains("rack: Large washer M8, ISO 7093, under the floor"));
  CHECK(count["partition: Large washer M8, ISO 7093, under the floor"] == 2);
  CHECK(count["galley: Large washer M8, ISO 7093, under the floor"] == 4);
  // Magnets behind the lining have one hole each, and nothing else holds them; latches are screwed.
  CHECK(count["left_lining: Screw or rivet for a hole of Ø5.5"] == 18);
  CHECK(std::ranges::count_if(count, [](const auto& each) {
          return each.first.find("for a hole of") != std::string::npos;
        }) == 1);
}

TEST_CASE("the far end of a stay gets a screw that no layout drills for", "[structure][grip]") {
  const Layout layout = laid_out_file(RIBBAY_SOURCE_DIR "/params/examples/locker.toml");
  int far = 0;
  for (const TurnedOn& on : turned_on(layout))
    far += on.title == "Screw or rivet for a hole of Ø4" ? on.count : 0;
  CHECK(far == 1);  // one door lifts; the two holes of its foot are screwed
  CHECK(layout.find("locker/door.kitchen.stay.screw.first") != nullptr);
  CHECK(layout.find("locker/door.kitchen.stay.screw.head") == nullptr);
}

TEST_CASE("every bolt and screw of the demo is judged, and none comes to nothing",
          "[structure][grip]") {
  const Layout layout = demo();
  const std::vector<Grip> all = grips(layout);
  CHECK(all.size() > 100);
  CHECK(std::ranges::is_sorted(all, {}, &Grip::id));
  for (const Grip& grip : all) {
    CAPTURE(grip.id, grip.into, grip.clamped, grip.shortest, grip.longest, name(grip.verdict));
    CHECK(grip.verdict == GripVerdict::reaches);
  }
}
