#pragma once

#include "shop/sheets.hpp"

#include <cstdint>
#include <map>
#include <vector>

namespace ribbay::detail {

/// Pieces of one size. As with bars, a piece and a sheet are larger by one saw cut each.
struct SheetItem {
  std::int64_t length = 0;
  std::int64_t width = 0;
  bool turnable = false;
  std::vector<std::size_t> pieces;  ///< of the order, singly
};

struct SheetKind {
  std::int64_t length = 0;
  std::int64_t width = 0;
  std::int64_t cost = 0;
  int available = 0;  ///< never more than there are pieces
  bool limited = false;
};

/// An order in whole numbers: hundredths of a millimetre, costs in units of `cost_unit` hundredths.
struct SheetNumbers {
  std::vector<SheetItem> items;
  std::vector<SheetKind> kinds;
  std::int64_t kerf = 0;
  std::int64_t trim = 0;
  std::int64_t cost_unit = 1;
  int stages = 0;  ///< most changes of direction and one
  std::map<std::int64_t, double>
      exact;  ///< of lengths and widths of pieces, one saw cut longer: mm
};

/// What stays at the fence for a node of this length or width, mm: the piece's own size, of several
/// the largest; else whole hundredths.
double at_fence(const SheetNumbers& numbers, std::int64_t ticks);

SheetNumbers in_whole_numbers(const SheetOrder& order);

bool fits(const SheetItem& item, const SheetKind& kind, bool turned);

}  // namespace ribbay::detail
