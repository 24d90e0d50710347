#include "folding_bunk.hpp"
#include "kind_samples.hpp"
#include "laid_out.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <numbers>
#include <optional>

using namespace ribbay;
using namespace ribbay::testing;

// Sheets as bought: birch_18 is 17.7 thick, birch_15 14.9. Fittings as in params/stock: the bunk's leg is 420 long,
// leaves of butt_70 are 26 wide and 1.8 thick.

namespace {

void check_box(const Layout& layout, const std::string& name, Vec3 lo, Vec3 hi) {
  check_bounds(part_named(layout, "bunk/" + name), lo, hi);
}

const Motion& motion(const Layout& layout, const std::string& id) {
  const auto found = std::ranges::find(layout.motions, id, &Motion::id);
  INFO(id);
  REQUIRE(found != layout.motions.end());
  return *found;
}

const Finding* finding(const Findings& findings, const std::string& code) {
  const auto found = std::ranges::find(findings, code, &Finding::code);
  return found == findings.end() ? nullptr : &*found;
}

}  // namespace

TEST_CASE("a folding bunk turns on a strip over two bearers", "[layout][bunk]") {
  const Layout layout = good(kFoldingBunk);
  // Wall gap 2. The strip takes the hinge's leaf and 2 beside it, less half of a gap of 2, two bearers
  // of 14.9 and a hand's width of 40: 27 + 29.8 + 40 = 96.8. The pins lie 1 before it: y = -768 + 97.8.
  check_box(layout, "strip", {700, -768, 504.9}, {2500, -671.2, 522.6});
  check_box(layout, "bearer.wall", {700, -768, 434.9}, {2500, -753.1, 504.9});
  check_box(layout, "bearer.inner", {700, -670.2 - 28 - 14.9, 434.9}, {2500, -698.2, 504.9});
  check_box(layout, "deck", {700, -669.2, 504.9}, {2500, -70, 522.6});
  check_box(layout, "rail.front", {700, -84.9, 434.9}, {2500, -70, 504.9});
  check_box(layout, "rail.rear", {700, -670.2 + 28, 434.9}, {2500, -670.2 + 28 + 14.9, 504.9});
  // 1800 - 14.9 in four steps of at most 450.
  check_box(layout, "joist_2", {2500 - 446.275 - 14.9, -627.3, 434.9},
            {2500 - 446.275, -84.9, 504.9});
  CHECK(layout.find("bunk/joist_5") != nullptr);
  CHECK(layout.find("bunk/joist_6") == nullptr);
  CHECK(layout.module("bunk")->envelope.size().z == Approx(87.7));
  // Ribs at 750, 1250, 1750, 2250.
  CHECK(std::ranges::count(layout.joints, "screwed to a rib", &Joint::kind) == 4 + 4);
}

TEST_CASE("legs fold before the bunk does, and it takes along all that it is made of",
          "[layout][bunk]") {
  const Layout layout = good(kFoldingBunk);
  REQUIRE(layout.motions.size() == 3);
  const Motion& left = motion(layout, "bunk/leg.left");
  const Motion& right = motion(layout, "bunk/leg.right");
  const Motion& leaf = motion(layout, "bunk/leaf");
  CHECK(left.after.empty());
  CHECK(right.after == left.id);
  CHECK(leaf.after == right.id);
  CHECK(leaf.travel == Approx(std::numbers::pi / 2));
  CHECK(leaf.origin.y == Approx(-670.2));
  CHECK(leaf.origin.z == Approx(522.6 + 1.8));
  CHECK(leaf.axis.x == Approx(1));  // from +y to +z
  for (const Part& part : layout.parts) {
    const std::string name = part.id.substr(part.id.find('/') + 1);
    const bool stays = name.starts_with("bearer.") || name.starts_with("cross_") ||
                       name.starts_with("strip") || name.starts_with("strap_") ||
                       name.find(".fixed") != std::string::npos;
    const bool is_leg_screw = name.starts_with("leg.") && part.stock.key.starts_with("wood");
    if (is_leg_screw) continue;
    CAPTURE(part.id);
    CHECK((std::ranges::count(leaf.parts, part.id) == 1) == !stays);
  }
  // Feet on the floor.
  check_box(layout, "leg.left.folding", {2500 - 120 - 20, -70 - 75 - 20, 0},
            {2500 - 120 + 20, -70 - 75 + 20, 420 - 24});
}

