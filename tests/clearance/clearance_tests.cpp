#include "base/messages.hpp"
#include "base/tolerance.hpp"
#include "clearance/clearance.hpp"
#include "scenes.hpp"

#include <numbers>

using namespace ribbay;
using scenes::box_part;
using scenes::layout_of;
using scenes::part;

namespace {

constexpr double kPi = std::numbers::pi;

std::vector<std::string> codes(const ClearanceResult& result) {
  std::vector<std::string> found;
  for (const Finding& finding : result.findings) found.push_back(finding.code);
  return found;
}

double number(const Finding& finding, std::string_view name) {
  const Argument* argument = finding.argument(name);
  REQUIRE(argument != nullptr);
  return std::get<double>(argument->value);
}

/// The only finding, which must have this code, words for it and every number it names.
Finding only(const ClearanceResult& result, const std::string& code) {
  REQUIRE(codes(result) == std::vector<std::string>{code});
  const Finding& finding = result.findings.front();
  const std::string words = message_text(finding, LengthStyle::millimetres);
  CAPTURE(words);
  CHECK(words.find(code) == std::string::npos);
  CHECK(words.find('?') == std::string::npos);
  CHECK(words.find(finding.subjects.front()) != std::string::npos);
  CHECK(finding.at);
  CHECK(finding.source.empty());
  return finding;
}

Part equipment_box(std::string id, Vec3 lo, Vec3 hi) {
  Part result = box_part(std::move(id), lo, hi);
  result.kind = PartKind::equipment;
  return result;
}

Part hardware_box(std::string id, Vec3 lo, Vec3 hi, std::vector<std::string> hosts) {
  Part result = box_part(std::move(id), lo, hi);
  result.kind = PartKind::hardware;
  result.hosts = std::move(hosts);
  return result;
}

Part cylinder_part(std::string id, double diameter, double height, Vec3 at) {
  return part(std::move(id), Shape{{cylinder(diameter, height)}}, Frame{at});
}

/// A drawer front at x 0..18 that travels to the front, with a box behind it.
Layout drawer(double required) {
  Layout layout = layout_of({box_part("galley/drawer.front", {0, 0, 100}, {18, 400, 300}),
                             box_part("galley/drawer.side", {-450, 0, 110}, {0, 12, 290})});
  Motion motion;
  motion.id = "galley/drawer";
  motion.title = "Drawer 1";
  motion.parts = {"galley/drawer.front", "galley/drawer.side"};
  motion.travel = 450;
  motion.required = required;
  layout.motions = {motion};
  return layout;
}

void add(Layout& layout, Part added) {
  layout.parts.push_back(std::move(added));
  std::ranges::sort(layout.parts, {}, &Part::id);
}

}  // namespace

TEST_CASE("a clash that only a finish makes names the finish and the part that has it",
          "[clearance][finish]") {
  // Boards 100 and 100 wide meet at x = 100; a film of 2 on the first reaches 2 into the second.
  const auto covered = [](double film, double start) {
    Part first = box_part("galley/panel", {0, 0, 0}, {100, 300, 40});
    first.finished = std::make_shared<const Shape>(box_shape({0, 0, 0}, {100 + film, 300, 40}));
    first.coverings.push_back({.finish = "felt_grey", .face = true, .thickness = film});
    return layout_of({first, box_part("rack/rail", {start, 0, 0}, {200, 300, 40})});
  };
  const Finding finding = only(check_clearance(covered(2, 100)), "clearance.finish");
  CHECK(number(finding, "measured") == Approx(2.0).margin(1e-6));
  CHECK(message_text(finding, LengthStyle::millimetres) ==
        "galley/panel cuts 2 mm deep into rack/rail, and would not without its finish: felt_grey, "
        "2 mm on galley/panel");
  CHECK(check_clearance(covered(2, 102)).findings.empty() ==
        check_clearance(covered(0, 100)).findings.empty());
  only(check_clearance(covered(2, 99)), "clearance.clash");  // it would without the film as well

  // Either film alone has room; both together have not, and both are named.
  Layout both = covered(2, 103);
  for (Part& part : both.parts) {
    if (part.id != "rack/rail") continue;
    part.finished = std::make_shared<const Shape>(box_shape({101.5, 0, 0}, {200, 300, 40}));
    part.coverings.push_back({.finish = "vinyl", .back = true, .thickness = 1.5});
  }
  const Finding narrow = only(check_clearance(both), "clearance.finish");
  CHECK(number(narrow, "measured") == Approx(0.5).margin(1e-6));
  CHECK_THAT(message_text(narrow, LengthStyle::millimetres),
             Catch::Contains("felt_grey, 2 mm on galley/panel; vinyl, 1.5 mm on rack/rail"));
}

