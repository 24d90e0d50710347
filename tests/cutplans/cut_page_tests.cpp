// Pages of the saw: read as ink, not from what drew them.
#include "base/wording.hpp"
#include "cutplans/cut_pages.hpp"
#include "drawings/audit.hpp"
#include "longer_words.hpp"
#include "projects.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

/// The point of a line of ink that is nearest to `p`.
Vec2 foot(const InkLine& line, Vec2 p) {
  const Vec2 way = line.b - line.a;
  return line.a + way * std::clamp(dot(p - line.a, way) / dot(way, way), 0.0, 1.0);
}

struct Numbered {
  std::string number;
  Vec2 middle;
  double radius = 0.0;
};

/// Numbers in circles.
std::vector<Numbered> numbers_on(const Drawing& page) {
  std::vector<Numbered> found;
  for (const InkArc& arc : page.arcs) {
    const double r = length(arc.u);
    for (const InkText& text : page.texts) {
      if (!inside(extent(text), grown({arc.centre, arc.centre}, r))) continue;
      found.push_back({text.text, arc.centre, r});
    }
  }
  return found;
}

/// The line from a number to a cut further away; cuts themselves are level or upright.
std::vector<InkLine>::const_iterator leader_of(const Drawing& d, const Numbered& number) {
  return std::ranges::find_if(d.lines, [&](const InkLine& line) {
    return std::abs(length(line.a - number.middle) - number.radius) < 1e-6 &&
           line.a.x != line.b.x && line.a.y != line.b.y;
  });
}

}  // namespace

TEST_CASE("the number of each cut stands on its own cut, clear of all else, or leads to it",
          "[cutplans][drawings][projects]") {
  std::size_t numbers = 0;
  std::size_t led = 0;
  for (const std::string& file : project_files()) {
    CAPTURE(file);
    const Layout layout = laid_out_file(file);
    for (const StockPlan& plan : plan_cuts(layout)) {
      if (plan.plans.sheets.empty()) continue;
      for (const SetPage& page : cut_pages(layout, {plan})) {
        CAPTURE(page.path);
        const Drawing& d = page.drawing;
        for (const Numbered& each : numbers_on(d)) {
          CAPTURE(each.number);
          ++numbers;
          const auto leader = leader_of(d, each);
          const bool leads = leader != d.lines.end();
          if (leads) {
            ++led;
            // It ends on a cut.
            CHECK(std::ranges::any_of(d.lines, [&](const InkLine& line) {
              return &line != &*leader && length(foot(line, leader->b) - leader->b) < 1e-6;
            }));
          }
          // Lines that come near end at the circle: the leader alone, or the cut from both sides,
          // with the edges of its blade's way beside it.
          std::vector<Vec2> ways;
          std::vector<Vec2> through;  // of those that point at the middle
          for (const InkLine& line : d.lines) {
            if (line.border) continue;
            const double near = length(foot(line, each.middle) - each.middle);
            if (near > each.radius + 0.9) continue;
            CHECK(near == Approx(each.radius).margin(1e-6));
            const bool starts = length(line.a - each.middle) < length(line.b - each.middle);
            const Vec2 way = normalized(starts ? line.b - line.a : line.a - line.b);
            const Vec2 end = starts ? line.a : line.b;
            CHECK(length(end - each.middle) == Approx(each.radius).margin(1e-6));
            ways.push_back(way);
            if (dot(normalized(end - each.middle), way) > 1 - 1e-9) through.push_back(way);
          }
          REQUIRE_FALSE(ways.empty());
          if (leads) {
            CHECK(ways.size() == 1);
            continue;
          }
          for (const Vec2 way : ways) CHECK(std::abs(dot(way, ways.front())) > 1 - 1e-9);
          REQUIRE(through.size() == 2);
          CHECK(dot(through[0], through[1]) < -1 + 1e-9);
        }
      }
    }
  }
  CHECK(numbers > 300);
  CHECK(led > 0);
  CHECK(led < numbers / 8);
}

