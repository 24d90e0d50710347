#include "../drawings/samples.hpp"
#include "assembly/assembly.hpp"
#include "assembly/lifting.hpp"
#include "bench/bench_set.hpp"
#include "bench/templates.hpp"
#include "drawings/audit.hpp"
#include "drawings/lettering.hpp"
#include "drawings/member_study.hpp"
#include "drawings/panel_study.hpp"
#include "longer_words.hpp"
#include "projects.hpp"
#include "told_hardware.hpp"

#include <cmath>
#include <map>
#include <numbers>
#include <set>
#include <tuple>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

std::vector<SetPage> pages_of(const Layout& layout, const BenchOptions& options = {}) {
  return bench_set(layout, plan_assembly(layout), options);
}

std::string mark_of(const Layout& layout, const std::string& id) {
  for (const PartType& type : part_types(layout)) {
    for (const std::size_t part : type.parts) {
      if (layout.parts[part].id == id) return type.mark;
    }
  }
  return {};
}

/// Boxes to tick on a page: squares of four lines, 4.5 mm a side.
std::size_t boxes(const Drawing& page) {
  std::size_t sides = 0;
  for (const InkLine& line : page.lines) {
    if (std::abs(length(line.b - line.a) - 4.5) < 1e-6 && line.pen.width == 0.35) ++sides;
  }
  CHECK(sides % 4 == 0);
  return sides / 4;
}

bool of_section(const SetPage& page, const std::string& section) {
  return page.path.ends_with("-" + section + ".svg");
}

std::size_t boxes(const std::vector<SetPage>& pages, const std::string& section) {
  std::size_t sum = 0;
  for (const SetPage& page : pages) {
    if (of_section(page, section)) sum += boxes(page.drawing);
  }
  return sum;
}

/// Heights of the letters in which a text stands on pages of a section.
std::vector<double> heights(const std::vector<SetPage>& pages, const std::string& section,
                            const std::string& text) {
  std::vector<double> found;
  for (const SetPage& page : pages) {
    if (!of_section(page, section)) continue;
    for (const InkText& t : page.drawing.texts) {
      if (t.text == text) found.push_back(t.height);
    }
  }
  return found;
}

}  // namespace

TEST_CASE("pages for the bench of every project are clean, numbered and in the order of the work",
          "[bench][projects]") {
  for (const std::string& file : project_files()) {
    CAPTURE(file);
    const Layout layout = laid_out_file(file);
    const std::vector<SetPage> pages = pages_of(layout);
    REQUIRE_FALSE(pages.empty());
    std::vector<std::string> sections;
    int number = 0;
    for (const SetPage& page : pages) {
      CAPTURE(page.path);
      for (const Fault& f : audit(page.drawing))
        FAIL_CHECK(f.what << " kind " << static_cast<int>(f.kind) << " at " << f.at.x << ", "
                          << f.at.y);
      ++number;
      const std::string digits = std::to_string(1000 + number).substr(1);
      CHECK(page.path.starts_with("bench/" + digits + "-"));
      CHECK(std::ranges::count(page.drawing.texts,
                               std::to_string(number) + " / " + std::to_string(pages.size()),
                               &InkText::text) == 1);
      const std::string section = page.path.substr(10, page.path.size() - 14);
      if (sections.empty() || sections.back() != section) sections.push_back(section);
    }
    const std::vector<std::string> order{"saw", "parts", "assemble", "tape-out"};
    std::size_t at = 0;
    for (const std::string& section : sections) {
      while (at < order.size() && order[at] != section) ++at;
      CHECK(at < order.size());
    }
    // One box for every piece, and the size of every type in letters of 5 mm or more.
    std::size_t pieces = 0;
    for (const PartType& type : part_types(layout)) {
      const Part& part = layout.parts[type.parts.front()];
      CAPTURE(type.mark);
      pieces += type.parts.size();
      const std::string size = length_text(part.stock.length, layout.project.show) +
                               (part.kind == PartKind::member
                                    ? ""
                                    : " × " + length_text(part.stock.width, layout.project.show));
      const std::vector<double> letters = heights(pages, "saw", size);
      REQUIRE_FALSE(letters.empty());
      CHECK(*std::ranges::min_element(letters) >= 5.0);
      CHECK(heights(pages, "saw", type.mark).size() == 1);
    }
    CHECK(boxes(pages, "saw") == pieces);
  }
}

