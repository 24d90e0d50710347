#pragma once

#include "shop/sheets.hpp"

#include <cmath>
#include <string>
#include <vector>

/// Saws a plan again on bare rectangles.
namespace ribbay::testing {

struct Wood {
  double x = 0.0, y = 0.0, length = 0.0, width = 0.0;
  bool whole = true;  ///< lies on the saw, not cut up yet
};

inline bool same(double a, double b) {
  return std::abs(a - b) < 1e-6;
}

/// What goes wrong when the cuts of one sheet are sawn, or an empty text. `wood` gets the parts.
inline std::string saw(const SheetOrder& order, const SheetLayout& layout,
                       std::vector<Wood>& wood) {
  const SheetStock& stock = order.stock[layout.stock];
  wood = {{0.0, 0.0, stock.length, stock.width}};
  int stage = 0;
  for (const SheetCut& cut : layout.cuts) {
    if (cut.part >= wood.size() || !wood[cut.part].whole) return "a part that is not there is cut";
    if (cut.stage < stage) return "stages are mixed up";
    stage = cut.stage;
    Wood& part = wood[cut.part];
    part.whole = false;
    const double size = cut.rip ? part.width : part.length;
    if (cut.fence < -1e-9 || cut.fence > size - 1e-9) return "the fence stands beside the part";
    Wood first = part;
    Wood rest = part;
    first.whole = rest.whole = true;
    const double behind = cut.fence + order.saw.kerf;
    (cut.rip ? first.width : first.length) = cut.fence;
    (cut.rip ? rest.width : rest.length) -= behind;
    if (cut.turned)
      (cut.rip ? first.y : first.x) += size - cut.fence;
    else
      (cut.rip ? rest.y : rest.x) += behind;
    if (cut.first != wood.size()) return "the first part has another number";
    wood.push_back(first);
    if (size - cut.fence < 0.1 - 1e-6) return "a cut of less than a saw can do";
    const bool remains = size - behind > 1e-6;
    if (remains != cut.rest.has_value()) return "a rest of nothing";
    if (remains && *cut.rest != wood.size()) return "the rest has another number";
    if (remains) wood.push_back(rest);
  }
  return wood.size() == layout.parts.size() ? "" : "parts that nobody sawed";
}

inline std::string fault_in_parts(const SheetOrder& order, const SheetLayout& layout,
                                  const std::vector<Wood>& wood, std::vector<int>& made) {
  const SheetStock& stock = order.stock[layout.stock];
  for (std::size_t p = 0; p < wood.size(); ++p) {
    const SheetPart& part = layout.parts[p];
    const Wood& w = wood[p];
    if (!same(part.x, w.x) || !same(part.y, w.y) || !same(part.length, w.length) ||
        !same(part.width, w.width))
      return "a part has another size than was sawn";
    if (!part.piece) continue;
    if (!w.whole) return "a piece was cut up";
    const SheetPiece& piece = order.pieces[*part.piece];
    if (part.turned && piece.grain) return "grain runs the wrong way";
    // A tenth of a mm too large is no size that a saw could mend.
    const auto is_size = [](double sawn, double asked) {
      return sawn > asked - 1e-6 && sawn < asked + 0.1 + 1e-6;
    };
    if (!is_size(w.length, part.turned ? piece.width : piece.length) ||
        !is_size(w.width, part.turned ? piece.length : piece.width))
      return "a piece has the wrong size";
    const double trim = order.saw.trim - 1e-6;
    if (w.x < trim || w.y < trim || w.x + w.length > stock.length - trim ||
        w.y + w.width > stock.width - trim)
      return "a piece lies in the trim";
    ++made[*part.piece];
  }
  return "";
}

/// Directions change at most twice, and cuts of one stage have one direction in each part.
inline bool in_three_stages(const SheetLayout& layout) {
  for (const SheetCut& cut : layout.cuts) {
    if (cut.stage > 3) return false;
    for (const SheetCut& next : layout.cuts) {
      const bool child = cut.stage > 0 && (next.part == cut.first || next.part == cut.rest);
      if (child && (next.stage == cut.stage) != (next.rip == cut.rip)) return false;
      if (child && next.stage > cut.stage + 1) return false;
    }
  }
  return true;
}

inline std::string fault_in_sheets(const SheetOrder& order, const SheetsPlan& plan) {
  std::vector<int> made(order.pieces.size(), 0);
  std::vector<int> taken(order.stock.size(), 0);
  double cost = 0.0;
  for (const SheetLayout& layout : plan.layouts) {
    std::vector<Wood> wood;
    if (const std::string fault = saw(order, layout, wood); !fault.empty()) return fault;
    if (const std::string fault = fault_in_parts(order, layout, wood, made); !fault.empty())
      return fault;
    if (order.saw.three_stages && !in_three_stages(layout)) return "too many stages";
    ++taken[layout.stock];
    cost += order.stock[layout.stock].price;
  }
  for (std::size_t p = 0; p < made.size(); ++p)
    if (made[p] != order.pieces[p].count) return "wrong number of " + order.pieces[p].label;
  for (std::size_t s = 0; s < taken.size(); ++s)
    if (order.stock[s].count && taken[s] > *order.stock[s].count) return "more than on hand";
  if (!same(cost, plan.cost)) return "wrong cost";
  if (plan.cost_bound > plan.cost + 1e-9) return "the bound is above the cost";
  return "";
}

}  // namespace ribbay::testing
