#include "bar_numbers.hpp"

#include "ticks.hpp"

#include <algorithm>
#include <functional>
#include <map>
#include <numeric>

namespace ribbay::detail {

namespace {

std::int64_t usable_ticks(const BarStock& stock, const BarSaw& saw) {
  return ticks_down(stock.length) - ticks_up(saw.trim) - ticks_up(std::max(saw.trim, saw.clamp));
}

void shrink(Instance& instance, std::int64_t length_unit, std::int64_t cost_unit) {
  for (Item& item : instance.items) item.size /= length_unit;
  for (Stock& stock : instance.stocks) {
    stock.capacity /= length_unit;
    stock.cost /= cost_unit;
  }
}

}  // namespace

double usable_length(const BarStock& stock, const BarSaw& saw) {
  return static_cast<double>(usable_ticks(stock, saw)) * kCut;
}

BarNumbers in_whole_numbers(const BarOrder& order) {
  BarNumbers numbers;
  const std::int64_t kerf = ticks_up(order.saw.kerf);
  std::map<std::int64_t, std::vector<std::size_t>, std::greater<>> by_size;
  int wanted = 0;
  for (std::size_t p = 0; p < order.pieces.size(); ++p) {
    const BarPiece& piece = order.pieces[p];
    auto& same = by_size[piece_ticks(piece.length) + kerf];
    same.insert(same.end(), static_cast<std::size_t>(piece.count), p);
    wanted += piece.count;
  }
  numbers.length_unit = 0;
  for (const auto& [size, pieces] : by_size) {
    numbers.instance.items.push_back({size, static_cast<int>(pieces.size())});
    numbers.pieces_of.push_back(pieces);
    numbers.length_unit = std::gcd(numbers.length_unit, size);
  }
  numbers.cost_unit = 0;
  for (const BarStock& stock : order.stock) {
    const std::int64_t cost = hundredths(stock.price);
    const std::int64_t capacity = usable_ticks(stock, order.saw) + kerf;
    numbers.instance.stocks.push_back({std::max<std::int64_t>(0, capacity), cost,
                                       std::min(stock.count.value_or(wanted), wanted),
                                       stock.count.has_value()});
    numbers.cost_unit = std::gcd(numbers.cost_unit, cost);
  }
  numbers.cost_unit = std::max<std::int64_t>(1, numbers.cost_unit);
  shrink(numbers.instance, numbers.length_unit, numbers.cost_unit);
  return numbers;
}

}  // namespace ribbay::detail