TEST_CASE("numbers stand where the blade goes, at a scale of ISO 5455", "[cutplans][drawings]") {
  // ISO 5455 (from memory): 1:2, 1:5, 1:10 and tenths of these.
  const std::map<std::string, double> scales{
      {"1:2", 0.5}, {"1:5", 0.2}, {"1:10", 0.1}, {"1:20", 0.05}, {"1:50", 0.02}};
  const Layout layout = demo();
  std::size_t checked = 0;
  for (const StockPlan& plan : plan_cuts(layout)) {
    if (plan.plans.sheets.empty()) continue;
    const SheetOrder& order = plan.orders.sheets.front();
    REQUIRE(order.saw.trim == 10.0);
    REQUIRE(order.saw.kerf == 3.0);
    for (const SetPage& page : cut_pages(layout, {plan})) {
      CAPTURE(page.path);
      REQUIRE(page.path.find("-page-") == std::string::npos);
      const auto number_at = page.path.rfind('-') + 1;
      const std::size_t sheet = std::stoul(page.path.substr(number_at));
      const SheetLayout& sawn = plan.plans.sheets.front().layouts.at(sheet - 1);
      const auto scale = std::ranges::find_if(
          page.drawing.texts, [&](const InkText& t) { return scales.contains(t.text); });
      REQUIRE(scale != page.drawing.texts.end());
      std::map<std::size_t, Vec2> on;
      for (const Numbered& each : numbers_on(page.drawing)) {
        if (leader_of(page.drawing, each) == page.drawing.lines.end())
          on[std::stoul(each.number)] = each.middle;
      }
      // By hand: of the 10 mm that come off, the blade takes the last 3, so its middle is at 8.5.
      REQUIRE((on.contains(1) && on.contains(3)));
      const double s = scales.at(scale->text);
      const Vec2 origin = Vec2{on.at(3).x, on.at(1).y} - Vec2{8.5, 8.5} * s;
      for (std::size_t c = 4; c < sawn.cuts.size(); ++c) {
        if (!on.contains(c + 1)) continue;
        CAPTURE(c + 1);
        const SheetCut& cut = sawn.cuts[c];
        const SheetPart& part = sawn.parts[cut.part];
        const Vec2 at = (on.at(c + 1) - origin) * (1.0 / s);
        ++checked;
        CHECK((cut.rip ? at.y - part.y : at.x - part.x) == Approx(cut.fence + 1.5).margin(1e-6));
        CHECK((cut.rip ? at.x : at.y) > (cut.rip ? part.x : part.y));
        CHECK((cut.rip ? at.x - part.length : at.y - part.width) < (cut.rip ? part.x : part.y));
      }
    }
  }
  CHECK(checked > 50);
}

TEST_CASE(
    "sheets of any shape are drawn as large as the page allows, with nothing on top of "
    "anything else",
    "[cutplans][drawings]") {
  struct Row {
    double length;
    double width;
    const char* scale;
  };
  // By hand: of an A3 page about 370 x 250 mm are free, of which eight rows of a table take 183
  // x 50.
  const auto row =
      GENERATE(Row{2500, 1250, "1:10"}, Row{1250, 2500, "1:20"}, Row{700, 2600, "1:20"},
               Row{3050, 1525, "1:10"}, Row{1200, 600, "1:5"}, Row{500, 400, "1:5"});
  const Layout layout = demo();
  const bool stamped = GENERATE(false, true);
  StockPlan plan{.key = "birch_12", .title = "Board", .sheet = true};
  SheetOrder order;
  order.saw = {3.0, 10.0, false};
  order.stock.push_back({plan.key, row.length, row.width, {}, 3.125});
  for (int i = 0; i < 6; ++i)
    order.pieces.push_back({.label = "P" + std::to_string(i + 1),
                            .length = row.length / 3.7 + 11 * i,
                            .width = row.width / 4.6 - 3 * i,
                            .count = 1});
  auto cut = plan_sheets(order);
  REQUIRE(cut);
  plan.plans.sheets.push_back(std::move(*cut));
  plan.orders.sheets.push_back(order);
  for (const SetPage& page : cut_pages(layout, {plan}, {.not_for_cutting = stamped})) {
    CAPTURE(page.path, row.length, row.width, stamped);
    for (const Fault& fault : audit(page.drawing)) FAIL_CHECK(fault.what);
    CHECK(std::ranges::count(page.drawing.texts, row.scale, &InkText::text) == 1);
    CHECK(page.path.find("-page-") == std::string::npos);
  }
}

