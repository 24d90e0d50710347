#pragma once

#include "cut_tree.hpp"
#include "instance.hpp"

#include <optional>
#include <vector>

namespace ribbay::detail {

/// One piece to be placed.
struct Turn {
  std::size_t item = 0;
  bool turned = false;  ///< preferred, where it may be turned
};

/// Which way a free rectangle is cut first: along the sheet's length or across.
enum class FirstCut { larger_rest, shorter_rest, longer_rest, rip, cross };
/// Which free rectangle is taken: that whose rest is least by area, by its shorter or its longer
/// side, or the first sheet's best by area.
enum class Choice { least_area, shorter_side, longer_side, first_sheet };

/// All that decides how sheets are filled.
struct Recipe {
  std::vector<Turn> turns;
  FirstCut first_cut = FirstCut::larger_rest;
  Choice choice = Choice::least_area;
  std::size_t preferred = 0;  ///< kind that a new sheet is taken from
  bool on_hand_first = true;  ///< sheets on hand before that kind, else behind it
};

struct Filled {
  std::vector<CutTree> sheets;
  std::int64_t cost = 0;
  std::int64_t least_used = 0;  ///< used area of the emptiest sheet
};

/// Places piece after piece into the lower left corner of a free rectangle.
/// Nothing when it would cost more than `dearest` or a piece finds no sheet.
std::optional<Filled> fill_sheets(const SheetNumbers& numbers, const Recipe& recipe,
                                  std::int64_t dearest, Effort& effort);

}  // namespace ribbay::detail