TEST_CASE("a motion that comes after another begins where that one has left its parts",
          "[clearance][motion]") {
  // A leg of 20 x 20 x 370 hangs below a leaf; at x = 400, just out of the folding leg's reach, stands
  // a post up to z = 350.
  Layout layout = layout_of({box_part("m/leaf", {0, 0, 400}, {200, 200, 420}),
                             box_part("m/leg", {0, 90, 0}, {20, 110, 370}),
                             box_part("m/post", {400, 0, 0}, {420, 200, 350})});
  Motion out{.id = "m/out", .title = "leaf", .kind = MotionKind::translation,
             .parts = {"m/leaf", "m/leg"}, .axis = {1, 0, 0}, .origin = {}, .travel = 500,
             .required = 500, .gives_way = {}};
  layout.motions = {out};
  // The leg meets the post after 400 - 20.
  CHECK(check_clearance(layout).motions.at(0).opens == Approx(380));

  // Folded by a quarter turn about (10, y, 370) it lies along x, 360 to 380 high, over the post.
  Motion fold{.id = "m/fold", .title = "leg", .kind = MotionKind::rotation, .parts = {"m/leg"},
              .axis = {0, -1, 0}, .origin = {10, 100, 370}, .travel = std::numbers::pi / 2,
              .required = std::numbers::pi / 2, .gives_way = {}};
  layout.motions = {fold, out};
  layout.motions[1].after = "m/fold";
  layout.joints.push_back({.id = "m/j", .kind = "hinge", .parts = {"m/leaf", "m/leg"}, .hardware = {}});
  ClearanceResult result = check_clearance(layout);
  CHECK(result.motions.at(1).opens == Approx(500));
  CHECK_FALSE(result.motions.at(1).blocked);

  // A third one after both: the leg unfolds where it has been brought to, behind the post; a box
  // on the floor there stops it.
  layout.parts.push_back(box_part("m/stone", {505, 90, 0}, {515, 110, 100}));
  std::ranges::sort(layout.parts, {}, &Part::id);
  Motion unfold = fold;
  unfold.id = "m/unfold";
  unfold.axis = {0, 1, 0};
  unfold.origin = {510, 100, 370};
  unfold.after = "m/out";
  layout.motions = {fold, layout.motions[1], unfold};
  result = check_clearance(layout);
  CHECK(result.motions.at(2).blocked);
  CHECK(result.motions.at(2).obstacle == "m/stone");

  // What comes after itself, or after nothing that is known, begins as it is laid out.
  layout.motions = {out};
  for (const char* after : {"m/out", "m/none"}) {
    layout.motions[0].after = after;
    check_clearance(layout);
  }
}

TEST_CASE("two parts in one place clash", "[clearance]") {
  // 12 mm of x, 300 of y, 40 of z in common.
  const Layout layout = layout_of({box_part("galley/panel", {0, 0, 0}, {100, 300, 40}),
                                   box_part("rack/rail", {88, 0, 0}, {200, 300, 40})});
  const ClearanceResult result = check_clearance(layout);
  CHECK(result.bodies == 2);
  CHECK(result.pieces == 2);
  CHECK(result.pairs == 1);
  REQUIRE(result.contacts.size() == 1);
  const Contact& clash = result.contacts.front();
  CHECK(clash.verdict == Verdict::clash);
  CHECK(clash.separation == Approx(-12.0).margin(1e-6));
  CHECK(clash.way.x == Approx(-1.0));
  CHECK(clash.volume == Approx(12.0 * 300 * 40).epsilon(1e-6));
  CHECK(clash.at.x == Approx(94.0).margin(1e-6));
  const Finding finding = only(result, "clearance.clash");
  CHECK(finding.subjects == std::vector<std::string>{"galley/panel", "rack/rail"});
  CHECK(number(finding, "measured") == Approx(12.0).margin(1e-6));
  CHECK(number(finding, "volume") == Approx(144000.0).epsilon(1e-6));
  CHECK(advice_text(finding, LengthStyle::millimetres) ==
        "move galley/panel by 12 mm to the rear, or make one of the two smaller");
}

TEST_CASE("two modules that stand in each other are told once", "[clearance]") {
  // Two rows of bars across each other, and a rail through the second bar of the first row.
  Layout layout = layout_of({box_part("a/1", {0, 0, 0}, {400, 40, 40}),
                             box_part("a/2", {0, 100, 0}, {400, 140, 40}),
                             box_part("b/1", {100, -50, 30}, {140, 300, 70}),
                             box_part("b/2", {200, -50, 30}, {240, 300, 70})});
  layout.parts[2].frame.origin.z -= 5;  // 15 mm deep instead of 10
  const ClearanceResult result = check_clearance(layout);
  CHECK(std::ranges::count(result.contacts, Verdict::clash, &Contact::verdict) == 4);
  const Finding finding = only(result, "clearance.modules");
  CHECK(finding.subjects == std::vector<std::string>{"a/1", "b/1"});
  CHECK(number(finding, "measured") == Approx(15.0).margin(1e-6));
  CHECK(number(finding, "others") == 3.0);
  // As wholes: a reaches up to 40, b down to 25.
  CHECK(advice_text(finding, LengthStyle::millimetres) ==
        "move a by 15 mm down, or make one of the two smaller");

  SECTION("when the first cannot move, the second does") {
    add(layout, box_part("c/shelf", {0, 0, -30}, {400, 300, -5}));
    CHECK(
        advice_text(only(check_clearance(layout), "clearance.modules"), LengthStyle::millimetres) ==
        "move b by 15 mm up, or make one of the two smaller");
  }
  SECTION("when neither can, no way is advised") {
    add(layout, box_part("c/shelf", {0, 0, -30}, {400, 300, -5}));
    add(layout, box_part("d/shelf", {0, 0, 75}, {400, 300, 90}));
    CHECK(advice_text(only(check_clearance(layout), "clearance.modules"), LengthStyle::millimetres)
              .empty());
  }
  SECTION("three are told one by one") {
    std::erase_if(layout.parts, [](const Part& part) { return part.id == "a/2"; });
    add(layout, box_part("b/3", {300, -50, 30}, {340, 300, 70}));
    CHECK(codes(check_clearance(layout)) == std::vector<std::string>(3, "clearance.clash"));
  }
}

TEST_CASE("the way out of a part made of several pieces clears all of them", "[clearance]") {
  // A block of three slices, and a bar in all of them. By itself the middle slice would be clear of
  // the bar after 30 mm sideways, but then the next slice is in the way (55 mm for all); upward it
  // is 32 mm.
  Shape slices;
  for (const double y : {0.0, 25.0, 50.0}) {
    slices.prisms.push_back(box_shape({0, y, 0}, {500, y + 25, 32}).prisms.front());
  }
  const Layout layout =
      layout_of({part("a/slices", slices), box_part("b/bar", {100, 20, 0}, {400, 60, 32})});
  const ClearanceResult result = check_clearance(layout);
  REQUIRE(result.contacts.size() == 1);
  CHECK(-result.contacts[0].separation == Approx(32.0).margin(1e-6));
  CHECK(std::abs(result.contacts[0].way.z) == Approx(1.0));
  CHECK(result.contacts[0].volume == Approx(300.0 * 40 * 32).epsilon(1e-6));
}

