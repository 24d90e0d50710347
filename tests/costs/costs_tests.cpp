#include "costs/quote.hpp"
#include "costs/stock_list.hpp"
#include "projects.hpp"
#include "sample_layout.hpp"
#include "small_project.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

/// A profile, a screw and an oil, bought by their own measures.
Layout priced(const std::string& prices) {
  auto built = lay_out_text(prices);
  INFO(words(built.findings));
  REQUIRE(built.value);
  REQUIRE_FALSE(has_errors(built.findings));
  return *built.value;
}

const Purchase& bought(const std::vector<Purchase>& list, const std::string& key) {
  const auto found = std::ranges::find(list, key, &Purchase::key);
  INFO(key);
  REQUIRE(found != list.end());
  return *found;
}

}  // namespace

TEST_CASE("bars, sheets, pieces and tins are bought whole, with spares, and bars by their length",
          "[costs]") {
  Layout layout = demo();
  std::erase_if(layout.prices, [](const Price& price) { return price.key == "magnet_32"; });
  const auto plans = plan_cuts(layout);
  const auto list = purchases(layout, plans);
  // Bars: as many as the plan uses, each at the price of its length.
  const auto plan = std::ranges::find(plans, "slotted_40", &StockPlan::key);
  REQUIRE(plan != plans.end());
  int bars = 0;
  for (const BarLayout& bar : plan->plans.bars.front().layouts) bars += bar.count;
  double counted = 0.0;
  double paid = 0.0;
  for (const Purchase& each : list) {
    if (each.key != "slotted_40") continue;
    counted += each.needed;
    REQUIRE(each.package_price);
    paid += *each.cost();
  }
  CHECK(counted == bars);
  CHECK(paid == Approx(plan->plans.bars.front().cost).margin(0.005));
  CHECK(plan->orders.cost_unit == "EUR");
  // Screws: needed and spare ones, in whole packets.
  std::size_t screws = 0;
  for (const Part& part : layout.parts) screws += part.stock.key == "wood_3_5x16" ? 1 : 0;
  const Purchase& screw = bought(list, "wood_3_5x16");
  CHECK(screw.needed == static_cast<double>(screws));
  CHECK(screw.spare == 10);
  CHECK(*screw.packages == std::ceil((static_cast<double>(screws) + 10) / 200));
  CHECK(*screw.cost() == Approx(6.50 * *screw.packages));
  // A tin of oil holds 0.75 l.
  const Purchase& oil = bought(list, "hard_oil");
  CHECK(oil.unit == "l");
  CHECK(*oil.package_holds == Approx(0.75));
  CHECK(*oil.packages == std::ceil(oil.needed / 0.75));
  // Every bought part is in the list, as often as it is in the layout.
  std::size_t parts = 0;
  for (const Part& part : layout.parts) parts += is_bought(part) ? 1 : 0;
  double pieces = 0.0;
  for (const Purchase& each : list) {
    const bool drawn = !each.key.empty();  // nuts below the floor are not
    if (drawn && (each.kind == "hardware" || each.kind == "equipment")) pieces += each.needed;
  }
  CHECK(pieces == static_cast<double>(parts));
  // Glue is told by the joint.
  const auto glue = std::ranges::find(list, std::string("glue"), &Purchase::kind);
  REQUIRE(glue != list.end());
  CHECK(glue->needed == static_cast<double>(std::ranges::count_if(layout.joints, &Joint::glued)));
  // The total says what it leaves out.
  const PurchaseTotal sum = total(list);
  const auto undrawn = std::ranges::count(list, std::string(), &Purchase::key);
  CHECK(sum.unpriced == 1 + static_cast<std::size_t>(undrawn));
  const std::string csv = purchase_list(layout, list).bytes;
  CHECK_THAT(csv, Catch::Contains("kind,stock,title,needed,spare,unit,packages,package_holds,"
                                  "package_price_EUR,cost_EUR\r\n") &&
                      Catch::Contains(std::to_string(sum.unpriced) + " without a price"));
}

TEST_CASE("without prices nothing costs anything, and every row says so", "[costs]") {
  Layout layout = demo();
  layout.prices.clear();
  const auto plans = plan_cuts(layout);
  const auto list = purchases(layout, plans);
  const PurchaseTotal sum = total(list);
  CHECK(sum.cost == 0.0);
  CHECK(sum.unpriced == list.size());
  const auto plan = std::ranges::find(plans, "slotted_40", &StockPlan::key);
  CHECK(plan->orders.cost_unit == "m");
}

