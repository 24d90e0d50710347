#include "sheet_words.hpp"

#include "base/wording.hpp"

#include <algorithm>
#include <vector>

namespace ribbay::detail {

bool is_cut_on(const SheetLayout& layout, std::size_t part) {
  return std::ranges::any_of(layout.cuts, [&](const SheetCut& cut) { return cut.part == part; });
}

std::string size_words(const SheetPart& part, LengthStyle show) {
  return length_text(part.length, show) + " x " + length_text(part.width, show);
}

namespace {

void collect(const SheetLayout& layout, std::size_t part, std::vector<std::size_t>& pieces) {
  if (const auto piece = layout.parts[part].piece) return pieces.push_back(*piece);
  for (const SheetCut& cut : layout.cuts) {
    if (cut.part != part) continue;
    collect(layout, cut.first, pieces);
    if (cut.rest) collect(layout, *cut.rest, pieces);
  }
}

/// What is still to be cut from a part: "P2, 2 P5", of many kinds the first three.
std::string marks_in(const SheetOrder& order, const SheetLayout& layout, std::size_t part) {
  constexpr std::size_t most = 4;
  std::vector<std::size_t> pieces;
  collect(layout, part, pieces);
  std::vector<std::string> labels;
  std::vector<std::size_t> counts;
  for (const std::size_t piece : pieces) {
    const std::string& label = order.pieces[piece].label;
    const auto known = std::ranges::find(labels, label);
    if (known == labels.end()) {
      labels.push_back(label);
      counts.push_back(1);
    } else {
      ++counts[static_cast<std::size_t>(known - labels.begin())];
    }
  }
  std::size_t told = 0;
  std::vector<std::string> words;
  for (std::size_t i = 0; i < labels.size(); ++i) {
    if (labels.size() > most && i >= most - 1) break;
    told += counts[i];
    words.push_back((counts[i] > 1 ? std::to_string(counts[i]) + " " : "") + labels[i]);
  }
  const std::string some = join(words, ", ");
  return told == pieces.size()
             ? some
             : say("and_more", {{"some", some}, {"count", std::to_string(pieces.size() - told)}});
}

}  // namespace

std::string piece_size_words(const SheetPiece& piece, bool turned, LengthStyle show) {
  const auto [length, width] =
      turned ? std::pair(piece.width, piece.length) : std::pair(piece.length, piece.width);
  return length_text(length, show) + " x " + length_text(width, show);
}

std::string part_words(const SheetOrder& order, const SheetLayout& layout, std::size_t p,
                       LengthStyle show) {
  const SheetPart& part = layout.parts[p];
  if (part.piece) return order.pieces[*part.piece].label;
  const bool trimmed = std::ranges::any_of(layout.cuts, [&](const SheetCut& cut) {
    return cut.stage == 0 && (cut.first == p || cut.rest == p);
  });
  if (p == 0 || (trimmed && is_cut_on(layout, p))) return say("cutting.whole");
  return is_cut_on(layout, p) ? say("cutting.with", {{"pieces", marks_in(order, layout, p)}})
                              : say("cutting.rest", {{"size", size_words(part, show)}});
}

}  // namespace ribbay::detail
