#include "plank_row.hpp"

#include "base/tolerance.hpp"

#include <algorithm>

namespace ribbay::detail {

PlankRow share_planks(double span, double cover, double gap, std::optional<double> first,
                      double least) {
  PlankRow row;
  double left = span;
  double width = std::min(first.value_or(cover), cover);
  while (left > kGrid) {
    row.widths.push_back(std::min(width, left));
    left -= row.widths.back() + gap;
    width = cover;
  }
  std::vector<double>& widths = row.widths;
  if (!first && widths.size() > 1 && widths.back() < least) {
    const double even = (widths.front() + widths.back()) / 2;
    widths.front() = even;
    widths.back() = even;
  }
  double at = 0.0;
  for (const double board : widths) {
    row.from.push_back(at);
    at += board + gap;
  }
  return row;
}

}  // namespace ribbay::detail