namespace {

/// How many axes the bores of some prisms have, in hundredths of a millimetre.
std::size_t axes_of(const std::vector<PlacedPrism>& prisms) {
  std::set<std::array<long, 6>> axes;
  for (const PlacedPrism& p : prisms) {
    for (const Bore& bore : p.prism.bores) {
      const Vec3 at = p.frame.point(bore.at);
      const Vec3 way = p.frame.direction(bore.direction);
      const Vec3 foot = at - way * dot(at, way);
      const auto whole = [](double v) { return std::lround(v * 100.0); };
      axes.insert({whole(foot.x), whole(foot.y), whole(foot.z), whole(std::abs(way.x)),
                   whole(std::abs(way.y)), whole(std::abs(way.z))});
    }
  }
  return axes.size();
}

}  // namespace

TEST_CASE("every hole, cut and piece has its box on the cards", "[bench][projects]") {
  for (const std::string& file : project_files()) {
    CAPTURE(file);
    const Layout layout = laid_out_file(file);
    std::size_t most = 0;  // boxes that there must be at least
    for (const PartType& type : part_types(layout)) {
      const Part& part = layout.parts[type.parts.front()];
      const Prism& prism = part.flat ? part.flat->blank : part.shape->prisms.front().prism;
      // A hole and the recess for its head are one: bores of one axis count once.
      const std::size_t bores = part.flat ? axes_of({{prism, {}}}) : axes_of(part.shape->prisms);
      if (bores > 0) most += bores + type.parts.size();
    }
    CHECK(boxes(pages_of(layout), "parts") >= most);
  }
}

TEST_CASE("positions of a member run from end 1, where the tape hooks on", "[bench]") {
  Layout layout = samples::rack();
  const auto pages = pages_of(layout);
  // Posts: 900 long, three holes on each of two sides, 20 mm below their levels 40, 420 and 900.
  for (const char* text : {"20", "400", "880"}) {
    const std::vector<double> letters = heights(pages, "parts", text);
    CAPTURE(text);
    // In the picture of both sides, and with a box.
    CHECK(letters.size() >= 4);
    CHECK(std::ranges::all_of(letters, [](double h) { return h >= 3.5; }));
    CHECK(std::ranges::count(letters, 5.0) >= 2);
  }
  for (const SetPage& page : pages) {
    for (const InkDimension& d : page.drawing.dimensions)
      CHECK(d.map.model(d.from) == Approx(0.0).margin(1e-9));
  }
}

TEST_CASE("a card tells the cuts and holes of a panel from the corner", "[bench]") {
  Layout layout = samples::cabinet();
  layout.modules.front().front = "right";  // the worktop's length lies on its page
  const auto pages = pages_of(layout);
  // The worktop: a cut-out from 300, 80 to 700, 400 and a hole at 100, 250.
  CHECK_FALSE(heights(pages, "parts", "X 300 – 700  Y 80 – 400").empty());
  // Shelf pins, 12 in a row every 32 mm from 250: each with its place.
  for (int i = 0; i < 12; ++i) {
    CAPTURE(i);
    CHECK(heights(pages, "parts", std::to_string(250 + 32 * i)).size() >= 2);
  }
  // Drawer fronts are rectangles of 896 by 360 at most: hypot(896, 360) = 965.6.
  bool diagonal = false;
  for (const SetPage& page : pages) {
    for (const InkText& t : page.drawing.texts)
      diagonal = diagonal || t.text.find("diagonals (965.6)") != std::string::npos;
  }
  CHECK(diagonal);
}

