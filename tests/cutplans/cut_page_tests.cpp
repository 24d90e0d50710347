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

}  // namespace

TEST_CASE("the number of each cut touches its own cut and no other, or leads to it",
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
          const auto leader = std::ranges::find_if(d.lines, [&](const InkLine& line) {
            return std::abs(length(line.a - each.middle) - each.radius) < 1e-6 &&
                   line.a.x != line.b.x && line.a.y != line.b.y;
          });
          const bool leads = leader != d.lines.end();
          if (leads) {
            ++led;
            // It ends on a cut.
            CHECK(std::ranges::any_of(d.lines, [&](const InkLine& line) {
              return &line != &*leader && length(foot(line, leader->b) - leader->b) < 1e-6;
            }));
          }
          // What comes near the circle comes there from one side: the edges of the saw cut, and
          // what lies behind it.
          std::vector<Vec2> feet;
          for (const InkLine& line : d.lines) {
            const Vec2 at = foot(line, each.middle);
            if (!line.border && length(at - each.middle) < each.radius + 0.9) feet.push_back(at);
          }
          REQUIRE_FALSE(feet.empty());
          CHECK((!leads || feet.size() == 1));
          const Vec2 nearest = *std::ranges::min_element(
              feet, {}, [&](Vec2 at) { return length(at - each.middle); });
          CHECK(length(nearest - each.middle) < each.radius + 0.31);
          for (const Vec2 at : feet) {
            CHECK(dot(normalized(at - each.middle), normalized(nearest - each.middle)) > 0.7);
          }
        }
      }
    }
  }
  CHECK(numbers > 300);
  CHECK(led > 0);
  CHECK(led < numbers / 4);
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
    CHECK(has([](const InkText& t) {
      return t.text.find("saw cut 3 mm") != std::string::npos &&
             t.text.find("10 mm") != std::string::npos;
    }));
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

TEST_CASE("pieces are as long on the pages of the saw as on their own drawings", "[cutplans]") {
  const Layout layout = demo();
  std::map<std::string, const Part*> parts;
  for (const PartType& type : part_types(layout))
    parts[type.mark] = &layout.parts[type.parts.front()];
  const auto plans = plan_cuts(layout);
  std::size_t told = 0;
  for (const SetPage& page : cut_pages(layout, plans)) {
    for (const InkText& text : page.drawing.texts) {
      const auto gap = text.text.find("  ");
      if (gap == std::string::npos || !parts.contains(text.text.substr(0, gap))) continue;
      const Stock& stock = parts.at(text.text.substr(0, gap))->stock;
      const std::string a = length_text(stock.length, LengthStyle::millimetres);
      const std::string b = length_text(stock.width, LengthStyle::millimetres);
      const std::string size = text.text.substr(gap + 2);
      CAPTURE(text.text);
      if (stock.width == 0.0 || page.path.find("cut-bars") != std::string::npos) {
        CHECK(size == a);
        continue;
      }
      CHECK((size == a + " x " + b || size == b + " x " + a));
      ++told;
    }
  }
  CHECK(told > 25);
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
