#include "kind_samples.hpp"
#include "laid_out.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <optional>

using namespace ribbay;
using namespace ribbay::testing;

// The sample's galley at the right wall: 500 deep, its front at y = -270, its x is 2100 less the
// van's. Sheets as bought: birch_15 14.9, birch_18 17.7, birch_21 20.5, birch_6 6.4. The stretchers
// are 60 wide: the front one begins 20 + 17.7 + 2 + 30 behind the counter's edge, the rear one ends at
// 500 - 6.4, so that 129.7 to 433.6 is free. The cupboard reaches from 14.9 to 678.2: 1200 less three
// boards, a spacer of 62 and drawers of 430.

namespace {

/// Bounds in the van of the openings that are cut right through the counter.
std::vector<Box> openings(const Layout& layout) {
  const Part& counter = *layout.find("galley/counter");
  std::vector<Box> found;
  for (const Prism& prism : {counter.shape->prisms.front().prism}) {
    for (const Cut& cut : prism.cuts) {
      if (cut.role != CutRole::cut_out) continue;
      Box box;
      for (const Corner& corner : cut.outline)
        box.add(counter.frame.point(
            counter.shape->prisms.front().frame.point({corner.at.x, corner.at.y, 0})));
      found.push_back(box);
    }
  }
  return found;
}

const Cut& opening(const Layout& layout) {
  for (const Cut& cut : layout.find("galley/counter")->shape->prisms.front().prism.cuts) {
    if (cut.role == CutRole::cut_out) return cut;
  }
  FAIL("no opening");
  throw 0;
}

}  // namespace

TEST_CASE("a sink hangs in an opening midway between the stretchers", "[layout][galley]") {
  const Layout layout = good(kLopsidedGalley);
  // A bowl of 330 by 280 with 3 all round, so that its corners clear a radius of 10, in the middle of the cupboard at 346.55 and of what is free
  // at 281.65.
  const std::vector<Box> cut = openings(layout);
  REQUIRE(cut.size() == 1);
  CHECK(cut[0].lo.x == Approx(2100 - 346.55 - 168));
  CHECK(cut[0].hi.x == Approx(2100 - 346.55 + 168));
  CHECK(cut[0].hi.y == Approx(-270 - 281.65 + 143));
  CHECK(cut[0].lo.y == Approx(-270 - 281.65 - 143));
  for (const Corner& corner : opening(layout).outline) CHECK(corner.radius == Approx(10));
  // Its flange, 145 above the bowl's underside and 2 thick, lies on the counter; the trap hangs 110
  // below the bowl.
  const Box sink = bounds(*layout.find("galley/sink"));
  CHECK(sink.hi.z == Approx(880 + 2));
  CHECK(sink.lo.z == Approx(880 - 145 - 110));
  CHECK(sink.size().x == Approx(370));
  const auto held = std::ranges::find_if(layout.joints, [](const Joint& joint) {
    return std::ranges::count(joint.parts, "galley/sink") > 0;
  });
  REQUIRE(held != layout.joints.end());
  CHECK(std::ranges::count(held->parts, "galley/counter") == 1);
  // It comes out upwards.
  const auto out = std::ranges::find(layout.removals, "galley/sink", &Removal::id);
  REQUIRE(out != layout.removals.end());
  CHECK(out->direction.z == Approx(1));
}

TEST_CASE("a round bowl under the counter gets a round opening and screws from below",
          "[layout][galley]") {
  const Layout layout = good(
      kLopsidedGalley, {"module.galley.openings.sink.item=sink_round_under",
                        "module.galley.openings.sink.mount=under",
                        "module.galley.opening_screw=wood_3_5x16"});
  // The counter reaches in 5 over the edge of 280.
  const std::vector<Box> cut = openings(layout);
  REQUIRE(cut.size() == 1);
  CHECK(cut[0].size().x == Approx(270));
  CHECK(cut[0].size().y == Approx(270));
  for (const Corner& corner : opening(layout).outline) CHECK(corner.radius == Approx(135));
  CHECK(bounds(*layout.find("galley/sink")).hi.z == Approx(880 - 20.5));
  const Part* screw = layout.find("galley/sink.screw.front");
  REQUIRE(screw != nullptr);
  CHECK(bounds(*screw).hi.z > 880 - 20.5);
  CHECK(bounds(*screw).hi.z < 880);
}

TEST_CASE("where an opening is asked for, there it is", "[layout][galley]") {
  const Layout layout = good(kLopsidedGalley, {"module.galley.openings.sink.middle=400 mm",
                                               "module.galley.openings.sink.from_front=140 mm",
                                               "module.galley.openings.sink.corner_radius=15 mm"});
  const Box cut = openings(layout).at(0);
  CHECK(cut.centre().x == Approx(2100 - 400));
  CHECK(cut.hi.y == Approx(-270 - 140));
  CHECK(opening(layout).outline.front().radius == Approx(15));
}

TEST_CASE("what cannot be let into a counter is told with both numbers", "[layout][galley]") {
  struct Row {
    const char* name;
    std::vector<std::string> overrides;
    const char* code;
    const char* fact;
    std::optional<double> value;
  };
  const std::string sink = "module.galley.openings.sink.";
  const auto row = GENERATE_COPY(values<Row>({
      {"wide stretchers", {"module.galley.stretcher=80 mm"}, "galley.opening_over_stretcher", "most",
       413.6},
      {"too far forward", {sink + "from_front=100 mm"}, "galley.opening_over_stretcher", "from", 100.0},
      {"over the side", {sink + "middle=150 mm"}, "galley.opening_over_board", "from", -18.0},
      {"near the back", {sink + "rim=80 mm"}, "galley.narrow_rim", "measured", 75.35},
      {"no flange", {sink + "flange=rim"}, "galley.no_flange", "flange", {}},
      {"stands on it", {sink + "flange=trap"}, "galley.nothing_below", "flange", {}},
      {"no column", {sink + "column=oven"}, "galley.no_such_column", "found", {}},
      {"no screw", {sink + "item=sink_round_under", sink + "mount=under"}, "carcass.item_missing", "item",
       {}},
  }));
  CAPTURE(row.name);
  const auto built = lay_out_text(kLopsidedGalley, row.overrides);
  INFO(words(built.findings));
  const auto told = std::ranges::find(built.findings, row.code, &Finding::code);
  REQUIRE(told != built.findings.end());
  const Argument* fact = told->argument(row.fact);
  REQUIRE(fact != nullptr);
  if (row.value) CHECK(std::get<double>(fact->value) == Approx(*row.value));
  CHECK(told->place);
  CHECK(message_text(*told, LengthStyle::millimetres).find('?') == std::string::npos);
  CHECK_FALSE(advice_text(*told, LengthStyle::millimetres).empty());
}

TEST_CASE("two openings leave a rim between them", "[layout][galley]") {
  const std::string two = std::string(kLopsidedGalley) +
                          "[module.galley.openings.basin]\nitem = \"sink_round_under\"\n"
                          "mount = \"under\"\nmiddle = \"540 mm\"\n";
  // The sink's opening ends at 346.55 + 168, the round one begins at 540 - 135: they run into each
  // other by 109.55.
  const auto built = lay_out_text(two, {"module.galley.opening_screw=wood_3_5x16"});
  const auto told = std::ranges::find(built.findings, "galley.narrow_rim", &Finding::code);
  REQUIRE(told != built.findings.end());
  CHECK(std::get<double>(told->argument("measured")->value) == Approx(-109.55));
}