TEST_CASE("frames are proven square by bracketed diagonals", "[bench]") {
  const Layout layout = demo();
  const AssemblyPlan plan = plan_assembly(layout);
  REQUIRE_FALSE(plan.squares.empty());
  const auto pages = bench_set(layout, plan, {});
  std::map<std::string, std::size_t> wanted;
  for (const SquareCheck& check : plan.squares) {
    CHECK(check.diagonal == Approx(std::hypot(check.width, check.height)));
    wanted["(" + length_text(check.diagonal, layout.project.show) + ")"] += 2;
  }
  for (const auto& [text, count] : wanted) {
    CAPTURE(text);
    CHECK(heights(pages, "assemble", text).size() == count);
  }
}

TEST_CASE("pages fit the paper, tell a failed check, and repeat byte for byte", "[bench]") {
  const Layout layout = samples::cabinet();
  const auto letter = pages_of(layout, {.not_for_cutting = true, .paper = Paper::letter});
  for (const SetPage& page : letter) {
    CHECK(page.drawing.width == Approx(215.9));
    CHECK(page.drawing.height == Approx(279.4));
    CHECK(std::ranges::count(page.drawing.texts, "NOT FOR CUTTING", &InkText::text) == 1);
    for (const Fault& f : audit(page.drawing)) FAIL_CHECK(page.path << ": " << f.what);
  }
  const auto again = pages_of(layout, {.not_for_cutting = true, .paper = Paper::letter});
  REQUIRE(again.size() == letter.size());
  for (std::size_t i = 0; i < again.size(); ++i)
    CHECK((svg(again[i].drawing) == svg(letter[i].drawing)));
}

TEST_CASE("a layout in inches prints inches", "[bench]") {
  Layout layout = samples::cabinet();
  layout.project.show = LengthStyle::inches;
  const auto pages = pages_of(layout);
  for (const SetPage& page : pages) CHECK(audit(page.drawing).empty());
  // 880 by 480 mm.
  CHECK_FALSE(heights(pages, "saw", "34 41/64 × 18 57/64").empty());
  // What is sawn stands in large letters where its diagonals are long words too.
  const auto large = heights(pages, "parts", "34 41/64 × 18 57/64");
  REQUIRE_FALSE(large.empty());
  CHECK(large.front() > 5.0);
}

TEST_CASE("a picture is drawn smaller where that saves a page for the last lines",
          "[bench][projects]") {
  // Four panels of it are a few lines too long for a page with a picture across all of it.
  const Layout layout = laid_out_file(RIBBAY_SOURCE_DIR "/params/examples/custom.toml");
  std::size_t continued = 0;
  for (const SetPage& page : pages_of(layout, {.paper = Paper::letter})) {
    if (!of_section(page, "parts")) continue;
    continued += std::ranges::count_if(
        page.drawing.texts, [](const InkText& t) { return t.text.ends_with(", continued"); });
  }
  CHECK(continued == 0);
}

TEST_CASE("letters are 3.5 mm high at least, on either paper, in mm and in inches",
          "[bench][projects]") {
  for (const std::string& file : project_files()) {
    Layout layout = laid_out_file(file);
    for (const LengthStyle show : {LengthStyle::millimetres, LengthStyle::inches}) {
      layout.project.show = show;
      for (const Paper paper : {Paper::a4, Paper::letter}) {
        for (const SetPage& page : pages_of(layout, {.not_for_cutting = true, .paper = paper})) {
          CAPTURE(file, page.path, show == LengthStyle::inches, paper == Paper::letter);
          for (const InkText& t : page.drawing.texts) {
            CAPTURE(t.text);
            CHECK(t.height > 3.49);
          }
          for (const Fault& f : audit(page.drawing)) FAIL_CHECK(f.what);
        }
      }
    }
  }
}