TEST_CASE("a way out that runs into something else at once is not advised", "[clearance]") {
  // A box 300 high on a shelf reaches 12 into the beam of another module: down is the shortest way.
  Layout layout = layout_of({equipment_box("rack/box", {0, 0, 100}, {300, 300, 400}),
                             box_part("rack/shelf", {0, 0, 88}, {300, 300, 100}),
                             box_part("bunk/beam", {-50, -50, 388}, {400, 400, 428})});
  const auto advice = [&](const char* code) {
    const ClearanceResult result = check_clearance(layout);
    const auto found = std::ranges::find(result.findings, code, &Finding::code);
    REQUIRE(found != result.findings.end());
    return advice_text(*found, LengthStyle::millimetres);
  };
  const auto drop = [&](const char* id) {
    std::erase_if(layout.parts, [&](const Part& part) { return part.id == id; });
  };
  SECTION("of a bought thing between a shelf and a beam") {
    // The beam would have to go up.
    CHECK(advice("clearance.clash") ==
          "move bunk/beam by 12 mm up, or make one of the two smaller");
    layout.parts.push_back(box_part("roof/panel", {-50, -50, 430}, {400, 400, 440}));
    std::ranges::sort(layout.parts, {}, &Part::id);
    CHECK(advice("clearance.clash").empty());
  }
  SECTION("of a space to be kept free") {
    Zone zone;
    zone.id = "bunk/room";
    zone.shape = box_shape({-50, -50, 388}, {400, 400, 428});
    zone.owner = "bunk";
    layout.zones = {zone};
    drop("bunk/beam");
    CHECK(advice("clearance.zone").empty());
    drop("rack/shelf");
    CHECK(advice("clearance.zone") == "move rack/box by 12 mm down");
  }
  SECTION("of a module that stands on the floor") {
    layout = layout_of({box_part("tall/post", {500, 0, 0}, {540, 40, 1910}),
                        box_part("tall/top", {400, 0, 700}, {500, 40, 710})});
    layout.vehicle = scenes::plain_van();
    CHECK(advice("clearance.clash").empty());
    layout.parts = layout_of({box_part("tall/post", {500, 0, 100}, {540, 40, 1910})}).parts;
    CHECK(advice("clearance.clash") ==
          "move tall/post by 10 mm down, or make one of the two smaller");
  }
}

TEST_CASE("parts of one module are checked against each other too", "[clearance]") {
  const ClearanceResult result =
      check_clearance(layout_of({box_part("rack/post", {0, 0, 0}, {40, 40, 900}),
                                 box_part("rack/rail", {39.9, 0, 0}, {600, 40, 40})}));
  only(result, "clearance.clash");
}

TEST_CASE("a hundredth of a millimetre separates touching from a clash", "[clearance]") {
  struct Row {
    double overlap;
    std::vector<std::string> found;
  };
  const auto row = GENERATE(values<Row>({
      {-0.5, {"clearance.tight"}},
      {-0.011, {"clearance.tight"}},
      {-0.009, {}},
      {0.0, {}},
      {0.009, {}},
      {0.011, {"clearance.clash"}},
  }));
  CAPTURE(row.overlap);
  const Layout layout =
      layout_of({box_part("a/left", {0, 0, 0}, {100, 100, 100}),
                 box_part("b/right", {100 - row.overlap, 0, 0}, {200, 100, 100})});
  CHECK(codes(check_clearance(layout)) == row.found);
}

TEST_CASE("touching pairs are listed only when asked for", "[clearance]") {
  const Layout layout = layout_of({box_part("a/left", {0, 0, 0}, {100, 100, 100}),
                                   box_part("b/right", {100, 0, 0}, {200, 100, 100})});
  CHECK(check_clearance(layout).contacts.empty());
  const ClearanceResult listed = check_clearance(layout, 1, true);
  REQUIRE(listed.contacts.size() == 1);
  CHECK(listed.contacts[0].verdict == Verdict::touching);
  CHECK(listed.findings.empty());
}

TEST_CASE("narrow gaps are reported between modules and around equipment", "[clearance]") {
  const auto gap_between = [](Part a, Part b) {
    Layout layout = layout_of({std::move(a), std::move(b)});
    layout.tight = 1.0;
    return layout;
  };
  const Vec3 lo{0, 0, 0}, hi{100, 100, 100}, lo2{100.4, 0, 0}, hi2{200, 100, 100};
  SECTION("between modules") {
    const ClearanceResult result =
        check_clearance(gap_between(box_part("a/p", lo, hi), box_part("b/p", lo2, hi2)));
    const Finding finding = only(result, "clearance.tight");
    CHECK(finding.severity == Severity::warning);
    CHECK(number(finding, "measured") == Approx(0.4).margin(1e-9));
    CHECK(number(finding, "required") == 1.0);
    REQUIRE(result.contacts.size() == 1);
    CHECK(result.contacts[0].verdict == Verdict::tight);
    CHECK(result.contacts[0].at.x == Approx(100.2).margin(1e-6));
  }
  SECTION("around equipment in its own module") {
    only(check_clearance(gap_between(equipment_box("a/fridge", lo, hi), box_part("a/p", lo2, hi2))),
         "clearance.tight");
  }
  SECTION("not inside a module") {
    CHECK(check_clearance(gap_between(box_part("a/p", lo, hi), box_part("a/q", lo2, hi2)))
              .findings.empty());
  }
  SECTION("not in a joint") {
    Layout layout = gap_between(box_part("a/p", lo, hi), box_part("b/p", lo2, hi2));
    layout.joints.push_back({"j", "screwed", {"a/p", "b/p"}, {}});
    CHECK(check_clearance(layout).findings.empty());
  }
  SECTION("not where the file allows a smaller gap by name") {
    Layout layout = gap_between(box_part("a/p", lo, hi), box_part("b/p", lo2, hi2));
    layout.gaps.push_back({"allowed", "a", "b/p", 0.3, {}});
    CHECK(check_clearance(layout).findings.empty());
  }
}