TEST_CASE("a mattress pushes the hinges away from the wall, or is said to be in the way",
          "[layout][bunk]") {
  // Behind the pins 120 for the mattress and 15 of air.
  const Layout layout = good(kFoldingBunk, {"module.bunk.mattress=120 mm"});
  CHECK(motion(layout, "bunk/leaf").origin.y == Approx(-770 + 2 + 135).margin(2.1));
  const auto tight = lay_out_text(
      kFoldingBunk, {"module.bunk.mattress=120 mm", "module.bunk.hinge_strip=110 mm"});
  const Finding* told = finding(tight.findings, "bunk.mattress_no_room");
  REQUIRE(told != nullptr);
  // The ribs stand 2 behind the bearer; the pins 1 before the strip.
  CHECK(number(*told, "required") == Approx(110 + 1 + 2));
  CHECK(told->severity == Severity::warning);
}

TEST_CASE("a bunk that folds down has its hinges below, and room behind them for rails and legs",
          "[layout][bunk]") {
  const Layout layout =
      good(kFoldingBunk, {"module.bunk.folds=down", "module.bunk.leg=table_leg_folding",
                          "module.bunk.place.bottom=704.9 mm", "module.bunk.depth=760 mm",
                          "module.bunk.strap_screw=wood_4x20"});
  const Motion& leaf = motion(layout, "bunk/leaf");
  CHECK(leaf.origin.z == Approx(704.9 + 70 - 1.8));
  CHECK(leaf.axis.x == Approx(-1));  // from +y to -z
  // Rails 70, pads 14.9, the leg's axis 24 below them and half of its foot, air 15.
  CHECK(leaf.origin.y == Approx(-768 + 70 + 14.9 + 24 + 20 + 15));
  // The inner bearer lets the rails pass: 70 and 2.
  CHECK(bounds(*layout.find("bunk/bearer.inner")).hi.y == Approx(leaf.origin.y - 72));
}

TEST_CASE("straps are held by the outermost ribs, above the folded bunk", "[layout][bunk]") {
  const Layout layout = good(kFoldingBunk);
  // Leaf: 700 - 2 - 97.8 = 600.2 to the pins; the plate's middle 40 above it, 20 up from there.
  const double top = 522.6 + 600.2 + 40 + 20;
  CHECK(bounds(*layout.find("bunk/strap_1")).hi.z == Approx(top));
  CHECK(bounds(*layout.find("bunk/strap_1")).lo.y == Approx(-770));
  CHECK(bounds(*layout.find("bunk/strap_1")).centre().x == Approx(2250));
  CHECK(bounds(*layout.find("bunk/strap_2")).centre().x == Approx(750));
  CHECK(layout.find("bunk/strap_3") == nullptr);

  const auto weak = lay_out_text(kFoldingBunk, {"fitting.strap_25.hold=10 N"});
  const Finding* told = finding(weak.findings, "bunk.strap_weak");
  REQUIRE(told != nullptr);
  CHECK(number(*told, "measured") == Approx(20));
  double mass = 0.0;
  for (const Part& part : layout.parts) {
    if (std::ranges::count(motion(layout, "bunk/leaf").parts, part.id) > 0) mass += part.mass_kg;
  }
  CHECK(mass > 15);
  CHECK(number(*told, "required") == Approx(0.7 * mass * 9.81 * 300.1 / 640.2));
  // Ribs end 1500 above the floor.
  CHECK(has_code(lay_out_text(kFoldingBunk, {"rib.pair.to=1000 mm", "module.bunk.place.bottom=900 mm"})
                     .findings,
                 "bunk.no_rib_for_strap"));
}

TEST_CASE("slats lie along a folding bunk, from its front edge to the hinges", "[layout][bunk]") {
  const Layout layout = good(kFoldingBunk, {"module.bunk.deck=slats"});
  std::vector<Box> slats;
  for (int i = 1; layout.find("bunk/slat_" + std::to_string(i)) != nullptr; ++i)
    slats.push_back(bounds(*layout.find("bunk/slat_" + std::to_string(i))));
  // 599.2 deep: five slats of 70 and four gaps of at least 50 take 550.
  REQUIRE(slats.size() == 5);
  CHECK(slats.front().hi.y == Approx(-70));
  CHECK(slats.back().lo.y == Approx(-669.2));
  for (std::size_t i = 0; i + 1 < slats.size(); ++i)
    CHECK(slats[i].lo.y - slats[i + 1].hi.y == Approx((599.2 - 350) / 4));
  CHECK(slats.front().size().x == Approx(1800));
}

