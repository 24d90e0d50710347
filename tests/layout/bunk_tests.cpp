#include "small_project.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

const char* kPlainBunk = R"(
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
depth = "1200 mm"
place = { rear = "100 mm", between = "walls", bottom = "800 mm" }
)";

Layout good(const std::string& modules, const std::vector<std::string>& overrides = {}) {
  auto built = lay_out_text(modules, overrides);
  INFO(words(built.findings));
  REQUIRE(built.value);
  REQUIRE_FALSE(has_errors(built.findings));
  return *built.value;
}

}  // namespace

TEST_CASE("beams run from bearer to bearer, clear of the angle's fillet", "[layout][bunk]") {
  const Layout layout = good(kPlainBunk);
  // Ribs stand 30 into a van 1600 wide: 1540 between them. Angle 50x50x5 with a root radius of 7
  // (EN 10056-1, from memory): each beam end stays 12 from the wall.
  CHECK(size_of(layout, "bunk/beam_1").y == Approx(1540 - 2 * 12));
  CHECK(bounds(*layout.find("bunk/beam_1")).lo.z == Approx(805));
}

TEST_CASE("beams laid flat make a lower bunk", "[layout][bunk]") {
  const Layout upright = good(kPlainBunk);
  const Layout flat = good(kPlainBunk, {"module.bunk.laid=flat", "module.bunk.deck_screw=wood_4x35"});
  // 80 x 46: upright it stands 80 high, flat 46.
  CHECK(size_of(upright, "bunk/beam_1").z == Approx(80));
  CHECK(size_of(flat, "bunk/beam_1").z == Approx(46));
  CHECK(size_of(flat, "bunk/beam_1").x == Approx(80));
  CHECK(upright.module("bunk")->envelope.size().z - flat.module("bunk")->envelope.size().z ==
        Approx(34));
}

TEST_CASE("beams are spread evenly and end flush with the deck", "[layout][bunk]") {
  const Layout layout = good(kPlainBunk);
  CHECK(bounds(*layout.find("bunk/beam_1")).hi.x ==
        Approx(1300));  // faces the front: the first is foremost
  CHECK(bounds(*layout.find("bunk/beam_4")).lo.x == Approx(100));
  const double a = bounds(*layout.find("bunk/beam_1")).centre().x -
                   bounds(*layout.find("bunk/beam_2")).centre().x;
  const double b = bounds(*layout.find("bunk/beam_2")).centre().x -
                   bounds(*layout.find("bunk/beam_3")).centre().x;
  CHECK(a == Approx(b));
}

TEST_CASE("bearers are bolted to every rib they pass", "[layout][bunk]") {
  const Layout layout = good(kPlainBunk);
  // Ribs at 250, 750, 1250 on both sides.
  int bolts = 0;
  for (const Part& part : layout.parts)
    bolts += part.id.find("wall_bolt") != std::string::npos ? 1 : 0;
  CHECK(bolts == 6);
  CHECK(has_code(lay_out_text(kPlainBunk, {"module.bunk.place.bottom=1600mm"}).findings,
                 "bunk.few_ribs"));
}

TEST_CASE("a beam is drilled no deeper than its wall", "[layout][bunk]") {
  // 80 x 46 with flanges of 5.2 mm, as IPE 80 has (EN 10365). The bolt holds the lower
  // flange only.
  const Layout layout = good(kPlainBunk);
  const auto bores = [](const Layout& of, const char* part, BoreRole role) {
    std::vector<Bore> found = of.find(part)->shape->prisms.front().prism.bores;
    std::erase_if(found, [&](const Bore& bore) { return bore.role != role; });
    return found;
  };
  for (const Bore& bore : bores(layout, "bunk/beam_1", BoreRole::bolt)) {
    CHECK(bore.depth == Approx(5.2).margin(0.3));
    CHECK_FALSE(bore.through);
  }
  // Deck screws come from below, their heads sunk in the flange: they bite in the deck alone.
  CHECK(bores(layout, "bunk/beam_1", BoreRole::pilot).empty());
  CHECK(bores(layout, "bunk/beam_1", BoreRole::screw).size() == 8);  // each has its countersink
  const auto bites = bores(layout, "bunk/deck_1", BoreRole::pilot);
  REQUIRE(bites.size() == 4);
  for (const Bore& bore : bites) {
    CHECK(bore.at.z == Approx(0).margin(1e-6));  // the underside of the deck
    CHECK(bore.depth == Approx(16 - 5.2).margin(0.3));
  }
  // Laid flat, the bolts go through the web, and nothing else is in their way.
  const Layout flat = good(kPlainBunk, {"module.bunk.laid=flat", "module.bunk.deck_screw=wood_4x35"});
  for (const Bore& bore : flat.find("bunk/beam_1")->shape->prisms.front().prism.bores) {
    CHECK(bore.through == (bore.diameter < 7.9 || bore.role == BoreRole::bolt));  // heads are 8
  }
}