TEST_CASE("what floor bolts take below the floor is bought too", "[costs]") {
  // One nut and one washer for each bolt that is in no hard point; a sleeve for each soft layer,
  // and a plate.
  Layout layout = priced(kPlainRack);
  auto van = std::make_shared<Vehicle>(*layout.vehicle);
  van->floor_layers = {{"deck", 12, "", false}, {"foam", 20, "", true}};
  van->floor_thickness = 32;
  van->floor_backing = 3;
  layout.vehicle = van;
  REQUIRE(layout.floor_bolts.size() > 2);
  layout.floor_bolts.front().hard_point = "ring";
  const auto list = purchases(layout, plan_cuts(layout));
  const auto needed = [&](const std::string& title) {
    const auto found = std::ranges::find(list, title, &Purchase::title);
    return found == list.end() ? 0.0 : found->needed;
  };
  const double bolts = static_cast<double>(layout.floor_bolts.size()) - 1;
  CHECK(needed("Hexagon nut M8, ISO 4032, under the floor") == bolts);
  CHECK(needed("Plain washer M8, ISO 7089, under the floor") == bolts);
  CHECK(needed("Compression sleeve for M8, 20 mm long, in the floor") == bolts);
  CHECK(needed("Plate 3 mm thick with a hole for M8, under the floor") == bolts);
}

TEST_CASE("what is cut from offcuts is not bought", "[costs]") {
  Layout layout = demo();
  const auto sheets_of = [&](const std::vector<Purchase>& list) {
    const auto found = std::ranges::find(list, "birch_6", &Purchase::key);
    return found == list.end() ? 0.0 : found->needed;
  };
  CHECK(sheets_of(purchases(layout, plan_cuts(layout))) == 1.0);
  layout.offcuts.push_back({"rest", "birch_6", 2400, 1200, 1});
  CHECK(sheets_of(purchases(layout, plan_cuts(layout))) == 0.0);
}

TEST_CASE("what is cut is summed up by stock, in metres, kilograms and money", "[costs]") {
  Layout layout = sample_layout();
  // By hand: two rails of 1 m and 2 kg; a shelf of 0.6 x 0.4000629 = 0.24003774 m2 and 6 kg.
  CHECK(stock_list(layout).bytes ==
        "stock,title,pieces,length_m,area_m2,mass_kg,material_cost_EUR,note\r\n"
        "birch_18,birch_18,1,,0.24,6,,no price\r\n"
        "slotted_40,slotted_40,2,2,,4,,no price\r\n"
        "total,,3,2,0.24,10,,\"2 without a price, not counted\"\r\n");
  // 9.80 a metre; 100 for two sheets of 2 x 1 m are 25 a square metre.
  auto catalogue = std::make_shared<Catalogue>(*layout.catalogue);
  catalogue->sheets["birch_18"].title = "Birch plywood 18 mm";
  catalogue->sheets["birch_18"].length = 2000;
  catalogue->sheets["birch_18"].width = 1000;
  layout.catalogue = catalogue;
  layout.prices = {{.key = "birch_18", .money = 100, .amount = 2},
                   {.key = "slotted_40", .money = 9.80, .amount = 1000}};
  CHECK(stock_list(layout).bytes ==
        "stock,title,pieces,length_m,area_m2,mass_kg,material_cost_EUR,note\r\n"
        "birch_18,Birch plywood 18 mm,1,,0.24,6,6,\r\n"
        "slotted_40,slotted_40,2,2,,4,19.6,\r\n"
        "total,,3,2,0.24,10,25.6,\r\n");
}

TEST_CASE("a quote is the sum of its rows", "[costs][quote]") {
  // By hand: 30 cuts of 2 min and 10 joints of 6 min are 2 h, at 40 each 80. Material 100, 10 % on
  // it 10; 5 % of 190 is 9.50; in all 199.50.
  const Rates rates{.hour = 40,
                    .cut = 120,
                    .hole = 0,
                    .joint = 360,
                    .panel = 0,
                    .modules = {},
                    .markup = 0.1,
                    .contingency = 0.05,
                    .customer = ""};
  const Quote sum = quote(rates, {{"cuts", 30, 120}, {"joints", 10, 360}}, {100.0, 3});
  CHECK(sum.hours == Approx(2));
  CHECK(sum.labour == Approx(80));
  CHECK(sum.markup == Approx(10));
  CHECK(sum.contingency == Approx(9.5));
  CHECK(sum.total == Approx(199.5));
  CHECK(sum.unpriced == 3);
}

