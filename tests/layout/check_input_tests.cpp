// What a builder may get wrong about that which is checked: motions, one at a time, gaps, free
// spaces, limits. Each is told with its place, what it is and how to mend it; none is taken as
// nothing said.
#include "small_project.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

/// A board that stands on a sill, and opens, with what `lid`, `space` and `gap` say about it.
std::string project(const std::string& lid, const std::string& space, const std::string& gap,
                    const std::string& more = "") {
  return R"(
[module.box]
kind = "custom"
faces = "left"
width = 400
depth = 300
height = 200
place = { rear = 800, middle = 0, on = "floor" }
[module.box.panels]
sill = { sheet = "birch_15", at = [0, 0, 0], size = [400, 300] }
lid = { sheet = "birch_15", at = [0, 0, "14.9 mm"], size = [400, 300] }
[module.box.motions.lid]
)" + lid +
         "\n[module.box.zones.boots]\n" + space + "\n[module.box.gaps.wall]\n" + gap + "\n" + more;
}

const std::string kLid =
    "moves = [\"lid\"]\naxis = \"left\"\nturns = \"85 deg\"\nabout = [0, 300, 15]\n"
    "must_turn = \"80 deg\"";
const std::string kSpace = "at = [0, 0, 100]\nsize = [400, 300, 80]\nallowed = [\"lid\"]";
const std::string kGap = "to = \"vehicle\"\nat_least = 20";

std::string swapped(std::string text, const std::string& old, const std::string& fresh) {
  const auto at = text.find(old);
  REQUIRE(at != std::string::npos);
  return text.replace(at, old.size(), fresh);
}

struct Row {
  const char* name;
  std::string text;
  const char* code;
  const char* found;  ///< what stands at the place that is told; nullptr: a whole table
};

/// Rows that change one word of a lid, a space or a gap that is right.
std::vector<Row> rows() {
  const auto lid = [](const char* name, const char* old, const char* fresh, const char* code,
                      const char* found) {
    return Row{name, project(swapped(kLid, old, fresh), kSpace, kGap), code, found};
  };
  const auto space = [](const char* name, const char* old, const char* fresh, const char* code,
                        const char* found) {
    return Row{name, project(kLid, swapped(kSpace, old, fresh), kGap), code, found};
  };
  const auto gap = [](const char* name, const char* old, const char* fresh, const char* code,
                      const char* found) {
    return Row{name, project(kLid, kSpace, swapped(kGap, old, fresh)), code, found};
  };
  const auto rule = [](const char* name, const std::string& motions, const char* code,
                       const char* found) {
    return Row{name, project(kLid, kSpace, kGap, "[one_at_a_time.aisle]\n" + motions + "\n"), code,
               found};
  };
  const auto limit = [](const char* name, const std::string& text, const char* code,
                        const char* found) {
    return Row{name, project(kLid, kSpace, kGap, "[tolerances]\n" + text + "\n"), code, found};
  };
  return {
      lid("no travel", "turns = \"85 deg\"\n", "", "custom.motion_way", nullptr),
      lid("two kinds of travel", "axis", "slides = 100\naxis", "custom.motion_way", nullptr),
      lid("no axis", "about = [0, 300, 15]\n", "", "custom.motion_about", "\"85 deg\""),
      lid("an axis for what slides", "turns = \"85 deg\"", "slides = 100", "custom.motion_about",
          "[0, 300, 15]"),
      lid("an axis far away", "[0, 300, 15]", "[0, 5000, 15]", "custom.hinge_far", "[0, 5000, 15]"),
      lid("an axis beyond all limits", "[0, 300, 15]", "[0, 1e9, 15]", "input.too_big", "1e9"),
      lid("an axis of two numbers", "[0, 300, 15]", "[0, 300]", "input.too_few", "[0, 300]"),
      lid("an axis that is a name", "[0, 300, 15]", "\"lid\"", "input.wrong_type", "\"lid\""),
      lid("a way that is none", "\"left\"", "\"lefft\"", "input.not_a_choice", "\"lefft\""),
      lid("a way as numbers", "\"left\"", "[0, 0, 1]", "input.wrong_type", "[0, 0, 1]"),
      lid("an angle in mm", "\"85 deg\"", "\"85 mm\"", "expression.dimension", "\"85 mm\""),
      lid("an angle below nothing", "\"85 deg\"", "\"-85 deg\"", "input.not_above", "\"-85 deg\""),
      lid("an angle of nothing", "\"85 deg\"", "0", "input.not_above", "0"),
      lid("more than a full turn", "\"85 deg\"", "361", "input.too_big", "361"),
      lid("more asked than there is", "\"80 deg\"", "\"90 deg\"", "custom.motion_required",
          "\"90 deg\""),
      lid("the other limit", "must_turn = \"80 deg\"", "must_slide = 80", "custom.motion_other",
          "80"),
      lid("nothing moves", "[\"lid\"]", "[]", "input.empty_list", "[]"),
      lid("what moves is unknown", "[\"lid\"]", "[\"lidd\"]", "custom.unknown_part", "[\"lidd\"]"),
      lid("what moves is another module's", "[\"lid\"]", "[\"rack/lid\"]", "custom.unknown_part",
          "[\"rack/lid\"]"),
      lid("it moves twice", "[\"lid\"]", "[\"lid\", \"lid\"]", "custom.moves_twice",
          "[\"lid\", \"lid\"]"),
      lid("what moves is a number", "[\"lid\"]", "3", "input.wrong_type", "3"),
      lid("what moves is a table", "[\"lid\"]", "{ lid = true }", "input.wrong_type",
          "{ lid = true }"),
      lid("it comes after itself", "axis", "after = \"lid\"\naxis", "custom.unknown_motion",
          "\"lid\""),
      space("a space below nothing", "80]", "-80]", "input.not_above", "-80"),
      space("a space of nothing", "80]", "0]", "input.not_above", "0"),
      space("a space in kg", "80]", "\"80 kg\"]", "expression.dimension", "\"80 kg\""),
      space("a space as a number", "[400, 300, 80]", "80", "input.wrong_type", "80"),
      space("a space without a size", "size = [400, 300, 80]\n", "", "input.missing", nullptr),
      space("a space above the roof", "[0, 0, 100]", "[0, 0, 9500]", "custom.zone_outside",
            "[0, 0, 9500]"),
      space("a space behind the van", "[0, 0, 100]", "[2500, 0, 100]", "custom.zone_outside",
            "[2500, 0, 100]"),
      space("a part that may stand in it is unknown", "[\"lid\"]", "[\"lidd\"]",
            "custom.unknown_part", "[\"lidd\"]"),
      space("another module's part that is none", "[\"lid\"]", "[\"box/lidd\"]",
            "layout.no_such_host", "[\"box/lidd\"]"),
      space("a body of the van that is none", "[\"lid\"]", "[\"vehicle/wal.left\"]",
            "layout.no_such_host", "[\"vehicle/wal.left\"]"),
      gap("a gap below nothing", "20", "-20", "input.too_small", "-20"),
      gap("a gap in kg", "20", "\"20 kg\"", "expression.dimension", "\"20 kg\""),
      gap("a gap to nothing", "\"vehicle\"", "\"\"", "layout.unknown_gap_target", "\"\""),
      gap("a gap to itself", "\"vehicle\"", "\"box\"", "layout.gap_to_itself", "\"box\""),
      gap("a gap to a list", "\"vehicle\"", "[\"vehicle\"]", "input.wrong_type", "[\"vehicle\"]"),
      gap("a gap without an end", "20", "inf", "input.not_finite", "inf"),
      gap("a gap that is no number", "20", "nan", "input.not_finite", "nan"),
      rule("a text that names nothing that opens", "motions = \"rack\"", "layout.no_such_motion",
           "\"rack\""),
      rule("a text that names one thing", "motions = \"box\"", "layout.one_motion_alone",
           "\"box\""),
      rule("one name twice", "motions = [\"box\", \"box/motion.lid\"]", "layout.one_motion_alone",
           "[\"box\", \"box/motion.lid\"]"),
      rule("a name that is none", "motions = [\"box\", \"box/motion.lidd\"]",
           "layout.no_such_motion", "[\"box\", \"box/motion.lidd\"]"),
      rule("a name without letters", "motions = [\"\", \"box\"]", "layout.no_such_motion",
           "[\"\", \"box\"]"),
      rule("a number", "motions = 3", "input.wrong_type", "3"),
      rule("numbers", "motions = [3, 4]", "input.wrong_type", "3"),
      rule("lists in a list", "motions = [[\"box\"]]", "input.wrong_type", "[\"box\"]"),
      rule("a table", "motions = { box = 1 }", "input.wrong_type", "{ box = 1 }"),
      rule("true", "motions = true", "input.wrong_type", "true"),
      rule("a date", "motions = 2026-01-01", "input.wrong_type", "2026-01-01"),
      rule("an empty list", "motions = []", "input.empty_list", "[]"),
      rule("nothing", "", "input.missing", nullptr),
      rule("another key", "motion = [\"box\"]", "input.unknown_key", "motion"),
      limit("a limit below nothing", "saw = \"-1 mm\"", "input.too_small", "\"-1 mm\""),
      limit("a limit in degrees", "saw = \"1 deg\"", "expression.dimension", "\"1 deg\""),
      limit("a limit that is a list", "saw = [1]", "input.wrong_type", "[1]"),
      limit("a limit of a saw for logs", "saw = 21", "input.too_big", "21"),
  };
}

}  // namespace