TEST_CASE("pages of the assembly tell each piece of hardware once, and what is heavy",
          "[bench][projects]") {
  for (const std::string& file : project_files()) {
    CAPTURE(file);
    const Layout layout = laid_out_file(file);
    std::string told;
    for (const SetPage& page : pages_of(layout)) {
      if (!of_section(page, "assemble")) continue;
      for (const InkText& t : page.drawing.texts) told += t.text + " ";
    }
    for (const auto& [title, count] : hardware_in(layout)) {
      CAPTURE(title);
      CHECK(told_of(told, title) == count);
    }
    std::size_t heavy = 0;  // steps, and modules that are brought in as one
    for (const AssemblyUnit& unit : plan_assembly(layout).units) {
      for (const AssemblyStep& step : unit.steps) heavy += lift(layout, carried(step)) ? 1 : 0;
      if (unit.bench && unit.name == unit.module)
        heavy += lift(layout, carried(layout, unit)) ? 1 : 0;
    }
    std::size_t asked = 0;
    for (const char* words :
         {"kg: two people", "equipment: two people", "kg: more than", "equipment: more than"}) {
      for (std::size_t at = told.find(words); at != std::string::npos;
           at = told.find(words, at + 1))
        ++asked;
    }
    CHECK(asked == heavy);
  }
}

TEST_CASE("nothing made, no pages", "[bench]") {
  CHECK(bench_set(Layout{}, {}, {}).empty());
}

TEST_CASE("in a language whose words are 30 % longer every page of the demo for the bench is clean",
          "[bench][projects][wording]") {
  const Layout layout = demo();
  const Speaking longer(longer_words());
  std::vector<SetPage> pages = pages_of(layout);
  for (const Template& made : templates(layout)) {
    for (const Drawing& page : made.pages) pages.push_back({made.name, "", page});
  }
  REQUIRE(pages.size() > 60);
  for (const SetPage& page : pages) {
    CAPTURE(page.path);
    for (const Fault& f : audit(page.drawing))
      FAIL_CHECK(f.what << " kind " << static_cast<int>(f.kind) << " at " << f.at.x << ", "
                        << f.at.y);
    for (const InkText& t : page.drawing.texts) CHECK(t.text.find('{') == std::string::npos);
  }
}

TEST_CASE(
    "notches that meet in a corner stand once each, and places that cannot be told apart have one "
    "line",
    "[bench][projects]") {
  const Layout layout = demo();
  const auto pages = bench_set(layout, plan_assembly(layout));
  // The lower shelf goes round the rack's posts, level rails and corner brackets.
  std::map<std::string, int> boxes;
  bool shelf = false;
  const std::string mark = mark_of(layout, "rack/shelf.lower");
  for (const SetPage& page : pages) {
    const auto& texts = page.drawing.texts;
    const auto is_head = [&](const InkText& t) { return t.text == mark && t.height == 10.0; };
    if (std::ranges::none_of(texts, is_head)) continue;
    shelf = true;
    for (const InkText& text : texts) {
      if (text.text.starts_with("X 0 – ")) ++boxes[text.text];
    }
  }
  REQUIRE(shelf);
  CHECK_FALSE(boxes.contains("X 0 – 40  Y 0 – 40"));  // lies in both of the next two
  CHECK(boxes["X 0 – 82  Y 0 – 40"] == 1);
  CHECK(boxes["X 0 – 40  Y 0 – 82"] == 1);
  // On every page of parts the values of an axis lie on lines at least 0.6 mm apart; the overall
  // size, on a line of its own, may come nearer.
  for (const SetPage& page : pages) {
    if (page.path.find("parts") == std::string::npos) continue;
    CAPTURE(page.path);
    std::map<std::tuple<int, bool, double>, std::vector<double>> axes;
    for (const InkDimension& each : page.drawing.dimensions)
      axes[{each.view, each.upright, each.from}].push_back(each.to);
    for (auto& [axis, ends] : axes) {
      std::ranges::sort(ends, {}, [&](double to) { return std::abs(to - std::get<2>(axis)); });
      ends.pop_back();
      for (std::size_t i = 1; i < ends.size(); ++i)
        CHECK((std::abs(ends[i] - ends[i - 1]) > 0.6 || std::abs(ends[i] - ends[i - 1]) < 1e-6));
    }
  }
}

