#include "cutplans/shop_cuts.hpp"

#include "base/tolerance.hpp"
#include "catalogue/titles.hpp"
#include "shared_rectangles.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace ribbay {

namespace {

constexpr double kMetre = 1000.0;

/// What a bar or sheet counts: metres, square metres, told to a hundredth and never nothing.
double worth(double length, double width) {
  const double size = length / kMetre * (width > 0.0 ? width / kMetre : 1.0);
  return std::max(1.0, std::round(size * 100.0)) / 100.0;
}

/// What a whole bar or sheet costs where there is a price, else what it counts.
double price_or_worth(const Layout& layout, const std::string& key, double length, double width) {
  const Price* price = price_of(layout, key);
  if (price == nullptr) return worth(length, width);
  const double money = width > 0.0 ? price->money / price->amount
                                   : price->money * length / price->amount;
  return std::max(1.0, std::round(money * 100.0)) / 100.0;
}

std::string cost_unit(const Layout& layout, const std::string& key, const char* otherwise) {
  return price_of(layout, key) != nullptr ? layout.project.currency : otherwise;
}

template <class Piece>
Piece piece_of(const Layout& layout, const PartType& type) {
  const Part& part = layout.parts[type.parts.front()];
  Piece piece;
  piece.label = type.mark;
  piece.length = part.stock.length;
  piece.count = static_cast<int>(type.parts.size());
  if constexpr (requires { piece.width; }) {
    piece.width = part.stock.width;
    piece.grain = part.stock.grain;
  }
  return piece;
}

using TypesByStock = std::map<std::string, std::vector<const PartType*>>;

TypesByStock types_by_stock(const Layout& layout, const std::vector<PartType>& types, bool bars) {
  TypesByStock found;
  for (const PartType& type : types) {
    const Part& part = layout.parts[type.parts.front()];
    const bool bar = part.kind == PartKind::member || part.kind == PartKind::plank;
    if (bar == bars) found[part.stock.key].push_back(&type);
  }
  return found;
}

std::vector<double> lengths_of(const Catalogue& catalogue, const std::string& key) {
  if (const auto profile = catalogue.profiles.find(key); profile != catalogue.profiles.end())
    return profile->second.stock_lengths;
  const auto plank = catalogue.planks.find(key);
  return plank != catalogue.planks.end() ? plank->second.stock_lengths : std::vector<double>{};
}

bool has_cut(const Part& part, CutRole role) {
  const std::vector<Cut>& cuts = part.shape->prisms.front().prism.cuts;
  return std::ranges::find(cuts, role, &Cut::role) != cuts.end();
}

/// Planks that are narrower than they are bought, in the order of their marks.
std::vector<Rip> rips_of(const Layout& layout, const std::string& key,
                         const std::vector<const PartType*>& types) {
  const auto plank = layout.catalogue->planks.find(key);
  std::vector<Rip> rips;
  if (plank == layout.catalogue->planks.end()) return rips;
  for (const PartType* type : types) {
    const Part& part = layout.parts[type->parts.front()];
    if (part.stock.width > plank->second.width - kSame) continue;
    rips.push_back({type->mark, part.stock.width, !has_cut(part, CutRole::groove),
                    !has_cut(part, CutRole::rebate)});
  }
  return rips;
}

StockPlan bar_plan(const Layout& layout, const std::string& key,
                   const std::vector<const PartType*>& types) {
  StockPlan made{.key = key, .title = stock_title(*layout.catalogue, key)};
  BarOrder order;
  order.saw = {layout.sawing.bar_kerf, layout.sawing.bar_trim, layout.sawing.bar_clamp};
  for (const PartType* type : types) order.pieces.push_back(piece_of<BarPiece>(layout, *type));
  for (const double length : lengths_of(*layout.catalogue, key))
    order.stock.push_back({key, length, {}, price_or_worth(layout, key, length, 0.0)});
  for (const Offcut& offcut : layout.offcuts) {
    if (offcut.stock == key)
      order.stock.push_back({"offcut " + offcut.name, offcut.length, offcut.count, 0.0});
  }
  if (order.stock.empty()) {
    Finding finding;
    finding.code = "cut.no_lengths";
    finding.severity = Severity::note;
    finding.subjects = {key};
    made.findings.push_back(std::move(finding));
  } else if (auto plan = plan_bars(order)) {
    made.plans.bars.push_back(std::move(*plan));
  } else {
    made.findings = plan.error();
  }
  made.rips = rips_of(layout, key, types);
  made.orders.cost_unit = cost_unit(layout, key, "m");
  made.orders.bars.push_back(std::move(order));
  return made;
}

StockPlan sheet_plan(const Layout& layout, const std::string& key,
                     const std::vector<const PartType*>& types) {
  StockPlan made{.key = key, .title = stock_title(*layout.catalogue, key), .sheet = true};
  const Sheet& sheet = layout.catalogue->sheets.find(key)->second;
  SheetOrder order;
  order.saw = {layout.sawing.sheet_kerf, layout.sawing.sheet_trim, layout.sawing.three_stages};
  for (const PartType* type : types) order.pieces.push_back(piece_of<SheetPiece>(layout, *type));
  order.stock.push_back(
      {key, sheet.length, sheet.width, {}, price_or_worth(layout, key, sheet.length, sheet.width)});
  for (const Offcut& offcut : layout.offcuts) {
    if (offcut.stock == key)
      order.stock.push_back(
          {"offcut " + offcut.name, offcut.length, offcut.width, offcut.count, 0.0});
  }
  if (auto plan = plan_sheets(order)) {
    made.plans.sheets.push_back(std::move(*plan));
  } else {
    made.findings = plan.error();
  }
  made.orders.cost_unit = cost_unit(layout, key, "m2");
  made.orders.sheets.push_back(std::move(order));
  detail::share_rectangles(layout, types, made);
  return made;
}

/// Findings of plans speak of marks: M3 of slotted_40.
void name_stock(StockPlan& plan) {
  for (Finding& finding : plan.findings) finding.with("stock", plan.key);
}

}  // namespace

const Price* price_of(const Layout& layout, const std::string& key, bool finish) {
  const auto found = std::ranges::find_if(layout.prices, [&](const Price& price) {
    return price.key == key && price.finish == finish;
  });
  return found == layout.prices.end() ? nullptr : &*found;
}

std::vector<StockPlan> plan_cuts(const Layout& layout) {
  const std::vector<PartType> types = part_types(layout);
  std::vector<StockPlan> plans;
  for (const auto& [key, of_key] : types_by_stock(layout, types, true))
    plans.push_back(bar_plan(layout, key, of_key));
  for (const auto& [key, of_key] : types_by_stock(layout, types, false))
    plans.push_back(sheet_plan(layout, key, of_key));
  for (StockPlan& plan : plans) name_stock(plan);
  return plans;
}

}  // namespace ribbay