TEST_CASE("pages of sheets say saw cut and trim, and call what is cut further by the pieces in it",
          "[cutplans][drawings]") {
  const Layout layout = demo();
  REQUIRE(layout.sawing.sheet_kerf == 3.0);
  REQUIRE(layout.sawing.sheet_trim == 10.0);
  const auto plans = plan_cuts(layout);
  for (const SetPage& page : cut_pages(layout, plans)) {
    CAPTURE(page.path);
    if (page.path.find("cut-bars") != std::string::npos) continue;
    const auto has = [&](auto&& what) { return std::ranges::any_of(page.drawing.texts, what); };
    CHECK(has([](const InkText& t) { return t.text.starts_with("Saw cut 3 mm. 10 mm come off"); }));
    CHECK(has([](const InkText& t) { return t.text.starts_with("Along: the way of the sheet"); }));
    CHECK(has([](const InkText& t) { return t.text.starts_with("Fence: from the fence"); }));
    CHECK_FALSE(has([](const InkText& t) { return t.text.starts_with("part "); }));
  }
  // "with P11, P24": both are in the plan's rest, and the word "with" keeps it apart from P11 sawn.
  const auto plan = std::ranges::find(plans, "birch_18", &StockPlan::key);
  REQUIRE(plan != plans.end());
  const auto pages = cut_pages(layout, {*plan});
  std::size_t with = 0;
  for (const SetPage& page : pages) {
    with += static_cast<std::size_t>(std::ranges::count_if(
        page.drawing.texts, [](const InkText& t) { return t.text.starts_with("with P"); }));
  }
  CHECK(with > 4);
}

TEST_CASE("every piece has its size on the pages of the saw, as on its own drawing", "[cutplans]") {
  const Layout layout = demo();
  std::map<std::string, const Part*> parts;
  for (const PartType& type : part_types(layout))
    parts[type.mark] = &layout.parts[type.parts.front()];
  const auto mm = [](double length) { return length_text(length, LengthStyle::millimetres); };
  std::size_t told = 0;
  for (const StockPlan& plan : plan_cuts(layout)) {
    const auto pages = cut_pages(layout, {plan});
    std::multiset<std::string> words;
    for (const SetPage& page : pages)
      for (const InkText& text : page.drawing.texts) words.insert(text.text);
    for (const SheetsPlan& sheets : plan.plans.sheets) {
      REQUIRE(pages.size() == sheets.layouts.size());
      std::map<std::string, std::size_t> pieces;
      for (const SheetLayout& sheet : sheets.layouts) {
        for (const SheetPart& part : sheet.parts)
          if (part.piece) ++pieces[plan.orders.sheets.front().pieces[*part.piece].label];
      }
      for (const auto& [mark, count] : pieces) {
        CAPTURE(plan.key, mark);
        const Stock& stock = parts.at(mark)->stock;
        const std::string a = mm(stock.length) + " x " + mm(stock.width);
        const std::string b = mm(stock.width) + " x " + mm(stock.length);
        // In a line, or in two where the piece is short.
        std::size_t sizes = words.count(mark + "  " + a);
        if (a != b) sizes += words.count(mark + "  " + b);
        if (sizes < count) sizes += words.count(a) + (a != b ? words.count(b) : 0);
        CHECK(sizes >= count);
        told += count;
      }
    }
  }
  CHECK(told > 25);
}

TEST_CASE("parts that are called alike are told apart by their sizes beside the cut",
          "[cutplans]") {
  const Layout layout = demo();
  for (const StockPlan& plan : plan_cuts(layout)) {
    if (plan.plans.sheets.empty()) continue;
    const auto pages = cut_pages(layout, {plan});
    std::multiset<std::string> words;
    for (const SetPage& page : pages)
      for (const InkText& text : page.drawing.texts) words.insert(text.text);
    std::map<std::string, std::size_t> sizes;
    for (const SheetLayout& sheet : plan.plans.sheets.front().layouts) {
      for (const SheetCut& cut : sheet.cuts) {
        const SheetPart& part = sheet.parts[cut.part];
        ++sizes[length_text(part.length, LengthStyle::millimetres) + " x " +
                length_text(part.width, LengthStyle::millimetres)];
      }
    }
    for (const auto& [size, count] : sizes) {
      CAPTURE(plan.key, size);
      CHECK(words.count(size) >= count);
    }
  }
}

TEST_CASE("title blocks of the saw number the pages of a stock through, and name its material",
          "[cutplans][drawings]") {
  const Layout layout = demo();
  const auto plans = plan_cuts(layout);
  const auto has = [](const SetPage& page, const std::string& text) {
    return std::ranges::count(page.drawing.texts, text, &InkText::text) > 0;
  };
  const auto& plan = *std::ranges::find(plans, "birch_12", &StockPlan::key);
  const auto pages = cut_pages(layout, {plan});
  REQUIRE(pages.size() == 3);
  for (std::size_t p = 0; p < 3; ++p) {
    CHECK(has(pages[p], "MARSH-CUT-BIRCH-12"));
    CHECK(has(pages[p], std::to_string(p + 1) + "/3"));
    CHECK(has(pages[p], "Birch plywood, 12 mm"));  // material of the sheet in the catalogue
    CHECK(has(pages[p], "Issued"));
  }
  const auto stamped = cut_pages(layout, plans, {.not_for_cutting = true});
  for (const SetPage& page : stamped) CHECK_FALSE(has(page, "Issued"));
  CHECK(has(stamped.back(), "MARSH-CUT-BARS"));
}