TEST_CASE("hardware sits in its hosts", "[clearance]") {
  Layout layout =
      layout_of({box_part("a/left", {0, 0, 0}, {100, 100, 18}),
                 box_part("a/right", {0, 0, 18}, {100, 100, 36}),
                 hardware_box("a/screw", {48, 48, -2}, {52, 52, 30}, {"a/left", "a/right"})});
  CHECK(check_clearance(layout).findings.empty());
  SECTION("but in nothing else") {
    add(layout, box_part("b/under", {0, 0, -10}, {100, 100, -1}));
    const Finding finding = only(check_clearance(layout), "clearance.clash");
    CHECK(finding.subjects == std::vector<std::string>{"a/screw", "b/under"});
    CHECK(number(finding, "measured") == Approx(1.0).margin(1e-6));
  }
  SECTION("other hardware of the same host is not checked") {
    add(layout, hardware_box("a/washer", {44, 44, -2}, {56, 56, 0}, {"a/left"}));
    CHECK(check_clearance(layout).findings.empty());
  }
  SECTION("other hardware of the same joint is not checked, all other is") {
    add(layout, hardware_box("b/nut", {44, 44, 25}, {56, 56, 40}, {}));
    std::vector<std::string> found = codes(check_clearance(layout));
    CHECK(found == std::vector<std::string>{"clearance.clash", "clearance.clash"});
    layout.joints.push_back({"j", "bolted", {"a/left", "a/right"}, {"a/screw", "b/nut"}});
    found = codes(check_clearance(layout));
    CHECK(found == std::vector<std::string>{"clearance.clash"});  // nut in panel a/right stays
  }
}

TEST_CASE("round parts are judged by their true shape", "[clearance]") {
  // Two upright cylinders of radius 20 side by side, in 24 directions: the polygons that cover them
  // reach up to 0.05 mm further out than they do.
  for (int k = 0; k < 24; ++k) {
    const double phase = 2 * kPi * k / 24 + 0.013;
    const auto at = [&](double between) {
      return Vec3{between * std::cos(phase), between * std::sin(phase), 0};
    };
    CAPTURE(k);
    const auto found = [&](double between) {
      Layout layout = layout_of(
          {cylinder_part("a/tank", 40, 300, {}), cylinder_part("b/tank", 40, 300, at(between))});
      layout.tight = 0.2;
      return codes(check_clearance(layout));
    };
    CHECK(found(40.3).empty());
    CHECK(found(40.1) == std::vector<std::string>{"clearance.tight"});
    CHECK(found(40.02) == std::vector<std::string>{"clearance.tight"});
    CHECK(found(40.0).empty());
    CHECK(found(39.985) == std::vector<std::string>{"clearance.clash"});
  }
}

TEST_CASE("what even the finest arcs leave open is said to be not proven", "[clearance]") {
  // True overlaps of 0.0098 mm are touching. The finest cover adds up to 0.001: in some directions
  // it reads more than 0.01, and then nobody knows.
  bool provoked = false;
  for (int k = 0; k < 400 && !provoked; ++k) {
    const double phase = 2 * kPi * k / 400 + 0.0004;
    const Vec3 at{39.9902 * std::cos(phase), 39.9902 * std::sin(phase), 0};
    const ClearanceResult result = check_clearance(
        layout_of({cylinder_part("a/tank", 40, 300, {}), cylinder_part("b/tank", 40, 300, at)}));
    REQUIRE(result.contacts.empty());
    if (result.findings.empty()) continue;
    provoked = true;
    const Finding finding = only(result, "clearance.undecided");
    CHECK(finding.status == Status::not_proven);
    CHECK(number(finding, "measured") > kContact);
    CHECK(number(finding, "measured") < kContact + 0.001);
  }
  CHECK(provoked);
}

TEST_CASE("required gaps are measured between the nearest parts of both sides", "[clearance]") {
  Layout layout = layout_of({box_part("galley/side", {0, 0, 0}, {100, 100, 100}),
                             box_part("galley/top", {0, 0, 100}, {130, 100, 118}),
                             equipment_box("heater/body", {136, 0, 50}, {300, 100, 200})});
  layout.gaps.push_back(
      {"heater_air", "galley", "heater/body", 25.0, {"marsh.toml", 7, 3, "gap = 25"}});
  const ClearanceResult result = check_clearance(layout);
  const Finding finding = only(result, "clearance.gap");
  CHECK(finding.subjects == std::vector<std::string>{"galley/top", "heater/body"});
  CHECK(number(finding, "measured") == Approx(6.0).margin(1e-9));
  CHECK(number(finding, "required") == 25.0);
  CHECK(number(finding, "missing") == Approx(19.0).margin(1e-9));
  REQUIRE(finding.place);
  CHECK(finding.place->line == 7);
  REQUIRE(result.contacts.size() == 1);
  CHECK(result.contacts[0].separation == Approx(6.0).margin(1e-9));
  SECTION("a gap just as wide as required passes") {
    layout.gaps[0].required = 6.0;
    CHECK(check_clearance(layout).findings.empty());
  }
  SECTION("to the van, but not to the floor that things stand on") {
    layout.vehicle = scenes::plain_van();
    for (Part& p : layout.parts) p.frame.origin = {500, 780, 0};  // 20 mm off the left wall
    layout.gaps[0] = {"wall", "galley", "vehicle", 30.0, {}};
    for (const Part& p : layout.parts)
      layout.joints.push_back({p.id + ".joint", "bolted", {p.id, "vehicle/floor"}, {}});
    const Finding wall = only(check_clearance(layout), "clearance.gap");
    CHECK(number(wall, "measured") == Approx(20.0).margin(1e-6));
  }
}