TEST_CASE("the project that the wrong ones are made from is sound", "[layout][findings]") {
  const auto built = lay_out_text(project(kLid, kSpace, kGap));
  INFO(words(built.findings));
  REQUIRE(built.value);
  CHECK_FALSE(has_errors(built.findings));
  CHECK(built.value->motions.size() == 1);
  CHECK(built.value->zones.size() == 1);
  CHECK(built.value->gaps.size() == 1);
}

TEST_CASE("what is wrong about motions, gaps and free spaces is told with its place",
          "[layout][findings]") {
  for (const Row& row : rows()) {
    CAPTURE(row.name, row.text);
    const auto built = lay_out_text(row.text);
    INFO(words(built.findings));
    const auto told = std::ranges::find(built.findings, row.code, &Finding::code);
    REQUIRE(told != built.findings.end());
    CHECK(told->severity == Severity::error);
    REQUIRE(told->place);
    CHECK(told->place->line > 0);
    CHECK(told->place->column > 0);
    if (row.found != nullptr) CHECK(told->place->text == row.found);
    const std::string message = message_text(*told, LengthStyle::millimetres);
    CHECK(message.find('?') == std::string::npos);
    CHECK(message.find('{') == std::string::npos);
  }
}

TEST_CASE("a text where a list is wanted is a list of one", "[layout][findings]") {
  const std::string both =
      project(kLid + "\n[module.box.motions.out]\nmoves = \"sill\"\nslides = 100", kSpace, kGap,
              "[one_at_a_time.aisle]\nmotions = \"box\"\n");
  const auto built = lay_out_text(both);
  INFO(words(built.findings));
  REQUIRE(built.value);
  REQUIRE(built.value->one_at_a_time.size() == 1);
  CHECK(built.value->one_at_a_time.front().motions ==
        std::vector<std::string>{"box/motion.lid", "box/motion.out"});
}
