#include "costs/purchase.hpp"

#include "base/text.hpp"
#include "base/tolerance.hpp"
#include "catalogue/titles.hpp"
#include "money.hpp"
#include "structure/turned_on.hpp"
#include "tables/csv.hpp"
#include "tables/finish_amounts.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <map>

namespace ribbay {

namespace {

using detail::in_hundredths;

constexpr double kMetre = 1e3;        // mm
constexpr double kSquareMetre = 1e6;  // mm2
constexpr double kLitre = 1e6;        // mm3

/// Whole packages for an amount; a rounding error is no package.
double packages_for(double amount, double holds) {
  return std::ceil(amount / holds - kSame);
}

void add_bars(const Layout& layout, const StockPlan& plan, std::vector<Purchase>& list) {
  const BarOrder& order = plan.orders.bars.front();
  std::map<double, int> by_length;
  for (const BarLayout& cut : plan.plans.bars.front().layouts) {
    const BarStock& stock = order.stock[cut.stock];
    if (!stock.count) by_length[stock.length] += cut.count;
  }
  const Price* price = price_of(layout, plan.key);
  for (const auto& [length, bars] : by_length) {
    Purchase bought{.key = plan.key,
                    .title = plan.title,
                    .kind = "bar",
                    .needed = static_cast<double>(bars),
                    .spare = 0.0,
                    .unit = "bar of " + value_text(length, Unit::mm, layout.project.show),
                    .packages = bars,
                    .package_holds = 1.0,
                    .package_price = {}};
    if (price != nullptr)
      bought.package_price = in_hundredths(price->money * length / price->amount);
    list.push_back(std::move(bought));
  }
}

void add_sheets(const Layout& layout, const StockPlan& plan, std::vector<Purchase>& list) {
  const SheetOrder& order = plan.orders.sheets.front();
  const auto sheets =
      std::ranges::count_if(plan.plans.sheets.front().layouts,
                            [&](const SheetLayout& cut) { return !order.stock[cut.stock].count; });
  if (sheets == 0) return;
  const Price* price = price_of(layout, plan.key);
  const double pack = price == nullptr ? 1.0 : price->amount;
  list.push_back({.key = plan.key,
                  .title = plan.title,
                  .kind = "sheet",
                  .needed = static_cast<double>(sheets),
                  .spare = price == nullptr ? 0.0 : static_cast<double>(price->spare),
                  .unit = "sheet",
                  .packages = packages_for(
                      static_cast<double>(sheets + (price == nullptr ? 0 : price->spare)), pack),
                  .package_holds = pack,
                  .package_price = price == nullptr ? std::nullopt : std::optional(price->money)});
}

/// What no plan could be made for is bought by the metre.
void add_unplanned(const Layout& layout, const StockPlan& plan, std::vector<Purchase>& list) {
  double length = 0.0;
  for (const BarOrder& order : plan.orders.bars) {
    for (const BarPiece& piece : order.pieces) length += piece.length * piece.count;
  }
  if (length <= 0.0) return;
  Purchase bought{.key = plan.key,
                  .title = plan.title,
                  .kind = "bar",
                  .needed = length / kMetre,
                  .spare = 0.0,
                  .unit = "m",
                  .packages = {},
                  .package_holds = {},
                  .package_price = {}};
  if (const Price* price = price_of(layout, plan.key)) {
    bought.package_holds = price->amount / kMetre;
    bought.packages = packages_for(bought.needed, *bought.package_holds);
    bought.package_price = price->money;
  }
  list.push_back(std::move(bought));
}

double canonical(FinishKind kind) {
  return kind == FinishKind::coat ? kLitre : kind == FinishKind::film ? kSquareMetre : kMetre;
}

void add_finishes(const Layout& layout, std::vector<Purchase>& list) {
  for (const FinishAmount& finish : finish_amounts(layout)) {
    Purchase bought{.key = finish.key,
                    .title = finish.title,
                    .kind = "finish",
                    .needed = finish.amount,
                    .spare = 0.0,
                    .unit = finish.unit,
                    .packages = {},
                    .package_holds = {},
                    .package_price = {}};
    if (const Price* price = price_of(layout, finish.key, true)) {
      bought.package_holds = price->amount / canonical(finish.kind);
      bought.packages = packages_for(finish.amount, *bought.package_holds);
      bought.package_price = price->money;
    }
    list.push_back(std::move(bought));
  }
}

void add_pieces(const Layout& layout, PartKind kind, std::vector<Purchase>& list) {
  std::map<std::string, std::pair<const Part*, int>> counts;
  for (const Part& part : layout.parts) {
    if (part.kind != kind || !is_bought(part)) continue;
    auto& [first, count] = counts[part.stock.key];
    if (first == nullptr) first = &part;
    ++count;
  }
  for (const auto& [key, bought] : counts) {
    const auto& [first, count] = bought;
    const std::string title = stock_title(*layout.catalogue, key);
    const Price* price = price_of(layout, key);
    const double pack = price == nullptr ? 1.0 : price->amount;
    const int spare = price == nullptr ? 0 : price->spare;
    list.push_back(
        {.key = key,
         .title = title == key ? first->title : title,
         .kind = std::string(name(kind)),
         .needed = static_cast<double>(count),
         .spare = static_cast<double>(spare),
         .unit = "piece",
         .packages = packages_for(static_cast<double>(count + spare), pack),
         .package_holds = pack,
         .package_price = price == nullptr ? std::nullopt : std::optional(price->money)});
  }
}

/// Of no catalogue: without packages and prices.
Purchase unlisted(const std::string& title, const std::string& kind, double needed,
                  const std::string& unit) {
  return {.key = {},
          .title = title,
          .kind = kind,
          .needed = needed,
          .spare = 0.0,
          .unit = unit,
          .packages = {},
          .package_holds = {},
          .package_price = {}};
}

/// What goes onto bolts, which no part of the layout shows.
void add_turned_on(const Layout& layout, std::vector<Purchase>& list) {
  std::map<std::string, int> counts;  // by title
  for (const TurnedOn& on : turned_on(layout)) counts[on.title] += on.count;
  for (const auto& [title, count] : counts)
    list.push_back(unlisted(title, "hardware", count, "piece"));
}

/// By the joint: how much one takes hangs on the glue, and no catalogue has it.
void add_glue(const Layout& layout, std::vector<Purchase>& list) {
  const auto joints = std::ranges::count_if(layout.joints, &Joint::glued);
  if (joints > 0)
    list.push_back(
        unlisted("Wood glue, waterproof", "glue", static_cast<double>(joints), "glued joint"));
}

std::string number_or_empty(const std::optional<double>& number) {
  return number ? rounded_text(*number, 3) : std::string();
}

/// With two digits behind the point.
std::string hundredths_text(double money) {
  char digits[64];
  const auto end = std::to_chars(digits, digits + sizeof digits, in_hundredths(money),
                                 std::chars_format::fixed, 2);
  return {digits, end.ptr};
}

std::string money_or_empty(const std::optional<double>& money) {
  return money ? hundredths_text(*money) : std::string();
}

}  // namespace

std::optional<double> Purchase::cost() const {
  if (!packages || !package_price) return std::nullopt;
  return in_hundredths(*packages * *package_price);
}

std::vector<Purchase> purchases(const Layout& layout, const std::vector<StockPlan>& plans) {
  std::vector<Purchase> list;
  for (const StockPlan& plan : plans) {
    if (!plan.plans.bars.empty())
      add_bars(layout, plan, list);
    else if (!plan.plans.sheets.empty())
      add_sheets(layout, plan, list);
    else
      add_unplanned(layout, plan, list);
  }
  add_finishes(layout, list);
  add_pieces(layout, PartKind::hardware, list);
  add_turned_on(layout, list);
  add_glue(layout, list);
  add_pieces(layout, PartKind::equipment, list);
  return list;
}

PurchaseTotal total(const std::vector<Purchase>& list) {
  PurchaseTotal sum;
  for (const Purchase& bought : list) {
    if (const auto cost = bought.cost())
      sum.cost += *cost;
    else
      ++sum.unpriced;
  }
  return sum;
}

OutputFile purchase_list(const Layout& layout, const std::vector<Purchase>& list) {
  std::vector<std::vector<std::string>> rows{
      {"kind", "stock", "title", "needed", "spare", "unit", "packages", "package_holds",
       "package_price_" + layout.project.currency, "cost_" + layout.project.currency}};
  for (const Purchase& bought : list) {
    rows.push_back({bought.kind, bought.key, bought.title, rounded_text(bought.needed, 3),
                    rounded_text(bought.spare, 0), bought.unit, number_or_empty(bought.packages),
                    number_or_empty(bought.package_holds), money_or_empty(bought.package_price),
                    money_or_empty(bought.cost())});
  }
  const PurchaseTotal sum = total(list);
  rows.push_back({"total", "",
                  sum.unpriced == 0
                      ? "everything has a price"
                      : std::to_string(sum.unpriced) + " without a price, not counted",
                  "", "", "", "", "", "", hundredths_text(sum.cost)});
  return {"shop/purchase.csv", csv_text(rows), "everything to buy, in whole packages"};
}

std::string money_text(double money, const std::string& currency) {
  return hundredths_text(money) + " " + currency;
}

}  // namespace ribbay