TEST_CASE("zones keep out all but their owner and who is allowed", "[clearance]") {
  Layout layout = layout_of({equipment_box("kitchen/cooker", {0, 0, 0}, {300, 300, 100}),
                             box_part("bunk/beam", {100, 100, 180}, {400, 140, 220})});
  Zone zone;
  zone.id = "kitchen/cooker.air";
  zone.title = "air over the cooker";
  zone.kind = ZoneKind::air;
  zone.shape = box_shape({0, 0, 0}, {300, 300, 200});
  zone.owner = "kitchen/cooker";
  layout.zones = {zone};
  const Finding finding = only(check_clearance(layout), "clearance.zone");
  CHECK(finding.subjects == std::vector<std::string>{"bunk/beam", "kitchen/cooker"});
  CHECK(number(finding, "measured") == Approx(20.0).margin(1e-6));
  CHECK(advice_text(finding, LengthStyle::millimetres) == "move bunk/beam by 20 mm up");
  SECTION("a screw is told with what it sits in, and alone where that may stand there") {
    Part screw = box_part("bunk/screw", {120, 110, 190}, {130, 130, 215});
    screw.kind = PartKind::hardware;
    screw.hosts = {"bunk/beam"};
    layout.parts.push_back(screw);
    CHECK(only(check_clearance(layout), "clearance.zone").subjects.front() == "bunk/beam");
    layout.zones[0].allowed = {"bunk/beam"};
    CHECK(only(check_clearance(layout), "clearance.zone").subjects.front() == "bunk/screw");
  }
  SECTION("a part may be allowed") {
    layout.zones[0].allowed = {"bunk/beam"};
    CHECK(check_clearance(layout).findings.empty());
  }
  SECTION("a module may be allowed") {
    layout.zones[0].allowed = {"bunk"};
    CHECK(check_clearance(layout).findings.empty());
  }
  SECTION("a zone that only touches is kept") {
    layout.zones[0].shape = box_shape({0, 0, 0}, {300, 300, 180});
    CHECK(check_clearance(layout).findings.empty());
  }
}

TEST_CASE("the van itself may stand in a zone", "[clearance]") {
  // A room 1900 high and 1800 wide; the box is 300 x 300 x 100 and its air reaches 200 beyond.
  Layout layout = layout_of({equipment_box("kitchen/cooker", {500, 0, 1500}, {800, 300, 1600})});
  layout.vehicle = scenes::plain_van();
  layout.joints = {{"kitchen/joint", "bolted", {"kitchen/cooker", "vehicle/roof"}, {}}};
  Zone zone;
  zone.id = "kitchen/cooker.air";
  zone.kind = ZoneKind::air;
  zone.shape = box_shape({500, 0, 1500}, {800, 300, 1950});
  zone.owner = "kitchen/cooker";
  layout.zones = {zone};
  SECTION("the roof") {
    const Finding finding = only(check_clearance(layout), "clearance.zone");
    CHECK(finding.subjects == std::vector<std::string>{"vehicle/roof", "kitchen/cooker"});
    CHECK(number(finding, "measured") == Approx(50.0).margin(1e-6));
    CHECK(advice_text(finding, LengthStyle::millimetres).empty());
  }
  SECTION("a wall: the deepest alone is told") {
    layout.zones[0].shape = box_shape({500, 0, 1500}, {800, 970, 1950});
    const Finding finding = only(check_clearance(layout), "clearance.zone");
    CHECK(finding.subjects[0] == "vehicle/wall.left");
    CHECK(number(finding, "measured") == Approx(70.0).margin(1e-6));
  }
  SECTION("heat is nothing to it, and a door way ends at it") {
    layout.zones[0].kind = ZoneKind::heat;
    CHECK(check_clearance(layout).findings.empty());
    layout.zones[0].kind = ZoneKind::keep_clear;
    layout.zones[0].owner = "vehicle/opening.door";
    layout.zones[0].allowed = {"kitchen"};
    CHECK(check_clearance(layout).findings.empty());
  }
  SECTION("head room counts in the middle, under the roof") {
    layout.zones[0].kind = ZoneKind::head_room;
    only(check_clearance(layout), "clearance.zone");
    layout.zones[0].shape = box_shape({500, 0, 1500}, {800, 970, 1900});  // into the wall
    CHECK(check_clearance(layout).findings.empty());
  }
}

TEST_CASE("what nothing leads from to the van hangs in the air", "[clearance]") {
  // A shelf on two cleats; the cleats are screwed to a side that stands on the floor.
  Layout layout = layout_of({box_part("locker/cleat", {500, 0, 600}, {520, 300, 630}),
                             box_part("locker/shelf", {500, 0, 630}, {900, 300, 648}),
                             box_part("locker/side", {482, 0, 0}, {500, 300, 700})});
  layout.vehicle = scenes::plain_van();
  SECTION("standing on the floor") { CHECK(check_clearance(layout).findings.empty()); }
  SECTION("lifted off it") {
    for (Part& part : layout.parts) part.frame.origin.z += 5;
    layout.joints = {{"locker/joint", "screwed", {"locker/cleat", "locker/side"}, {}}};
    const Finding finding = only(check_clearance(layout), "clearance.in_the_air");
    CHECK(message_text(finding, LengthStyle::millimetres) ==
          "locker/cleat with 2 other parts hangs in the air: no joint, and nothing that it touches, "
          "leads to the van");
    layout.modules.push_back({.name = "locker", .kind = "locker", .title = "Locker", .envelope = {}, .front = "rear", .place = {}});
    CHECK_THAT(advice_text(only(check_clearance(layout), "clearance.in_the_air"), LengthStyle::millimetres),
               Catch::Contains("let module locker stand") && Catch::Contains("ribbay explain locker tells"));
  }
  SECTION("a part of its own") {
    layout.parts[1].frame.origin = layout.parts[1].frame.origin + Vec3{2, 0, 2};
    CHECK(only(check_clearance(layout), "clearance.in_the_air").subjects[0] == "locker/shelf");
  }
  SECTION("lifted, but a bolt goes into a rib") {
    for (Part& part : layout.parts) part.frame.origin.z += 5;
    Part bolt = hardware_box("locker/side.bolt", {470, 100, 300}, {476, 106, 306},
                             {"locker/side", "vehicle/wall.left"});
    layout.parts.push_back(bolt);
    CHECK(check_clearance(layout).findings.empty());
  }
  SECTION("lifted, but a joint names the van") {
    for (Part& part : layout.parts) part.frame.origin.z += 5;
    layout.joints = {{"locker/joint", "bolted", {"locker/side", "vehicle/floor"}, {}}};
    CHECK(check_clearance(layout).findings.empty());
  }
}

