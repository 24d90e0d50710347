#include "../shop/bars_checker.hpp"
#include "../shop/sheets_checker.hpp"
#include "cutplans/cut_pages.hpp"
#include "cutplans/shop_cuts.hpp"
#include "drawings/audit.hpp"
#include "longer_words.hpp"
#include "projects.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <map>
#include <set>

using namespace ribbay;
using namespace ribbay::testing;
namespace fs = std::filesystem;

namespace {

const StockPlan& plan_of(const std::vector<StockPlan>& plans, const std::string& key) {
  const auto found = std::ranges::find(plans, key, &StockPlan::key);
  REQUIRE(found != plans.end());
  return *found;
}

/// How often each mark is cut.
std::map<std::string, int> cut_counts(const std::vector<StockPlan>& plans) {
  std::map<std::string, int> counts;
  for (const StockPlan& plan : plans) {
    for (const BarsPlan& bars : plan.plans.bars) {
      for (const BarLayout& layout : bars.layouts) {
        for (const std::size_t p : layout.pieces)
          counts[plan.orders.bars.front().pieces[p].label] += layout.count;
      }
    }
    for (const SheetsPlan& sheets : plan.plans.sheets) {
      for (const SheetLayout& layout : sheets.layouts) {
        for (const SheetPart& part : layout.parts) {
          if (!part.piece) continue;
          // Two that share a rectangle are called by both marks.
          std::string both = plan.orders.sheets.front().pieces[*part.piece].label;
          if (const std::size_t plus = both.find('+'); plus != std::string::npos) {
            ++counts[both.substr(plus + 1)];
            both.resize(plus);
          }
          ++counts[both];
        }
      }
    }
  }
  return counts;
}

std::string file_named(const OutputFiles& files, const std::string& path) {
  const auto found = std::ranges::find(files, path, &OutputFile::path);
  REQUIRE(found != files.end());
  return found->bytes;
}

}  // namespace

TEST_CASE("every made part of the demo is cut, as often as it is needed", "[cutplans]") {
  const Layout layout = demo();
  const std::map<std::string, int> counts = cut_counts(plan_cuts(layout));
  for (const PartType& type : part_types(layout)) {
    CAPTURE(type.mark);
    const auto cut = counts.find(type.mark);
    REQUIRE(cut != counts.end());
    CHECK(cut->second == static_cast<int>(type.parts.size()));
  }
}

TEST_CASE("plans of the demo pass the independent checks of bars, sheets and proofs", "[cutplans]") {
  for (const StockPlan& plan : plan_cuts(demo())) {
    CAPTURE(plan.key);
    CHECK(plan.findings.empty());
    for (const BarsPlan& bars : plan.plans.bars) {
      CHECK(fault_in_bars(plan.orders.bars.front(), bars) == "");
      CHECK(fault_in_proof(plan.orders.bars.front(), bars) == "");
    }
    for (const SheetsPlan& sheets : plan.plans.sheets)
      CHECK(fault_in_sheets(plan.orders.sheets.front(), sheets) == "");
  }
}

TEST_CASE("an offcut on hand is cut up before a bar is bought, and what is left is told",
          "[cutplans]") {
  Layout layout = demo();
  const auto before = plan_cuts(layout);
  const BarsPlan& bought = plan_of(before, "slotted_40").plans.bars.front();
  layout.offcuts = {{"old_bar", "slotted_40", 3020.0, 0.0, 2}, {"useless", "slotted_40", 45.0, 0.0, 1}};
  const auto after = plan_cuts(layout);
  const StockPlan& plan = plan_of(after, "slotted_40");
  CHECK(plan.plans.bars.front().cost < bought.cost);
  const auto uses = [&](const std::string& label) {
    int count = 0;
    for (const BarLayout& bar : plan.plans.bars.front().layouts) {
      if (plan.orders.bars.front().stock[bar.stock].label == label) count += bar.count;
    }
    return count;
  };
  CHECK(uses("offcut old_bar") == 2);
  CHECK(uses("offcut useless") == 0);
  const OutputFiles files = cut_files(layout, after);
  const std::string left = file_named(files, "shop/offcuts.toml");
  CHECK_THAT(left, Catch::Contains("length = \"45 mm\""));       // not needed: it stays
  CHECK_THAT(left, !Catch::Contains("length = \"3020 mm\""));    // used
  CHECK_THAT(file_named(files, "shop/bars.csv"), Catch::Contains("offcut old_bar"));
}