TEST_CASE(
    "the end of a member is shown beside its bands, with its sides and where each is measured",
    "[bench]") {
  const auto pages = pages_of(samples::rack());
  // Posts, 40 by 40, have holes that enter along -y and along -x; the first is side A. End 1 is
  // looked at along +z with A to the right: +y to the right, so +x, where B looks, is up. Drawn
  // 20 mm wide, the letters are 16 mm from its middle.
  std::size_t ends = 0;
  for (const SetPage& page : pages) {
    if (!of_section(page, "parts")) continue;
    const Drawing& d = page.drawing;
    for (const InkText& a : d.texts) {
      if (a.text != "A" || a.height != 5.0) continue;
      for (const InkText& b : d.texts) {
        if (b.text != "B" || b.height != 5.0) continue;
        if (length(b.at - a.at - Vec2{-16.0, 16.0}) > 0.3) continue;
        ++ends;
        // A's arrow runs up. With end 1 to the left and B towards the eye, A is the upper side of
        // the picture of B: B is measured from the edge away from A.
        const Vec2 middle = a.at + Vec2{-16.0, 2.5};
        const auto arrow = [&](Vec2 from, Vec2 to) {
          return std::ranges::any_of(d.lines, [&](const InkLine& l) {
            return length(l.a - middle - from) < 0.3 && length(l.b - middle - to) < 0.3;
          });
        };
        CHECK(arrow({12, -10}, {12, 10}));
        CHECK((arrow({10, 12}, {-10, 12}) || arrow({-10, 12}, {10, 12})));
      }
    }
  }
  CHECK(ends == 1);
}

TEST_CASE("a height on the card of a member is measured from where the arrow begins", "[bench]") {
  // The lower side of an angle bearer is measured from the free edge of its leg: 18 mm from there.
  const Layout layout = demo();
  const Part* bearer = layout.find("bunk/bearer.left");
  REQUIRE(bearer);
  const MemberStudy study = study_member(*bearer);
  REQUIRE(study.faces.size() == 2);
  const ViewFrame end = end_frame(study, true);
  const MemberFace& lower = study.faces[1];
  CHECK(dot(lower.normal, end.up) == Approx(-1.0));
  // Its arrow runs to the right, to the heel, where A is.
  CHECK(dot(lower.view.up, end.right) == Approx(1.0));
  CHECK(dot(study.faces[0].normal, end.right) == Approx(1.0));
  for (const MemberHole& hole : study.holes) {
    if (hole.face != 1) continue;
    const double heel = std::max(dot(study.box.lo, end.right), dot(study.box.hi, end.right));
    CHECK(heel - dot(hole.bore.at, end.right) == Approx(50.0 - hole.across));
  }
}

TEST_CASE("what is only sawn is named in one line", "[bench]") {
  const Layout layout = samples::rack();
  std::string line;
  for (const SetPage& page : pages_of(layout)) {
    for (const InkText& t : page.drawing.texts) {
      if (t.text.starts_with("As sawn")) line += t.text;
    }
  }
  std::string wanted;
  for (const PartType& type : part_types(layout)) {
    const std::string& title = layout.parts[type.parts.front()].title;
    if (title == "Tie" || title == "Shelf")
      wanted +=
          (wanted.empty() ? "" : ", ") + type.mark + " (" + std::to_string(type.parts.size()) + ")";
  }
  CHECK(line == "As sawn, no further work: " + wanted + ".");
}