TEST_CASE("a part that its cuts leave in two bodies is told with its place", "[clearance]") {
  Part board = box_part("bench/front", {0, 0, 0}, {1000, 18, 400});
  Shape shape = *board.shape;
  Prism& prism = shape.prisms.front().prism;
  const Box box = bounds(shape);
  const auto cut_up_to = [&](double top) {
    prism.cuts = {{rectangle({box.lo.x + 600, box.lo.y - 1}, {box.lo.x + 700, top}), box.lo.z - 1,
                   box.hi.z + 1, CutRole::notch}};
    board.shape = std::make_shared<const Shape>(shape);
    return check_clearance(layout_of({board}));
  };
  CHECK(cut_up_to(box.hi.y - 5).findings.empty());
  const Finding finding = only(cut_up_to(box.hi.y + 1), "clearance.not_whole");
  CHECK(number(finding, "bodies") == 2.0);
  REQUIRE(finding.at);
  CHECK(finding.at->x == Approx(850.0));  // the 300 to the right of the cut
}

TEST_CASE("a wood screw whose tip comes out of what it holds in is told", "[clearance]") {
  // 12 and 18 of board are met by a screw from above, 40 or 30 long.
  const auto of_screw = [](double length, std::vector<std::string> hosts,
                           PartKind into = PartKind::panel) {
    auto catalogue = std::make_shared<Catalogue>();
    Bolt screw;
    screw.key = "wood";
    screw.kind = BoltKind::wood;
    catalogue->bolts["wood"] = screw;
    Layout layout = layout_of({box_part("bench/top", {0, 0, 18}, {300, 300, 30}),
                               box_part("bench/rail", {0, 0, 0}, {300, 300, 18})});
    Part part;
    part.id = "bench/top.screw_1";
    part.module = "bench";
    part.kind = PartKind::hardware;
    part.stock.key = "wood";
    part.shape = std::make_shared<const Shape>(Shape{{cylinder(4, length)}});
    part.frame = frame_zx({150, 150, 30}, {0, 0, -1}, {1, 0, 0});
    part.hosts = std::move(hosts);
    layout.parts[1].kind = into;
    layout.parts.push_back(part);
    layout.catalogue = catalogue;
    return check_clearance(layout);
  };
  CHECK(of_screw(30, {"bench/top", "bench/rail"}).findings.empty());
  const Finding out = only(of_screw(40, {"bench/top", "bench/rail"}), "clearance.screw_out");
  CHECK(number(out, "measured") == Approx(10.0));
  CHECK(out.subjects == std::vector<std::string>{"bench/top.screw_1", "bench/rail"});
  // A member is hollow: there the tip may stand free.
  CHECK(of_screw(40, {"bench/top", "bench/rail"}, PartKind::member).findings.empty());
}

TEST_CASE("parts stay inside the van", "[clearance]") {
  Layout layout = layout_of({box_part("galley/side", {1000, -900, 0}, {1018, -420, 880})});
  layout.vehicle = scenes::plain_van();
  SECTION("standing on the floor against the wall is fine") {
    CHECK(check_clearance(layout).findings.empty());
  }
  SECTION("a part in the wall clashes with it, once") {
    layout.parts[0].frame.origin.y = -3;
    const Finding finding = only(check_clearance(layout), "clearance.clash");
    CHECK(finding.subjects[0] == "galley/side");
    CHECK(finding.subjects[1].starts_with("vehicle/wall"));
    CHECK(number(finding, "measured") == Approx(3.0).margin(1e-6));
  }
  SECTION("a part beside the van touches nothing and is found by the room") {
    layout.parts[0].frame.origin.y = -3000;
    only(check_clearance(layout), "clearance.outside");
  }
  SECTION("a part that sticks out at the rear is found by the room") {
    layout.parts[0].frame.origin = {-1009, 300, 0};
    const ClearanceResult result = check_clearance(layout);
    const Finding finding = only(result, "clearance.outside");
    CHECK(number(finding, "x") < 0.0);
    CHECK(number(finding, "from") == 0.0);
    CHECK(number(finding, "to") == 4000.0);
  }
  SECTION("a part flush with the end of the room is inside") {
    layout.parts[0].frame.origin = {-1000, 300, 0};
    CHECK(check_clearance(layout).findings.empty());
  }
  SECTION("bolts through the floor are meant") {
    Part bolt = cylinder_part("galley/bolt", 8, 60, {1200, 0, -30});
    bolt.kind = PartKind::hardware;
    add(layout, bolt);
    CHECK_FALSE(check_clearance(layout).findings.empty());
    layout.floor_bolts.push_back({"galley/bolt", {1200, 0}, 8, true});
    CHECK(check_clearance(layout).findings.empty());
  }
}

