// Gaps beside beds, by the warning that EN 747-1:2012+A1 wants beside bunk beds for homes: 75 mm at
// most, or more than 230 mm. Two makers' leaflets print it in the same words.
#include "clearance/clearance.hpp"
#include "kind_samples.hpp"
#include "laid_out.hpp"
#include "scenes.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

/// A bed of 1900 by 600 with its surface at 800 mm, on a deck of `high`, and a board beside it.
Layout bed_beside(Box board, double high = 700) {
  Layout layout = scenes::layout_of({scenes::box_part("deck/board", {0, 0, high - 18}, {1900, 600, high}),
                                     scenes::box_part("wall/board", board.lo, board.hi)});
  layout.beds = {{"deck", {{0, 0, high}, {1900, 600, high + 100}}}};
  return layout;
}

std::vector<Finding> told(const Layout& layout) {
  std::vector<Finding> gaps;
  for (const Finding& finding : check_clearance(layout).findings) {
    if (finding.code == "clearance.bed_gap") gaps.push_back(finding);
  }
  return gaps;
}

/// A board of 18 mm along the back, `gap` behind the bed.
Box behind(double gap) { return {{0, 600 + gap, 500}, {1900, 618 + gap, 1500}}; }

}  // namespace

TEST_CASE("a gap beside a bed is closed up to 75 mm and open from 230 mm on", "[clearance][beds]") {
  for (const auto& [gap, trap] : std::vector<std::pair<double, bool>>{{0, false},
                                                                      {74.9, false},
                                                                      {75, false},
                                                                      {75.1, true},
                                                                      {150, true},
                                                                      {230, true},
                                                                      {230.1, false}}) {
    CAPTURE(gap);
    const auto found = told(bed_beside(behind(gap)));
    REQUIRE(found.size() == (trap ? 1 : 0));
    if (!trap) continue;
    CHECK(found[0].subjects == std::vector<std::string>{"deck", "wall/board"});
    CHECK(number(found[0], "measured") == Approx(gap));
    CHECK(number(found[0], "length") == Approx(1900));
    CHECK(found[0].severity == Severity::warning);
  }
}

TEST_CASE("each of the four edges is looked at, over its length", "[clearance][beds]") {
  // 300 mm long, 100 mm away, at the height of the mattress' top: in front, behind, at both ends.
  for (const Box& board : {Box{{800, -118, 700}, {1100, -100, 900}}, Box{{800, 700, 700}, {1100, 718, 900}},
                           Box{{-118, 150, 700}, {-100, 450, 900}},
                           Box{{2000, 150, 700}, {2018, 450, 900}}}) {
    CAPTURE(board.lo.x, board.lo.y);
    const auto found = told(bed_beside(board));
    REQUIRE(found.size() == 1);
    CHECK(number(found[0], "measured") == Approx(100));
    CHECK(number(found[0], "length") == Approx(300).margin(25));
  }
  // What ends below the mattress' top closes nothing and traps nobody.
  CHECK(told(bed_beside({{800, -118, 700}, {1100, -100, 799}})).empty());
}

TEST_CASE("the walls of the van are beside a bed as well", "[clearance][beds]") {
  // The left wall stands at y = 900.
  Layout layout = bed_beside(behind(1000));
  layout.vehicle = scenes::plain_van();
  CHECK(told(layout).empty());  // 300 mm
  layout.parts.front().frame.origin.y += 180;
  layout.beds.front().mattress.lo.y += 180;
  layout.beds.front().mattress.hi.y += 180;
  const auto found = told(layout);
  REQUIRE(found.size() == 1);
  CHECK(found[0].subjects.back().starts_with("vehicle/"));
  CHECK(number(found[0], "measured") == Approx(120));
}

TEST_CASE("a guard closes the gap, and a low bed is out of scope", "[clearance][beds]") {
  Layout layout = bed_beside(behind(150));
  layout.parts.push_back(scenes::box_part("deck/guard", {0, 600, 700}, {1900, 618, 960}));
  CHECK(told(layout).empty());
  // One that the mattress covers does not.
  layout.parts.back() = scenes::box_part("deck/guard", {0, 600, 700}, {1900, 618, 800});
  CHECK(told(layout).size() == 1);
  CHECK(told(bed_beside(behind(150), 600)).size() == 1);
  CHECK(told(bed_beside(behind(150), 599)).empty());
}

TEST_CASE("bunks say where their bed is, fixed and folding, and mirrored too", "[clearance][beds]") {
  for (const auto& [text, name] : {std::pair{kLopsidedBunk, "bunk"}, {kLopsidedFoldingBunk, "folding"},
                                   {kLopsidedDropBunk, "drop"}}) {
    for (const bool mirrored : {false, true}) {
      CAPTURE(name, mirrored);
      const auto built = lay_out_text(
          text, {std::string("module.") + name + ".mirrored=" + (mirrored ? "true" : "false")});
      INFO(words(built.findings));
      REQUIRE(built.value);
      REQUIRE(built.value->beds.size() == 1);
      const Bed& bed = built.value->beds.front();
      CHECK(bed.module == name);
      // Its deck lies right below it.
      const Box& m = bed.mattress;
      const Box below{{m.lo.x + 100, m.lo.y + 100, m.lo.z - 1}, {m.hi.x - 100, m.hi.y - 100, m.lo.z}};
      CHECK(std::ranges::any_of(built.value->parts, [&](const Part& part) {
        const Box box = bounds(part);
        return part.kind == PartKind::panel && box.hi.z == Approx(bed.mattress.lo.z) &&
               near(box, below, 0.0);
      }));
    }
  }
}