TEST_CASE("planks that end a row are ripped, and the page of the saw says which edge goes",
          "[cutplans][drawings]") {
  const Layout layout = demo();
  const auto plans = plan_cuts(layout);
  const auto& plan = *std::ranges::find(plans, "maple_9", &StockPlan::key);
  std::map<std::string, const Part*> parts;
  for (const PartType& type : part_types(layout))
    parts[type.mark] = &layout.parts[type.parts.front()];
  // The first board of the row has its groove sawn off, the last its tongue: common practice, no
  // source.
  REQUIRE(plan.rips.size() == 2);
  const Part& first = *parts.at(plan.rips[0].mark);
  const Part& last = *parts.at(plan.rips[1].mark);
  CHECK(first.order == 1);
  CHECK((plan.rips[0].groove && !plan.rips[0].tongue));
  CHECK(plan.rips[0].width == first.stock.width);
  CHECK((!plan.rips[1].groove && plan.rips[1].tongue));
  for (const Part& part : layout.parts)
    if (part.kind == PartKind::plank) CHECK(part.order <= last.order);
  std::set<std::string> words;
  for (const SetPage& page : cut_pages(layout, {plan}))
    for (const InkText& text : page.drawing.texts) words.insert(text.text);
  CHECK(words.contains("B1: then rip to 56, groove off"));
  CHECK(words.contains("B4: then rip to 58.9, tongue off"));
  const OutputFiles files = cut_files(layout, plans);
  CHECK_THAT(std::ranges::find(files, "shop/cutting.txt", &OutputFile::path)->bytes,
             Catch::Contains("B1: then rip to 56 mm, groove sawn off\n"
                             "B4: then rip to 58.9 mm, tongue sawn off\n"));
}

TEST_CASE(
    "pages of bars show each piece with its length, and run the places of all cuts from one end",
    "[cutplans][drawings][projects]") {
  std::size_t bars = 0;
  for (const std::string& file : project_files()) {
    CAPTURE(file);
    const Layout layout = laid_out_file(file);
    const auto plans = plan_cuts(layout);
    std::multiset<std::string> texts;
    std::multiset<std::string> places;
    for (const SetPage& page : cut_pages(layout, plans, {.not_for_cutting = true})) {
      if (page.path.find("cut-bars") == std::string::npos) continue;
      CAPTURE(page.path);
      for (const Fault& fault : audit(page.drawing)) FAIL_CHECK(fault.what);
      for (const InkText& text : page.drawing.texts) texts.insert(text.text);
      for (const InkDimension& dimension : page.drawing.dimensions) places.insert(dimension.text);
    }
    const auto mm = [](double length) { return length_text(length, LengthStyle::millimetres); };
    if (layout.project.show != LengthStyle::millimetres) continue;
    std::map<std::string, std::size_t> pieces;
    std::map<std::string, std::size_t> ends;
    for (const StockPlan& plan : plans) {
      if (plan.plans.bars.empty()) continue;
      const BarOrder& order = plan.orders.bars.front();
      for (const BarLayout& bar : plan.plans.bars.front().layouts) {
        ++bars;
        // By hand: what is taken off the end, then pieces and saw cuts in turn.
        double at = order.saw.trim;
        std::set<std::string> of_bar;
        for (const std::size_t p : bar.pieces) {
          at += order.pieces[p].length;
          ++pieces[order.pieces[p].label + "  " + mm(order.pieces[p].length)];
          of_bar.insert(mm(at));
          at += order.saw.kerf;
        }
        for (const std::string& end : of_bar) ++ends[end];
        const double rest = order.stock[bar.stock].length - at;
        CHECK(std::ranges::any_of(texts, [&](const std::string& text) {
          return text.find(plan.title) != std::string::npos &&
                 text.ends_with("rest " + mm(std::max(0.0, rest)));
        }));
      }
    }
    for (const auto& [piece, count] : pieces) {
      CAPTURE(piece);
      CHECK(texts.count(piece) == count);
    }
    for (const auto& [end, count] : ends) {
      CAPTURE(end);
      CHECK(places.count(end) >= count);
    }
  }
  CHECK(bars > 20);
  const Speaking longer(longer_words());
  const Layout layout = demo();
  for (const SetPage& page : cut_pages(layout, plan_cuts(layout))) {
    if (page.path.find("cut-bars") == std::string::npos) continue;
    CAPTURE(page.path);
    for (const Fault& fault : audit(page.drawing)) FAIL_CHECK(fault.what);
  }
}