TEST_CASE("a drawer opens until its front meets something", "[clearance][motion]") {
  Layout layout = drawer(400);
  add(layout, equipment_box("fridge/body", {230.4, 350, 0}, {700, 900, 250}));
  SECTION("blocked before the required travel") {
    const ClearanceResult result = check_clearance(layout);
    REQUIRE(result.motions.size() == 1);
    const MotionResult& motion = result.motions[0];
    CHECK(motion.motion == "galley/drawer");
    CHECK(motion.opens == Approx(212.4).margin(1e-6));
    CHECK(motion.blocked);
    CHECK(motion.mover == "galley/drawer.front");
    CHECK(motion.obstacle == "fridge/body");
    CHECK(motion.at.x == Approx(230.4).margin(0.02));
    CHECK(motion.at.y == Approx(375.0).margin(0.02));
    CHECK(motion.at.z == Approx(175.0).margin(0.02));
    CHECK(motion.shift == 0.0);
    const Finding finding = only(result, "clearance.motion");
    CHECK(
        message_text(finding, LengthStyle::millimetres) ==
        "Drawer 1 opens 212.4 mm, then galley/drawer.front meets fridge/body; it must open 400 mm");
    CHECK(advice_text(finding, LengthStyle::millimetres).empty());
  }
  SECTION("far enough is no fault") {
    layout.motions[0].required = 212.4;
    const ClearanceResult result = check_clearance(layout);
    CHECK(result.findings.empty());
    CHECK(result.motions[0].opens == Approx(212.4).margin(1e-6));
    CHECK_FALSE(result.motions[0].blocked);
  }
  SECTION("what could give way, and by how much") {
    layout.motions[0].gives_way = "galley.columns.first.spacer";
    ClearanceResult result = check_clearance(layout);
    CHECK(result.motions[0].shift == Approx(50.0).margin(1e-6));  // 400 - 350 of y in common
    Finding finding = only(result, "clearance.motion");
    CHECK(number(finding, "shift") == Approx(50.0).margin(1e-6));
    CHECK(advice_text(finding, LengthStyle::millimetres).empty());  // until somebody confirms it
    finding.with("value", 112.0, Unit::mm);
    CHECK(advice_text(finding, LengthStyle::millimetres) ==
          "widen galley.columns.first.spacer by 50 mm, to 112 mm");
    // The advice is good: shifted by that much, the drawer opens all the way; a hair less, and it
    // does not.
    for (Part& p : layout.parts) {
      if (p.module == "galley") p.frame.origin.y = -result.motions[0].shift;
    }
    result = check_clearance(layout);
    CHECK(result.findings.empty());
    CHECK(result.motions[0].opens == 450.0);
    for (Part& p : layout.parts) {
      if (p.module == "galley") p.frame.origin.y += 0.02;
    }
    CHECK_FALSE(check_clearance(layout).findings.empty());
  }
  SECTION("what rides along is no obstacle, and meets obstacles itself") {
    add(layout,
        hardware_box("galley/handle", {18, 150, 190}, {43, 250, 210}, {"galley/drawer.front"}));
    add(layout, box_part("bunk/leg", {300, 190, 0}, {340, 210, 500}));
    const ClearanceResult result = check_clearance(layout);
    CHECK(result.motions[0].opens == Approx(212.4).margin(1e-6));
    layout.parts.erase(std::ranges::find(layout.parts, "fridge/body", &Part::id));
    const ClearanceResult later = check_clearance(layout);
    CHECK(later.motions[0].mover == "galley/handle");
    CHECK(later.motions[0].opens == Approx(257.0).margin(1e-6));
  }
}

TEST_CASE("a drawer slides along what it rests on", "[clearance][motion]") {
  Layout layout = drawer(450);
  add(layout, box_part("galley/divider", {-500, -18, 0}, {18, 0, 800}));
  add(layout, box_part("galley/runner", {-450, 0, 90}, {0, 12, 110}));
  add(layout, box_part("galley/next_front", {0, 0, 302}, {18, 400, 500}));
  add(layout, hardware_box("galley/screw", {-100, -10, 150}, {-90, 10, 160},
                           {"galley/divider", "galley/drawer.side"}));
  const ClearanceResult result = check_clearance(layout);
  CHECK(codes(result).empty());
  CHECK(result.motions[0].opens == 450.0);
}

TEST_CASE("a door turns until it meets something", "[clearance][motion]") {
  Layout layout = layout_of({box_part("locker/door", {0, -18, 0}, {450, 0, 700}),
                             box_part("bench/side", {-1000, 300, 0}, {1000, 318, 400})});
  Motion motion;
  motion.id = "locker/door";
  motion.title = "Locker door";
  motion.kind = MotionKind::rotation;
  motion.parts = {"locker/door"};
  motion.axis = {0, 0, 1};
  motion.travel = 110 * kPi / 180;
  motion.required = 90 * kPi / 180;
  layout.motions = {motion};
  const ClearanceResult result = check_clearance(layout);
  CHECK(result.motions[0].blocked);
  // Its outer corner rises to y = 450 sin(angle).
  CHECK(result.motions[0].opens == Approx(std::asin(300.01 / 450)).margin(1e-7));
  CHECK(result.motions[0].at.y == Approx(300.0).margin(0.02));
  const Finding finding = only(result, "clearance.motion");
  CHECK(number(finding, "measured") == Approx(std::asin(300.01 / 450) * 180 / kPi).margin(1e-5));
  CHECK(number(finding, "required") == Approx(90.0));
  CHECK(result.motions[0].shift == 0.0);
  layout.parts[1].frame.origin.y = 800;  // the door, with the bench behind it now
  layout.motions[0].origin.y = 800;
  CHECK(check_clearance(layout).findings.empty());
}

