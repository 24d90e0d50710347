#include "cutplans/cut_text.hpp"

#include "base/text.hpp"
#include "base/text_table.hpp"
#include "sheet_words.hpp"
#include "totals.hpp"

#include <sstream>

namespace ribbay {

namespace {

using namespace detail;
using Row = std::vector<std::string>;

std::string unit_word(LengthStyle show) {
  return show == LengthStyle::inches ? "in" : "mm";
}

// Bars ------------------------------------------------------------------------------------------

std::string bar_table(const BarOrder& order, const BarLayout& layout, LengthStyle show) {
  std::vector<Row> rows = {{"cut", "piece", "length", "from", "to"}};
  double at = order.saw.trim;
  int number = 0;
  for (const std::size_t p : layout.pieces) {
    const BarPiece& piece = order.pieces[p];
    rows.push_back({std::to_string(++number), piece.label, length_text(piece.length, show),
                    length_text(at, show), length_text(at + piece.length, show)});
    at += piece.length + order.saw.kerf;
  }
  return lined_up(rows, {.indent = "  ", .right = {true, false, true, true, true}});
}

std::string bars_of(const BarOrder& order, const BarsPlan& plan, LengthStyle show, int& number) {
  std::ostringstream page;
  for (const BarLayout& layout : plan.layouts) {
    const BarStock& stock = order.stock[layout.stock];
    page << (layout.count > 1 ? "bars " : "bar ") << number + 1;
    if (layout.count > 1) page << " to " << number + layout.count;
    number += layout.count;
    page << ": " << stock.label << ", " << value_text(stock.length, Unit::mm, show) << ", rest "
         << value_text(layout.rest, Unit::mm, show) << "\n"
         << bar_table(order, layout, show) << "\n";
  }
  return page.str();
}

// Sheets ----------------------------------------------------------------------------------------

std::string sheet_table(const SheetOrder& order, const SheetLayout& layout, LengthStyle show) {
  std::vector<Row> rows = {{"cut", "stage", "of", "", "size", "fence", "gives", "leaves"}};
  int number = 0;
  for (const SheetCut& cut : layout.cuts) {
    const auto words = [&](std::size_t p) { return part_words(order, layout, p, show); };
    rows.push_back({std::to_string(++number), cut.stage == 0 ? "trim" : std::to_string(cut.stage),
                    words(cut.part), cut.rip ? "along" : "across",
                    size_words(layout.parts[cut.part], show), length_text(cut.fence, show),
                    words(cut.first), cut.rest ? words(*cut.rest) : "nothing"});
  }
  return lined_up(rows,
                  {.indent = "  ", .right = {true, true, false, false, false, true, false, false}});
}

std::string sheets_of(const SheetOrder& order, const SheetsPlan& plan, LengthStyle show,
                      int& number) {
  std::ostringstream page;
  for (const SheetLayout& layout : plan.layouts) {
    const SheetStock& stock = order.stock[layout.stock];
    page << "sheet " << ++number << ": " << stock.label << ", "
         << size_words(layout.parts.front(), show) << " " << unit_word(show) << "\n"
         << sheet_table(order, layout, show) << "\n";
  }
  return page.str();
}

// Totals ----------------------------------------------------------------------------------------

std::string money(double value, const std::string& unit) {
  return rounded_text(value, 2) + (unit.empty() ? "" : " " + unit);
}

std::string summary(const CutOrders& orders, const Totals& totals) {
  std::string what = of_sheets(orders) ? "sheet" : "bar";
  if (totals.used != 1) what += 's';
  const bool by_cost = totals.bound_of == "cost";
  std::string text = std::to_string(totals.used) + " " + what;
  text += " for " + std::to_string(totals.pieces) + " pieces";
  // Without prices what counts is how much is taken.
  const bool priced = orders.cost_unit != "m" && orders.cost_unit != "m2";
  text += (priced ? ", cost " : ", takes ") + money(totals.cost, orders.cost_unit);
  text += ", waste " + rounded_text(100.0 * totals.waste / totals.bought, 1) + " %\n";
  const std::string bound =
      by_cost ? money(totals.bound, orders.cost_unit) : rounded_text(totals.bound, 0);
  if (totals.proven) return text + std::to_string(totals.used) + " " + what + ", proven minimal\n";
  const double found = by_cost ? totals.cost : totals.used;
  const double gap = totals.bound > 0.0 ? 100.0 * (found - totals.bound) / totals.bound : 100.0;
  return text + "bound " + bound + ", gap " + rounded_text(gap, 1) +
         " %: not proven that it cannot be done for less\n";
}

}  // namespace

std::string cut_text(const CutOrders& orders, const CutPlans& plans, LengthStyle show) {
  std::string page;
  int number = 0;
  for (std::size_t o = 0; o < plans.bars.size(); ++o) {
    page += bars_of(orders.bars[o], plans.bars[o], show, number);
  }
  for (std::size_t o = 0; o < plans.sheets.size(); ++o) {
    page += sheets_of(orders.sheets[o], plans.sheets[o], show, number);
  }
  return page + summary(orders, totals_of(orders, plans));
}

}  // namespace ribbay
