#include "sheet_words.hpp"

#include "base/wording.hpp"

#include <algorithm>

namespace ribbay::detail {

bool is_cut_on(const SheetLayout& layout, std::size_t part) {
  return std::ranges::any_of(layout.cuts, [&](const SheetCut& cut) { return cut.part == part; });
}

std::string size_words(const SheetPart& part, LengthStyle show) {
  return length_text(part.length, show) + " x " + length_text(part.width, show);
}

std::string part_words(const SheetOrder& order, const SheetLayout& layout, std::size_t p,
                       LengthStyle show) {
  const SheetPart& part = layout.parts[p];
  if (part.piece) return order.pieces[*part.piece].label;
  if (p == 0) return say("cutting.whole");
  return is_cut_on(layout, p) ? say("cutting.part", {{"number", std::to_string(p)}})
                              : say("cutting.rest", {{"size", size_words(part, show)}});
}

}  // namespace ribbay::detail
