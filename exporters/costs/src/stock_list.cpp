#include "costs/stock_list.hpp"

#include "base/text.hpp"
#include "catalogue/titles.hpp"
#include "cutplans/shop_cuts.hpp"
#include "tables/csv.hpp"

#include <cmath>
#include <map>
#include <optional>

namespace ribbay {

namespace {

using Rows = std::vector<std::vector<std::string>>;

constexpr double kMetre = 1e3;        // mm
constexpr double kSquareMetre = 1e6;  // mm2

struct Sum {
  std::size_t pieces = 0;
  double length = 0.0;
  double area = 0.0;
  double mass_kg = 0.0;
  std::optional<double> cost{};
};

/// What the material of a piece costs by the price of its bar or sheet.
std::optional<double> cost_of(const Layout& layout, const Part& part) {
  const Price* price = price_of(layout, part.stock.key);
  if (price == nullptr) return std::nullopt;
  const auto sheet = layout.catalogue->sheets.find(part.stock.key);
  if (sheet == layout.catalogue->sheets.end())
    return price->money * part.stock.length / price->amount;
  const double whole = price->amount * sheet->second.length * sheet->second.width;
  return price->money * part.stock.length * part.stock.width / whole;
}

void add(const Layout& layout, const Part& part, Sum& sum) {
  ++sum.pieces;
  const bool sheet = part.kind == PartKind::panel || part.kind == PartKind::folded;
  if (sheet)
    sum.area += part.stock.length * part.stock.width;
  else
    sum.length += part.stock.length;
  sum.mass_kg += part.mass_kg;
  if (const auto cost = cost_of(layout, part)) sum.cost = sum.cost.value_or(0.0) + *cost;
}

std::vector<std::string> row(const std::string& key, const std::string& title, const Sum& sum,
                             const std::string& note) {
  const auto amount = [](double value, double unit, int digits) {
    return value > 0.0 ? rounded_text(value / unit, digits) : std::string();
  };
  return {key,
          title,
          std::to_string(sum.pieces),
          amount(sum.length, kMetre, 3),
          amount(sum.area, kSquareMetre, 3),
          rounded_text(sum.mass_kg, 3),
          sum.cost ? rounded_text(*sum.cost, 2) : std::string(),
          note};
}

}  // namespace

OutputFile stock_list(const Layout& layout) {
  std::map<std::string, Sum> by_key;
  Sum all;
  for (const Part& part : layout.parts) {
    if (!is_made(part.kind)) continue;
    add(layout, part, by_key[part.stock.key]);
    add(layout, part, all);
  }
  Rows rows = {{"stock", "title", "pieces", "length_m", "area_m2", "mass_kg",
                "material_cost_" + layout.project.currency, "note"}};
  std::size_t unpriced = 0;
  for (const auto& [key, sum] : by_key) {
    unpriced += sum.cost ? 0 : 1;
    rows.push_back(row(key, layout.catalogue ? stock_title(*layout.catalogue, key) : key, sum,
                       sum.cost ? "" : "no price"));
  }
  if (!by_key.empty())
    rows.push_back(row("total", "", all,
                       unpriced == 0 ? "" : std::to_string(unpriced) + " without a price, not counted"));
  return {"shop/stock.csv", csv_text(rows), "what is cut, by stock: length, area, mass, material"};
}

}  // namespace ribbay
