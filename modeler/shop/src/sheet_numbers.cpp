#include "sheet_numbers.hpp"

#include "ticks.hpp"

#include <algorithm>
#include <limits>
#include <map>
#include <numeric>
#include <tuple>

namespace ribbay::detail {

double at_fence(const SheetNumbers& numbers, std::int64_t ticks) {
  const auto found = numbers.exact.find(ticks);
  return found != numbers.exact.end() ? found->second
                                      : static_cast<double>(ticks - numbers.kerf) * kCut;
}

SheetNumbers in_whole_numbers(const SheetOrder& order) {
  SheetNumbers numbers;
  numbers.kerf = ticks_up(order.saw.kerf);
  // A trim is at least one saw cut.
  if (order.saw.trim > 0.0) numbers.trim = std::max(ticks_up(order.saw.trim), numbers.kerf);
  numbers.stages = order.saw.three_stages ? 3 : std::numeric_limits<int>::max();
  std::map<std::tuple<std::int64_t, std::int64_t, bool>, std::vector<std::size_t>> by_size;
  int wanted = 0;
  for (std::size_t p = 0; p < order.pieces.size(); ++p) {
    const SheetPiece& piece = order.pieces[p];
    auto& same = by_size[{piece_ticks(piece.length) + numbers.kerf,
                          piece_ticks(piece.width) + numbers.kerf, !piece.grain}];
    same.insert(same.end(), static_cast<std::size_t>(piece.count), p);
    for (const double mm : {piece.length, piece.width}) {
      double& exact = numbers.exact[piece_ticks(mm) + numbers.kerf];
      exact = std::max(exact, mm);
    }
    wanted += piece.count;
  }
  for (auto& [size, pieces] : by_size) {
    const auto& [length, width, turnable] = size;
    numbers.items.push_back({length, width, turnable, std::move(pieces)});
  }
  numbers.cost_unit = 0;
  for (const SheetStock& stock : order.stock) {
    const auto usable = [&](double mm) {
      return std::max<std::int64_t>(0, ticks_down(mm) - 2 * numbers.trim + numbers.kerf);
    };
    const std::int64_t cost = hundredths(stock.price);
    numbers.kinds.push_back({usable(stock.length), usable(stock.width), cost,
                             std::min(stock.count.value_or(wanted), wanted),
                             stock.count.has_value()});
    numbers.cost_unit = std::gcd(numbers.cost_unit, cost);
  }
  numbers.cost_unit = std::max<std::int64_t>(1, numbers.cost_unit);
  for (SheetKind& kind : numbers.kinds) kind.cost /= numbers.cost_unit;
  return numbers;
}

bool fits(const SheetItem& item, const SheetKind& kind, bool turned) {
  if (turned) return item.turnable && item.width <= kind.length && item.length <= kind.width;
  return item.length <= kind.length && item.width <= kind.width;
}

}  // namespace ribbay::detail
