#include "cutplans/cut_json.hpp"

#include "cut_proof.hpp"
#include "totals.hpp"

#include <nlohmann/json.hpp>

#include <cmath>

namespace ribbay {

namespace {

using namespace detail;
using Json = nlohmann::ordered_json;

/// Cut sizes are whole hundredths; this takes the noise of sums away.
double clean(double value) {
  return std::round(value * 1e6) / 1e6;
}

Json bar_json(const BarOrder& order, const BarLayout& layout) {
  const BarStock& stock = order.stock[layout.stock];
  Json cuts = Json::array();
  double at = order.saw.trim;
  for (const std::size_t p : layout.pieces) {
    const BarPiece& piece = order.pieces[p];
    cuts.push_back({{"label", piece.label},
                    {"length", clean(piece.length)},
                    {"from", clean(at)},
                    {"to", clean(at + piece.length)}});
    at += piece.length + order.saw.kerf;
  }
  return {{"stock", stock.label},
          {"length", clean(stock.length)},
          {"count", layout.count},
          {"pieces", std::move(cuts)},
          {"rest", clean(layout.rest)}};
}

Json part_json(const SheetOrder& order, const SheetPart& part) {
  Json json = {{"x", clean(part.x)},
               {"y", clean(part.y)},
               {"length", clean(part.length)},
               {"width", clean(part.width)}};
  if (part.piece) {
    json["label"] = order.pieces[*part.piece].label;
    json["turned"] = part.turned;
  }
  return json;
}

Json cut_json_of(const SheetCut& cut) {
  Json json = {{"part", cut.part},          {"direction", cut.rip ? "along" : "across"},
               {"fence", clean(cut.fence)}, {"turned", cut.turned},
               {"stage", cut.stage},        {"first", cut.first}};
  json["rest"] = cut.rest ? Json(*cut.rest) : Json();
  return json;
}

Json sheet_json(const SheetOrder& order, const SheetLayout& layout) {
  const SheetStock& stock = order.stock[layout.stock];
  Json parts = Json::array();
  Json cuts = Json::array();
  for (const SheetPart& part : layout.parts) parts.push_back(part_json(order, part));
  for (const SheetCut& cut : layout.cuts) cuts.push_back(cut_json_of(cut));
  return {{"stock", stock.label}, {"length", clean(stock.length)}, {"width", clean(stock.width)},
          {"count", 1},           {"cuts", std::move(cuts)},       {"parts", std::move(parts)}};
}

Json proof_json(const BarsProof& proof) {
  Json pieces = Json::array();
  for (const auto& piece : proof.pieces) {
    pieces.push_back({{"size", piece.size}, {"count", piece.count}});
  }
  Json stocks = Json::array();
  for (const auto& stock : proof.stock) {
    stocks.push_back({{"capacity", stock.capacity},
                      {"cost", stock.cost},
                      {"count", stock.limited ? Json(stock.count) : Json()}});
  }
  return {{"unit", "0.01 mm"},
          {"pieces", std::move(pieces)},
          {"stock", std::move(stocks)},
          {"cost_bound", proof.cost_bound},
          {"worths", proof.worths}};
}

}  // namespace

namespace {

/// Of each stock, as the proof lists them.
std::vector<int> bars_taken(const BarsPlan& plan) {
  std::vector<int> taken(plan.proof.stock.size(), 0);
  for (const BarLayout& layout : plan.layouts) taken[layout.stock] += layout.count;
  return taken;
}

}  // namespace

namespace detail {

std::string proofs_json(const std::vector<StockPlan>& plans) {
  Json json = {{"plans", Json::array()}};
  for (const StockPlan& plan : plans) {
    if (plan.plans.bars.empty()) continue;
    const BarsPlan& bars = plan.plans.bars.front();
    json["plans"].push_back({{"stock", plan.key},
                             {"bars", bars.bars},
                             {"taken", bars_taken(bars)},
                             {"proven", bars.proven},
                             {"proof", proof_json(bars.proof)}});
  }
  return json.dump(1) + "\n";
}

}  // namespace detail

std::string cut_json(const CutOrders& orders, const CutPlans& plans) {
  const Totals totals = totals_of(orders, plans);
  const bool sheets = of_sheets(orders);
  Json json = {{"pieces", totals.pieces}};
  json[sheets ? "sheets" : "bars"] = totals.used;
  json["bound"] = clean(totals.bound);
  if (totals.bound_of != "cost") json["bound"] = static_cast<int>(std::lround(totals.bound));
  json["bound_of"] = totals.bound_of;
  json["proven"] = totals.proven;
  json["cost"] = clean(totals.cost);
  json["cost_bound"] = clean(totals.cost_bound);
  json["cost_unit"] = orders.cost_unit;
  json["waste"] = clean(totals.waste);
  json["waste_unit"] = sheets ? "mm2" : "mm";
  json["plans"] = Json::array();
  for (std::size_t o = 0; o < plans.bars.size(); ++o) {
    for (const BarLayout& layout : plans.bars[o].layouts) {
      json["plans"].push_back(bar_json(orders.bars[o], layout));
    }
  }
  for (std::size_t o = 0; o < plans.sheets.size(); ++o) {
    for (const SheetLayout& layout : plans.sheets[o].layouts) {
      json["plans"].push_back(sheet_json(orders.sheets[o], layout));
    }
  }
  if (!sheets) {
    json["proofs"] = Json::array();
    for (const BarsPlan& plan : plans.bars) json["proofs"].push_back(proof_json(plan.proof));
  }
  return json.dump(2) + "\n";
}

}  // namespace ribbay
