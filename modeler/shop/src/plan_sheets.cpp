#include "base/tolerance.hpp"
#include "sawing.hpp"
#include "sheet_bound.hpp"
#include "sheet_search.hpp"
#include "shop/sheets.hpp"
#include "ticks.hpp"

#include <algorithm>

namespace ribbay {

namespace {

using namespace detail;

/// About two seconds of one core; a few for very many pieces.
constexpr std::int64_t kEffort = 1'000'000'000;
constexpr std::int64_t kEffortForEach = 50'000;
constexpr std::int64_t kEffortForBound = 2'000'000'000;

std::int64_t pieces_in(const SheetOrder& order) {
  std::int64_t count = 0;
  for (const SheetPiece& piece : order.pieces) count += piece.count;
  return count;
}

Finding about(std::string code, const SheetPiece& piece) {
  Finding finding;
  finding.code = std::move(code);
  finding.subjects = {piece.label};
  finding.place = piece.place;
  return finding;
}

Findings too_large(const SheetOrder& order, const SheetNumbers& numbers) {
  std::vector<std::size_t> hopeless;
  for (const SheetItem& item : numbers.items) {
    const bool fine = std::ranges::any_of(numbers.kinds, [&](const SheetKind& kind) {
      return fits(item, kind, false) || fits(item, kind, true);
    });
    if (!fine) hopeless.insert(hopeless.end(), item.pieces.begin(), item.pieces.end());
  }
  std::ranges::sort(hopeless);
  hopeless.erase(std::ranges::unique(hopeless).begin(), hopeless.end());
  Findings findings;
  for (const std::size_t p : hopeless) {
    const SheetPiece& piece = order.pieces[p];
    findings.push_back(about("cut.too_large", piece)
                           .with("length", piece.length, Unit::mm)
                           .with("width", piece.width, Unit::mm));
  }
  return findings;
}

Finding not_enough(const SheetOrder& order, const SheetNumbers& numbers, bool certain) {
  const auto area = [](std::int64_t length, std::int64_t width) {
    return static_cast<double>(length) * kCut * static_cast<double>(width) * kCut;
  };
  double wanted = 0.0;
  double there = 0.0;
  for (const SheetItem& item : numbers.items) {
    wanted += area(item.length, item.width) * static_cast<double>(item.pieces.size());
  }
  for (const SheetKind& kind : numbers.kinds) {
    there += area(kind.length, kind.width) * kind.available;
  }
  return about(certain ? "cut.not_enough" : "cut.no_plan", order.pieces.front())
      .with("wanted", wanted, Unit::mm2)
      .with("there", there, Unit::mm2);
}

double pieces_area(const SheetOrder& order) {
  double area = 0.0;
  for (const SheetPiece& piece : order.pieces) area += piece.length * piece.width * piece.count;
  return area;
}

/// No plan costs more: a sheet for each piece.
std::int64_t most_cost(const SheetNumbers& numbers) {
  std::int64_t cost = 0;
  for (const SheetKind& kind : numbers.kinds) cost += kind.cost * kind.available;
  return cost;
}

void lay_out(SheetsPlan& plan, const SheetOrder& order, const SheetNumbers& numbers,
             const Filled& filled) {
  std::vector<std::size_t> next(numbers.items.size(), 0);
  const auto next_piece = [&](std::size_t item) {
    return numbers.items[item].pieces[next[item]++];
  };
  for (const CutTree& tree : filled.sheets) {
    const SheetStock& stock = order.stock[tree.kind()];
    plan.layouts.push_back(sawn(tree, numbers, stock, next_piece));
    plan.cost += static_cast<double>(hundredths(stock.price)) / 100.0;
    plan.waste += stock.length * stock.width;
  }
  plan.waste -= pieces_area(order);
}

}  // namespace

Result<SheetsPlan> plan_sheets(const SheetOrder& order) {
  SheetsPlan plan;
  plan.proven = true;
  if (order.pieces.empty()) return plan;
  if (pieces_in(order) > kMostSheetPieces) {
    return fail(
        about("cut.too_many", order.pieces.front()).with("limit", kMostSheetPieces, Unit::count));
  }
  const SheetNumbers numbers = in_whole_numbers(order);
  if (Findings findings = too_large(order, numbers); !findings.empty()) return fail(findings);

  Effort effort_for_bound{0, kEffortForBound};
  const std::int64_t bound = sheet_cost_bound(numbers, most_cost(numbers), effort_for_bound);
  if (bound == kImpossible) return fail(not_enough(order, numbers, true));
  Effort effort{0, std::max(kEffort, pieces_in(order) * kEffortForEach)};
  const auto filled = search_sheets(numbers, bound, effort);
  if (!filled) return fail(not_enough(order, numbers, false));

  lay_out(plan, order, numbers, *filled);
  plan.proven = filled->cost <= bound;
  plan.cost_bound =
      plan.proven ? plan.cost : static_cast<double>(bound * numbers.cost_unit) / 100.0;
  return plan;
}

}  // namespace ribbay
