#include "cut_input.hpp"

#include "base/text.hpp"
#include "cut_rows.hpp"

#include <algorithm>
#include <cmath>
#include <set>

namespace ribbay::detail {

namespace {

constexpr double kMetre = 1000.0;

bool can_be_bought(const StockRow& row) {
  return !row.count.has_value();
}

/// What a bar or sheet counts when no prices are told: metres, square metres.
double size_of(const StockRow& row) {
  const double width = row.width > 0.0 ? row.width / kMetre : 1.0;
  return row.length / kMetre * width;
}

/// Plans reckon in hundredths; what costs something stays above nothing.
double to_hundredths(double price) {
  return std::max(1.0, std::round(price * 100.0)) / 100.0;
}

bool has_price(const StockRow& row) {
  return row.price.has_value();
}

Findings set_prices(std::vector<StockRow>& stock, bool any_price) {
  const bool any_bought = std::ranges::any_of(stock, can_be_bought);
  Findings findings;
  for (StockRow& row : stock) {
    const bool free = row.price.value_or(0.0) <= 0.0;
    if (any_price && can_be_bought(row) && free) {
      Finding finding = input_error("cut.price_missing", row.place);
      finding.subjects = {row.name};
      findings.push_back(std::move(finding));
    } else if (!any_price && (can_be_bought(row) || !any_bought)) {
      row.price = size_of(row);
    }
    if (row.price.value_or(0.0) > 0.0) row.price = to_hundredths(*row.price);
  }
  return findings;
}

Findings unknown_stock(const CutRows& rows) {
  std::set<std::string> known;
  for (const StockRow& row : rows.stock) known.insert(row.name);
  const std::vector<std::string> names(known.begin(), known.end());
  Findings findings;
  for (const PieceRow& piece : rows.pieces) {
    if (piece.stock.empty() || known.contains(piece.stock)) continue;
    Finding finding = input_error("cut.unknown_stock", piece.place);
    finding.subjects = {piece.label};
    finding.with("found", piece.stock).with("known", join(names, ", "));
    const std::string near = nearest(piece.stock, names);
    if (!near.empty()) finding.with("nearest", near);
    findings.push_back(std::move(finding));
  }
  return findings;
}

Finding unused(const std::string& option, const std::string& kind) {
  Finding finding = input_error("cut.option_unused", {option, 1, 1, {}});
  finding.subjects = {option};
  return std::move(finding).with("kind", kind);
}

bool may_be_cut_from(const std::string& wanted, const StockRow& row) {
  return wanted.empty() || wanted == row.name;
}

BarOrder bar_order(const CutRows& rows, const std::string& stock) {
  BarOrder order;
  order.saw = {rows.saw.kerf, rows.saw.trim, rows.saw.clamp};
  for (const PieceRow& piece : rows.pieces) {
    if (piece.stock == stock) {
      order.pieces.push_back({piece.label, piece.length, piece.count, piece.place});
    }
  }
  for (const StockRow& row : rows.stock) {
    if (may_be_cut_from(stock, row)) {
      order.stock.push_back({row.name, row.length, row.count, row.price.value_or(0.0)});
    }
  }
  return order;
}

SheetOrder sheet_order(const CutRows& rows, const std::string& stock, bool three_stages) {
  SheetOrder order;
  order.saw = {rows.saw.kerf, rows.saw.trim, three_stages};
  for (const PieceRow& piece : rows.pieces) {
    if (piece.stock == stock) {
      order.pieces.push_back(
          {piece.label, piece.length, piece.width, piece.count, piece.grain, piece.place});
    }
  }
  for (const StockRow& row : rows.stock) {
    if (may_be_cut_from(stock, row)) {
      order.stock.push_back({row.name, row.length, row.width, row.count, row.price.value_or(0.0)});
    }
  }
  return order;
}

}  // namespace

Result<CutOrders> read_cut_orders(const Command& command) {
  Result<CutRows> rows =
      read_cut_rows(command.file, command.stock, {command.kerf, command.trim, command.clamp});
  if (!rows) return fail(rows.error());
  Findings findings = unknown_stock(*rows);
  const bool any_price = std::ranges::any_of(rows->stock, has_price);
  const Findings prices = set_prices(rows->stock, any_price);
  findings.insert(findings.end(), prices.begin(), prices.end());
  const bool sheets = rows->pieces.front().width > 0.0;
  if (sheets && !command.clamp.empty()) findings.push_back(unused("--clamp", "sheets"));
  if (!sheets && command.three_stages) findings.push_back(unused("--three-stages", "bars"));
  if (!findings.empty()) return fail(std::move(findings));

  std::set<std::string> stocks;
  for (const PieceRow& piece : rows->pieces) stocks.insert(piece.stock);
  CutOrders orders;
  orders.cost_unit = any_price ? rows->currency : sheets ? "m2" : "m";
  for (const std::string& stock : stocks) {
    if (sheets) {
      orders.sheets.push_back(sheet_order(*rows, stock, command.three_stages));
    } else {
      orders.bars.push_back(bar_order(*rows, stock));
    }
  }
  return orders;
}

}  // namespace ribbay::detail