TEST_CASE("rests shorter than what is kept are waste", "[cutplans]") {
  Layout layout = demo();
  layout.sawing.keep_bar = 1e9;
  layout.sawing.keep_sheet = 1e9;
  const OutputFiles files = cut_files(layout, plan_cuts(layout));
  CHECK(std::ranges::find(files, "shop/offcuts.toml", &OutputFile::path) == files.end());
}

TEST_CASE("cutting plans repeat to the byte", "[cutplans]") {
  const Layout layout = demo();
  const OutputFiles first = cut_files(layout, plan_cuts(layout));
  const OutputFiles again = cut_files(layout, plan_cuts(layout));
  REQUIRE(first.size() == again.size());
  for (std::size_t i = 0; i < first.size(); ++i) CHECK((first[i].bytes == again[i].bytes));
}

TEST_CASE("cutting pages are as clean in a language whose words are 30 % longer",
          "[cutplans][drawings][wording]") {
  const Layout layout = demo();
  const auto plans = plan_cuts(layout);
  const Speaking longer(longer_words());
  const auto pages = cut_pages(layout, plans);
  REQUIRE(pages.size() > 8);
  for (const SetPage& page : pages) {
    CAPTURE(page.path);
    for (const Fault& fault : audit(page.drawing)) FAIL_CHECK(fault.what);
    for (const InkText& t : page.drawing.texts) CHECK(t.text.find('{') == std::string::npos);
    CHECK(std::ranges::count(page.drawing.texts, say("document.cutting"), &InkText::text) == 1);
  }
}

TEST_CASE("a page of a sheet shows every piece and every cut, and nothing on top of anything else",
          "[cutplans][drawings]") {
  const std::string path = GENERATE(from_range(project_files()));
  CAPTURE(path);
  const auto inputs = read_inputs(path);
  REQUIRE(inputs.value);
  const auto layout = lay_out(*inputs.value);
  REQUIRE(layout.value);
  const bool stamped = GENERATE(false, true);
  const auto plans = plan_cuts(*layout.value);
  for (const SetPage& page : cut_pages(*layout.value, plans, {.not_for_cutting = stamped})) {
    CAPTURE(page.path);
    const std::vector<Fault> faults = audit(page.drawing);
    std::string told;
    for (const Fault& fault : faults) told += fault.what + "; ";
    CHECK(told == "");
  }
  std::size_t patterns = 0;
  for (const StockPlan& plan : plans) {
    if (plan.plans.sheets.empty()) continue;
    for (const SetPage& page : cut_pages(*layout.value, {plan})) {
      ++patterns;
      // The table names every cut once; the picture names it a second time.
      std::map<std::string, int> words;
      for (const InkText& text : page.drawing.texts) ++words[text.text];
      std::size_t cut = 1;
      while (words.contains(std::to_string(cut))) {
        CAPTURE(page.path, cut);
        CHECK(words[std::to_string(cut)] >= 2);
        ++cut;
      }
      CHECK(cut > 4);
    }
  }
  if (path.ends_with("marsh.toml")) CHECK(patterns > 5);
}

TEST_CASE("many cuts go on on further pages, and every one stands in the tables once",
          "[cutplans][drawings]") {
  const auto inputs = read_inputs(RIBBAY_SOURCE_DIR "/params/examples/partition.toml");
  REQUIRE(inputs.value);
  const auto layout = lay_out(*inputs.value);
  REQUIRE(layout.value);
  const int pieces = GENERATE(40, 110, 190);
  StockPlan plan{.key = layout.value->catalogue->sheets.begin()->first, .title = "Board", .sheet = true};
  SheetOrder order;
  order.saw = {3.0, 10.0, false};
  order.stock.push_back({plan.key, 2500.0, 1250.0, {}, 3.125});
  for (int i = 0; i < pieces; ++i)
    order.pieces.push_back({.label = "P" + std::to_string(i + 1),
                            .length = 90.0 + 3 * (i % 17),
                            .width = 60.0 + 2 * (i % 13),
                            .count = 1});
  auto cut = plan_sheets(order);
  REQUIRE(cut);
  plan.plans.sheets.push_back(std::move(*cut));
  plan.orders.sheets.push_back(order);
  std::size_t cuts = 0;
  for (const SheetLayout& sheet : plan.plans.sheets.front().layouts) cuts += sheet.cuts.size();
  const auto pages = cut_pages(*layout.value, {plan}, {.not_for_cutting = true});
  CHECK((pieces == 40 || pages.size() > plan.plans.sheets.front().layouts.size()));
  std::size_t along_or_across = 0;
  std::set<std::string> named;
  for (const SetPage& page : pages) {
    CAPTURE(page.path);
    std::string told;
    for (const Fault& fault : audit(page.drawing)) told += fault.what + "; ";
    CHECK(told == "");
    for (const InkText& text : page.drawing.texts) {
      if (text.text == "along" || text.text == "across") ++along_or_across;
      named.insert(text.text);
    }
  }
  CHECK(along_or_across == cuts);
  for (int i = 1; i <= pieces; ++i) {
    CAPTURE(i);
    CHECK(named.contains("P" + std::to_string(i)));  // in the tables, whatever the pictures show
  }
}