TEST_CASE("work counts every hole and joint of what is made", "[costs][quote]") {
  const Layout layout = demo();
  const auto done = work(layout, plan_cuts(layout));
  std::size_t bores = 0;
  for (const Part& part : layout.parts) {
    if (!is_made(part.kind)) continue;
    for (const PlacedPrism& prism : part.shape->prisms) bores += prism.prism.bores.size();
  }
  const auto row = [&](const std::string& what) {
    const auto found = std::ranges::find(done, what, &Work::what);
    REQUIRE(found != done.end());
    return *found;
  };
  CHECK(row("Holes").count == bores);
  CHECK(row("Joints").count == layout.joints.size());
  CHECK(row("Utility rack: fitting and finishing").hours() == Approx(3));
  Layout without = layout;
  without.rates.reset();
  CHECK(work(without, plan_cuts(without)).empty());
  CHECK(quote_files(without, {}, {}).empty());
  const OutputFiles files = quote_files(layout, plan_cuts(layout), {});
  REQUIRE(files.size() == 2);
  CHECK(files.back().path == "shop/work.csv");
  CHECK_THAT(files.back().bytes,
             Catch::StartsWith("by,what,number,minutes_each,hours\r\nwork,Saw cuts,") &&
                 Catch::Contains("\r\nmodule,Utility rack,,,"));
  CHECK_THAT(files.front().bytes, Catch::Contains("<h1>Quote: Marsh</h1>") &&
                                      Catch::Contains("Utility rack: fitting and finishing") &&
                                      Catch::Contains("data:image/svg+xml,"));
  CHECK(files.front().bytes == quote_files(layout, plan_cuts(layout), {}).front().bytes);
}

TEST_CASE("the hours of all modules are those of all work", "[costs][quote]") {
  const Layout layout = demo();
  const auto plans = plan_cuts(layout);
  const auto modules = work_by_module(layout, plans);
  REQUIRE(modules.size() == layout.modules.size());
  double of_modules = 0.0;
  for (const ModuleWork& each : modules) of_modules += each.hours;
  double of_work = 0.0;
  for (const Work& each : work(layout, plans)) of_work += each.hours();
  CHECK(of_modules == Approx(of_work));
  // One module alone, by hand: every second is its own.
  Layout one = layout;
  one.modules = {*layout.module("galley")};
  std::erase_if(one.parts, [](const Part& part) { return part.module != "galley"; });
  std::erase_if(one.joints, [](const Joint& joint) { return !joint.id.starts_with("galley/"); });
  const auto own = work(one, {});
  double hours = 0.0;
  for (const Work& each : own) hours += each.hours();
  CHECK(work_by_module(one, {}).front().hours == Approx(hours));
  CHECK(work_by_module(one, {}).front().title == one.modules.front().title);
  CHECK(hours > 5.0);  // what the file adds for fitting alone
}

TEST_CASE("slips in prices and rates are told", "[costs]") {
  const auto [text, code] = GENERATE(table<std::string, std::string>(
      {{"[price.slotted_4]\nprice = 9\nlength = 1000\n", "price.no_such_stock"},
       {"[price.slotted_40]\nprice = 9\n", "price.amount"},
       {"[price.birch_12]\nprice = 90\nlength = 1000\n", "price.amount"},
       {"[price.birch_12]\nprice = -1\n", "input.not_above"},
       {"[price.birch_12]\nlength = 1000\n", "input.missing"},
       {"[[price]]\nprice = 9\n", "input.wrong_type"},
       {"[rates]\ncut = \"2 min\"\n", "input.missing"},
       {"[rates]\nhour = 40\n[rates.modules.nobody]\nmore = \"1 h\"\n", "rates.no_such_module"},
       {"[rates]\nhour = 40\ncut = \"2 kg\"\n", "expression.dimension"}}));
  const auto built = lay_out_text(text);
  CAPTURE(text, words(built.findings));
  CHECK(has_code(built.findings, code));
  CHECK(built.findings.size() == 1);
}

TEST_CASE("a sheet and its edge band may have one key and two prices", "[costs]") {
  const Layout layout = priced(
      "[finish.birch_12]\nkind = \"edge_band\"\nthickness = 1\nwidth = 22\nassumption = true\n"
      "[price.birch_12]\nprice = 92\n"
      "[price.band]\nof = \"birch_12\"\nprice = 20\nlength = \"50 m\"\n");
  REQUIRE(layout.prices.size() == 2);
  CHECK(layout.prices[0].finish != layout.prices[1].finish);
  const Price& band = layout.prices[layout.prices[0].finish ? 0 : 1];
  CHECK(band.money == 20);
  CHECK(band.amount == Approx(50'000));
}

TEST_CASE("prices may be told in any order and stand by key", "[costs]") {
  const Layout layout = priced(
      "[price.slotted_40]\nprice = \"9.80 EUR\"\nlength = \"1 m\"\n"
      "[price.birch_12]\nprice = 92\npack = 1\n");
  REQUIRE(layout.prices.size() == 2);
  CHECK(layout.prices[0].key == "birch_12");
  CHECK(layout.prices[1].amount == Approx(1000));
}