TEST_CASE("slats keep at least the gap asked for and fill the width", "[layout][bunk]") {
  const Layout layout = good(kPlainBunk, {"module.bunk.deck=slats", "module.bunk.slat_width=70mm",
                                          "module.bunk.slat_gap=60mm"});
  // floor((1540 + 60) / 130) = 12 slats; the first and the last are flush with the ends.
  int slats = 0;
  double lowest = 1e9;
  double highest = -1e9;
  for (const Part& part : layout.parts) {
    if (part.title != "Slat") continue;
    ++slats;
    lowest = std::min(lowest, bounds(part).lo.y);
    highest = std::max(highest, bounds(part).hi.y);
  }
  CHECK(slats == 12);
  CHECK(highest - lowest == Approx(1540));
}

TEST_CASE("a guard needs its sheet, and stands as high as asked above the deck", "[layout][bunk]") {
  CHECK(has_code(lay_out_text(kPlainBunk, {"module.bunk.guard_height=200mm"}).findings,
                 "bunk.no_guard_sheet"));
  const Layout layout =
      good(kPlainBunk, {"module.bunk.guard_height=200mm", "module.bunk.guard_sheet=birch_15",
                        "module.bunk.guard_screw=wood_4x40"});
  CHECK(bounds(*layout.find("bunk/guard")).hi.z - bounds(*layout.find("bunk/deck_1")).hi.z ==
        Approx(200));
}

TEST_CASE("a deck screw holds in the deck and does not come out of it", "[layout][bunk]") {
  // Web 3.8 of a beam 46 high: 24.9 below the deck, which is 12 thick (11.7 to 12.0 as sold).
  const auto codes = [](const char* screw) {
    return lay_out_text(kPlainBunk, {"module.bunk.laid=flat",
                                     std::string("module.bunk.deck_screw=") + screw})
        .findings;
  };
  CHECK(has_code(codes("wood_4x30"), "bunk.deck_screw"));  // 5 mm, less than 1.5 x 4
  CHECK_FALSE(has_code(codes("wood_4x35"), "bunk.deck_screw"));
  CHECK(has_code(codes("wood_4x40"), "bunk.deck_screw"));  // 15 mm: out at the top
}

TEST_CASE("what a bunk cannot be is reported", "[layout][bunk]") {
  CHECK(has_code(lay_out_text(kPlainBunk, {"module.bunk.beams=30"}).findings, "bunk.beams"));
  CHECK(has_code(lay_out_text(kPlainBunk, {"module.bunk.bearer=tube_40_20_2"}).findings,
                 "bunk.bearer"));
  CHECK(
      has_code(lay_out_text(kPlainBunk, {"module.bunk.width=150mm"}).findings, "bunk.too_narrow"));
  CHECK(has_code(
      lay_out_text(kPlainBunk, {"module.bunk.beam_bolt=m8_16", "module.bunk.laid=flat",
                               "module.bunk.deck_screw=wood_4x35"}).findings,
      "layout.bolt_too_short"));
}

TEST_CASE("bearers are drilled for the beams' bolts, bolted to ribs or not", "[layout][bunk]") {
  std::string free = kPlainBunk;
  free.erase(free.find("wall_bolt"), std::string("wall_bolt = \"m8_25\"\n").size());
  const auto built = lay_out_text(free);
  REQUIRE(built.value);
  for (const char* bearer : {"bunk/bearer.left", "bunk/bearer.right"}) {
    CHECK(built.value->find(bearer)->shape->prisms.front().prism.bores.size() == 4);  // of 4 beams
  }
}

TEST_CASE("bolt heads on hollow beams stand in pockets of the deck", "[layout][bunk]") {
  // The head of an M6 x 50 to ISO 4762 is 10 wide and 6 high: it stands on the tube, below 12 of
  // deck.
  const Layout layout =
      good(kPlainBunk, {"module.bunk.beam=tube_40_20_2", "module.bunk.beam_bolt=m6_50",
                        "module.bunk.deck_screw=wood_4_5x50"});
  int pockets = 0;
  for (const char* deck : {"bunk/deck_1", "bunk/deck_2"}) {
    for (const Bore& bore : layout.find(deck)->shape->prisms.front().prism.bores) {
      if (bore.role != BoreRole::access) continue;
      ++pockets;
      CHECK(bore.diameter == Approx(12));
      CHECK(bore.depth == Approx(7));
      CHECK_FALSE(bore.through);
    }
  }
  CHECK(pockets == 8);
  // In an I-beam the head lies on the lower flange.
  for (const Bore& bore : good(kPlainBunk).find("bunk/deck_1")->shape->prisms.front().prism.bores) {
    CHECK(bore.role != BoreRole::access);
  }
}
