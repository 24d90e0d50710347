#pragma once

#include "base/result.hpp"
#include "shop/bars_proof.hpp"
#include "shop/limits.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace ribbay {

/// A length to be sawn from bars. Millimetres.
struct BarPiece {
  std::string label;
  double length = 0.0;
  int count = 1;
  std::optional<Place> place = {};  ///< where it is asked for; findings point at it
};

/// A length that bars come in.
struct BarStock {
  std::string label;
  double length = 0.0;            ///< mm
  std::optional<int> count = {};  ///< how many are on hand; none: as many as needed
  double price = 0.0;             ///< of one bar, told to 0.01; a bar on hand may cost nothing
};

/// How the saw takes a bar.
///
///     |trim| piece |kerf| piece |kerf| piece |kerf| rest ... |
///
struct BarSaw {
  double kerf = 0.0;   ///< width of one saw cut, mm
  double trim = 0.0;   ///< taken off each end, its saw cut included, mm
  double clamp = 0.0;  ///< shortest rest that the saw can hold while the last piece is cut off, mm;
                       ///< takes the place of the trim at that end when it is longer
};

struct BarOrder {
  std::vector<BarPiece> pieces;
  std::vector<BarStock> stock;
  BarSaw saw;
};

/// Bars that are cut alike.
struct BarLayout {
  std::size_t stock = 0;            ///< index into the order's stock
  int count = 0;                    ///< bars
  std::vector<std::size_t> pieces;  ///< indices into the order's pieces, in the order of the cuts
  double rest = 0.0;                ///< what is left in the saw behind the last cut, mm
};

/// How to cut all pieces for the least money, and among those plans that buy the same bars, so that
/// the longest rest is as long as possible.
struct BarsPlan {
  std::vector<BarLayout> layouts;  ///< long bars first; within a bar the long pieces first
  int bars = 0;
  double cost = 0.0;
  double cost_bound = 0.0;    ///< no plan costs less
  bool proven = false;        ///< the bound equals the cost
  double waste = 0.0;         ///< length of all bars less that of all pieces, mm
  double longest_rest = 0.0;  ///< mm
  bool rest_proven = false;   ///< no plan from the same bars leaves a longer one
  BarsProof proof;
};

/// Plans an order. The same order gives the same plan: the search is limited by counts of work,
/// never by time. Lengths are whole hundredths of a millimetre inside, pieces rounded up and stock
/// rounded down.
///
/// Fails with "cut.too_long" for each piece that no bar can give, with "cut.not_enough" when no way
/// was found to cut everything from what is on hand, and with "cut.too_many" above kMostBarPieces.
/// Precondition: lengths and counts are more than 0; prices, kerf, trim and clamp are not negative;
/// a price of 0 needs a count; lengths and prices keep to limits.hpp.
Result<BarsPlan> plan_bars(const BarOrder& order);

}  // namespace ribbay