TEST_CASE("a door learns how far to shift past what it hits", "[clearance][motion]") {
  // The outer edge of the door runs on a circle of radius sqrt(450^2 + 18^2); the fridge's corner
  // at (400, 100) must be outside of it: the hinge moves until sqrt((400 + s)^2 + 100^2) is that
  // radius.
  Layout layout = layout_of({box_part("locker/door", {0, -18, 0}, {450, 0, 700}),
                             equipment_box("fridge/body", {400, 100, 0}, {800, 600, 850})});
  Motion motion;
  motion.id = "locker/door";
  motion.kind = MotionKind::rotation;
  motion.parts = {"locker/door"};
  motion.axis = {0, 0, 1};
  motion.travel = motion.required = 1.9;
  motion.gives_way = "locker.filler";
  layout.motions = {motion};
  const ClearanceResult result = check_clearance(layout);
  REQUIRE(result.motions[0].blocked);
  const double expected = std::sqrt(450.0 * 450 + 18 * 18 - 100 * 100) - 400;
  CHECK(result.motions[0].shift == Approx(expected).margin(0.02));
  // It is enough, and 0.03 mm less is not.
  for (const double less : {0.0, 0.03}) {
    Layout shifted = layout;
    const double by = result.motions[0].shift - less;
    shifted.parts[1].frame.origin.x = shifted.motions[0].origin.x = -by;
    CHECK(check_clearance(shifted).motions[0].blocked == (less > 0.0));
  }
}

TEST_CASE("a round post stops a drawer where its true shape stands", "[clearance][motion]") {
  // Over-covered by up to 0.05 mm, and met off its middle: y 395 of the front's corner 400.
  Layout layout = drawer(400);
  add(layout, cylinder_part("bunk/post", 40, 900, {300, 415, 0}));
  const ClearanceResult result = check_clearance(layout);
  // The front's corner at y 400 meets the circle at 300 - sqrt(20^2 - 15^2) = 286.771.
  CHECK(result.motions[0].opens == Approx(300 - std::sqrt(175.0) - 18).margin(0.03));
  CHECK(result.motions[0].blocked);
  // 0.03 mm beside it, where the cover at first reaches, it passes.
  std::ranges::find(layout.parts, "bunk/post", &Part::id)->frame.origin = {300, 420.0 - 0.002, 0};
  CHECK(check_clearance(layout).findings.empty());
}

namespace {

/// Racks of boxes and round posts, some of them clashing, with drawers, zones and gaps.
Layout busy_layout(Vec3 shift, unsigned seed) {
  scenes::Dice dice(seed);
  std::vector<Part> parts;
  Layout layout;
  for (int i = 0; i < 120; ++i) {
    const std::string id = "m" + std::to_string(i % 7) + "/part_" + std::to_string(100 + i);
    const Vec3 at = Vec3{dice.real(0, 1500), dice.real(0, 1500), dice.real(0, 800)} + shift;
    const Frame frame =
        i % 4 == 0 ? scenes::turned_frame(dice.direction(), dice.real(0, 3), at) : Frame{at};
    Shape shape =
        box_shape({0, 0, 0}, {dice.real(10, 300), dice.real(10, 300), dice.real(10, 100)});
    if (i % 5 == 0) shape = Shape{{cylinder(dice.real(20, 120), dice.real(50, 300))}};
    parts.push_back(part(id, shape, frame));
    if (i % 10 == 0) {
      Motion motion;
      motion.id = id;
      motion.parts = {id};
      motion.kind = i % 20 == 0 ? MotionKind::rotation : MotionKind::translation;
      motion.axis = i % 20 == 0 ? Vec3{0, 0, 1} : Vec3{0, 1, 0};
      motion.origin = at;
      motion.travel = motion.required = i % 20 == 0 ? 1.5 : 400;
      motion.gives_way = "spacer";
      layout.motions.push_back(motion);
    }
  }
  layout.parts = layout_of(std::move(parts)).parts;
  std::ranges::sort(layout.motions, {}, &Motion::id);
  layout.gaps.push_back({"g", "m1", "m2", 10.0, {}});
  Zone zone;
  zone.id = "z";
  zone.shape = box_shape({0, 0, 0}, {300, 300, 300});
  zone.frame.origin = shift + Vec3{500, 500, 200};
  layout.zones.push_back(zone);
  return layout;
}

}  // namespace

TEST_CASE("the number of threads changes nothing", "[clearance]") {
  const Layout layout = busy_layout({}, 3);
  const ClearanceResult one = check_clearance(layout, 1);
  CHECK(one.contacts.size() > 20);
  for (const int jobs : {2, 5}) {
    const ClearanceResult many = check_clearance(layout, jobs);
    CHECK(many.contacts == one.contacts);
    CHECK(many.motions == one.motions);
    CHECK(many.findings == one.findings);
    CHECK(many.pairs == one.pairs);
  }
}

TEST_CASE("a scene 10 m away is judged alike", "[clearance]") {
  const Vec3 shift{10000, -10000, 10000};
  const ClearanceResult here = check_clearance(busy_layout({}, 4));
  const ClearanceResult there = check_clearance(busy_layout(shift, 4));
  REQUIRE(codes(there) == codes(here));
  REQUIRE(there.contacts.size() == here.contacts.size());
  for (std::size_t i = 0; i < here.contacts.size(); ++i) {
    CAPTURE(here.contacts[i].a, here.contacts[i].b);
    CHECK(there.contacts[i].a == here.contacts[i].a);
    CHECK(there.contacts[i].b == here.contacts[i].b);
    CHECK(there.contacts[i].separation == Approx(here.contacts[i].separation).margin(1e-7));
    CHECK(there.contacts[i].volume == Approx(here.contacts[i].volume).epsilon(1e-5).margin(1e-3));
  }
  for (std::size_t i = 0; i < here.motions.size(); ++i) {
    CAPTURE(here.motions[i].motion);
    CHECK(there.motions[i].obstacle == here.motions[i].obstacle);
    CHECK(there.motions[i].opens == Approx(here.motions[i].opens).margin(1e-6));
    CHECK(there.motions[i].shift == Approx(here.motions[i].shift).margin(1e-6));
  }
}