TEST_CASE("holes right through, blind and from face B are marked each in its way", "[bench]") {
  Layout layout = samples::cabinet();
  const double thick = 11.8;
  const auto bored = [&](std::vector<Bore> bores) {
    layout.parts = {samples::panel(layout.modules.front().name + "/board", "Board", {}, {1, 0, 0},
                                   {0, 1, 0}, 400, 200, {}, std::move(bores))};
    std::size_t rings = 0, dashed = 0, crosses = 0;
    bool told = false;
    for (const SetPage& page : pages_of(layout)) {
      if (!of_section(page, "parts")) continue;
      for (const InkArc& arc : page.drawing.arcs) {
        if (arc.view < 0) continue;
        ++(arc.pen.type == LineType::dashed ? dashed : rings);
      }
      for (const InkLine& l : page.drawing.lines)
        crosses += l.view >= 0 && std::abs(length(l.b - l.a) - 2.6) < 1e-6 ? 1 : 0;
      for (const InkText& t : page.drawing.texts)
        told = told || t.text.starts_with("Face B: X and Y are as seen on face A");
    }
    return std::tuple(rings, dashed, crosses, told);
  };
  const Bore through = samples::drill({60, 60, thick}, {0, 0, -1}, 4, thick, BoreRole::screw, true);
  const Bore blind = samples::drill({160, 60, thick}, {0, 0, -1}, 4, 8, BoreRole::pilot);
  const Bore behind = samples::drill({260, 60, 0}, {0, 0, 1}, 4, 8, BoreRole::pilot);
  CHECK(bored({through}) == std::tuple(1, 0, 0, false));
  CHECK(bored({blind}) == std::tuple(0, 0, 2, false));
  CHECK(bored({blind, blind, behind}) == std::tuple(0, 1, 6, true));
}

TEST_CASE("the picture of a blank places its bends before its corners", "[bench][projects]") {
  const Layout layout = demo();
  const Part* tray = layout.find("drip_tray/tray");
  REQUIRE(tray);
  const std::string mark = mark_of(layout, tray->id);
  std::multiset<std::string> told;
  bool left_out = false;
  for (const SetPage& page : pages_of(layout)) {
    const auto is_head = [&](const InkText& t) { return t.text == mark && t.height == 10.0; };
    if (std::ranges::none_of(page.drawing.texts, is_head)) continue;
    for (const InkDimension& each : page.drawing.dimensions) told.insert(each.text);
    for (const InkText& t : page.drawing.texts)
      left_out = left_out || t.text.ends_with("to another stand in the list only.");
  }
  const PanelStudy blank = study_panel(layout, *tray);
  REQUIRE(blank.bends.size() == 8);
  for (const BendMark& bend : blank.bends) {
    const bool level = std::abs(bend.a.y - bend.b.y) < 1e-3;
    CHECK(told.contains(length_text(level ? bend.a.y : bend.a.x, LengthStyle::millimetres)));
  }
  CHECK(left_out);  // relief corners, a few mm from the bends
}

TEST_CASE("ids stand on cards whose title others bear too, and on no others", "[bench]") {
  const Layout layout = demo();
  bool beams = false;
  for (const SetPage& page : pages_of(layout)) {
    if (!of_section(page, "parts")) continue;
    for (const InkText& t : page.drawing.texts) {
      beams = beams || t.text == "bunk/beam_1, bunk/beam_4";
      CHECK_FALSE(t.text.starts_with("drip_tray/"));
    }
  }
  CHECK(beams);
}

TEST_CASE("the square is checked, and bolts are tightened, before tank and battery go in",
          "[bench]") {
  const Layout layout = demo();
  std::vector<std::string> told;  // of the rack, in the order of the pages and down each
  bool rack = false;
  for (const SetPage& page : pages_of(layout)) {
    if (!of_section(page, "assemble")) continue;
    std::vector<InkText> texts = page.drawing.texts;
    std::ranges::stable_sort(texts,
                             [](const InkText& a, const InkText& b) { return a.at.y > b.at.y; });
    for (const InkText& t : texts) {
      if (t.height == 5.0 && t.text.find(", in its place") != std::string::npos)
        rack = t.text.starts_with("Utility rack");
      if (rack) told.push_back(t.text);
    }
  }
  const auto at = [&](const char* words) {
    return std::ranges::find_if(
               told, [&](const std::string& t) { return t.find(words) != std::string::npos; }) -
           told.begin();
  };
  const auto diagonal = at("both diagonals");
  const auto tight = at("tighten what stayed finger-tight");
  const auto tank = at("Fresh water tank");
  const auto battery = at("Battery 12 V");
  REQUIRE(battery < static_cast<std::ptrdiff_t>(told.size()));
  CHECK(diagonal < tight);
  CHECK(tight < tank);
  CHECK(tank < battery);
}