TEST_CASE("a high bunk without enough guard is told of", "[layout][bunk]") {
  // 16 CFR 1213.2 and 1213.3: a base more than 30 in above the floor; 5 in above the mattress.
  const std::vector<std::string> high{"module.bunk.place.bottom=704.9 mm",
                                      "module.bunk.leg=table_leg_folding"};
  const auto with = [&](std::vector<std::string> more) {
    more.insert(more.end(), high.begin(), high.end());
    return lay_out_text(kFoldingBunk, more).findings;
  };
  const Findings none = with({"module.bunk.mattress=60 mm"});
  const Finding* told = finding(none, "bunk.low_guard");
  REQUIRE(told != nullptr);
  CHECK(number(*told, "height") == Approx(774.9));
  CHECK(number(*told, "measured") == Approx(-60));
  CHECK(number(*told, "required") == Approx(127));
  CHECK(number(*told, "guard") == Approx(187));
  const std::vector<std::string> guard{"module.bunk.mattress=60 mm", "module.bunk.guard_height=187 mm",
                                       "module.bunk.guard_sheet=birch_12",
                                       "module.bunk.guard_screw=wood_3_5x16"};
  CHECK_FALSE(has_code(with(guard), "bunk.low_guard"));
  CHECK_FALSE(has_code(lay_out_text(kFoldingBunk).findings, "bunk.low_guard"));
}

TEST_CASE("what a folding bunk cannot be is told with its place", "[layout][bunk]") {
  struct Row {
    const char* name;
    std::vector<std::string> overrides;
    const char* code;
    std::optional<double> measured;
    std::optional<double> required;
  };
  const auto row = GENERATE(values<Row>({
      {"no wall behind", {"module.bunk.faces=rear"}, "bunk.not_at_wall", {}, {}},
      {"guard without sheet", {"module.bunk.guard_height=100 mm"}, "carcass.item_missing", {}, {}},
      {"narrow strip", {"module.bunk.hinge_strip=60 mm"}, "carcass.too_small", 60.0, 96.8},
      {"short", {"module.bunk.width=800 mm"}, "carcass.too_small", 800.0, 900.0},
      {"shallow", {"module.bunk.depth=400 mm"}, "carcass.too_small", 400.0, {}},
      {"low", {"module.bunk.height=60 mm"}, "carcass.too_small", 60.0, 87.7},
      {"wrong legs",
       {"module.bunk.place.bottom=500 mm"},
       "carcass.leg_length",
       420.0,
       500.0 - 14.9},
      {"hinges for a thicker deck", {"module.bunk.deck_sheet=birch_9"}, "joinery.own_screw_too_long", 16.0, {}},
      {"a fixed bunk's post", {"module.bunk.leg=table_post", "fitting.table_post.use=leg"},
       "carcass.leg_fixed", {}, {}},
  }));
  CAPTURE(row.name);
  const auto built = lay_out_text(kFoldingBunk, row.overrides);
  INFO(words(built.findings));
  const Finding* told = finding(built.findings, row.code);
  REQUIRE(told != nullptr);
  if (row.measured) CHECK(number(*told, "measured") == Approx(*row.measured));
  if (row.required) CHECK(number(*told, "required") == Approx(*row.required));
  CHECK(std::ranges::count(built.findings, *told) == 1);  // both legs, one fault
  CHECK(told->place);
  CHECK(message_text(*told, LengthStyle::millimetres).find('?') == std::string::npos);
  CHECK_FALSE(advice_text(*told, LengthStyle::millimetres).empty());
}

TEST_CASE("a fixed bunk still asks for its beams", "[layout][bunk]") {
  const auto built = lay_out_text(
      "[module.bunk]\nkind = \"bunk\"\nfaces = \"front\"\ndeck_sheet = \"birch_12\"\ndepth = 1200\n"
      "place = { rear = 100, between = \"walls\", bottom = 400 }\n");
  std::size_t missing = 0;
  for (const Finding& each : built.findings) missing += each.code == "carcass.item_missing" ? 1 : 0;
  CHECK(missing == 3);
  CHECK_THAT(words(built.findings),
             Catch::Contains("set bunk.beam_bolt to the name of a machine bolt: ribbay explain machine_bolt FILE"));
  CHECK_THAT(words(built.findings),
             Catch::Contains("set bunk.bearer to the name of a profile: ribbay explain profile FILE"));
}