TEST_CASE("two triangles share a rectangle where that saves a sheet", "[cutplans][pairs]") {
  // Legs 1000 and 600 mm on sheets of 1030 x 630, of which 5 mm are taken off each edge, 3 mm saw
  // cuts: as rectangles each takes a sheet; as a pair, by hand, 1005.8 x 600 or 1000 x 603.5.
  Layout layout = demo();
  auto stock = std::make_shared<Catalogue>(*layout.catalogue);
  const std::string key = stock->sheets.begin()->first;
  Sheet& sheet = stock->sheets.begin()->second;
  sheet.length = 1030;
  sheet.width = 630;
  layout.catalogue = stock;
  layout.sawing.sheet_kerf = 3;
  layout.sawing.sheet_trim = 5;
  layout.prices.clear();
  layout.offcuts.clear();
  layout.parts.clear();
  const auto add = [&](const std::string& id, Loop outline) {
    Part part;
    part.id = id;
    part.module = "m";
    part.kind = PartKind::panel;
    part.stock = {.key = key, .length = 1000, .width = 600, .thickness = sheet.thickness};
    part.shape = std::make_shared<const Shape>(
        Shape{{{Prism{.section = {std::move(outline)}, .height = sheet.thickness}}}});
    layout.parts.push_back(std::move(part));
  };
  const Loop triangle{{{0, 0}}, {{1000, 0}}, {{0, 600}}};
  add("m/a", triangle);
  add("m/b", triangle);
  const std::vector<StockPlan> plans = plan_cuts(layout);
  const StockPlan& plan = plan_of(plans, key);
  REQUIRE(plan.sharing);
  CHECK(plan.sharing->taken);
  CHECK(plan.sharing->sheets_apart == 2);
  CHECK(plan.sharing->sheets_shared == 1);
  REQUIRE(plan.shared.size() == 1);
  const SheetPiece& piece = plan.orders.sheets.front().pieces[plan.shared[0].piece];
  CHECK(piece.length * piece.width == Approx(1005.83 * 600).epsilon(1e-3));
  CHECK(distance(plan.shared[0].outlines.first, plan.shared[0].outlines.second) >= 3 - 1e-6);
  const std::string text = file_named(cut_files(layout, plans), "shop/cutting.txt");
  CHECK_THAT(text, Catch::Contains("1 sheet and not 2") && Catch::Contains("half a turn") &&
                       Catch::Contains("1 sheet for 2 pieces"));
  // Two lines of the parting cut, and both marks, are on the page.
  CHECK_FALSE(cut_pages(layout, plans).empty());
  // Rectangles of the same size share nothing, and nothing is said.
  layout.parts.clear();
  add("m/a", rectangle({0, 0}, {1000, 600}));
  add("m/b", rectangle({0, 0}, {1000, 600}));
  CHECK_FALSE(plan_of(plan_cuts(layout), key).sharing);
  // On a sheet that holds both as rectangles they stay that.
  layout.parts.clear();
  add("m/a", triangle);
  add("m/b", triangle);
  sheet.length = 2100;
  const std::vector<StockPlan> apart = plan_cuts(layout);
  REQUIRE(plan_of(apart, key).sharing);
  CHECK_FALSE(plan_of(apart, key).sharing->taken);
  CHECK_THAT(file_named(cut_files(layout, apart), "shop/cutting.txt"),
             Catch::Contains("save no sheet"));
}
