#pragma once

#include "base/result.hpp"
#include "shop/limits.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace ribbay {

/// A rectangle to be sawn from sheets. Millimetres.
struct SheetPiece {
  std::string label;
  double length = 0.0;
  double width = 0.0;
  int count = 1;
  bool grain = false;  ///< its length runs along the sheet's length; else it may be turned
  std::optional<Place> place = {};  ///< where it is asked for; findings point at it
  int holds = 1;                    ///< pieces of a list that are cut from it by hand afterwards
};

/// A size that sheets come in; the grain runs along the length. All sheets of one order have the
/// same thickness.
struct SheetStock {
  std::string label;
  double length = 0.0;  ///< mm
  double width = 0.0;
  std::optional<int> count = {};  ///< how many are on hand; none: as many as needed
  double price = 0.0;             ///< of one sheet, told to 0.01
};

struct SheetSaw {
  double kerf = 0.0;          ///< width of one saw cut, mm
  double trim = 0.0;          ///< taken off each edge first, its saw cut included, mm
  bool three_stages = false;  ///< strips, across the strips, and once more: as panel saws cut
};

struct SheetOrder {
  std::vector<SheetPiece> pieces;
  std::vector<SheetStock> stock;
  SheetSaw saw;
};

/// A rectangle that lies on the saw or comes off it. `x` runs along the sheet's length, `y` across;
/// from the lower left corner of the untrimmed sheet, mm.
struct SheetPart {
  double x = 0.0;
  double y = 0.0;
  double length = 0.0;  ///< along x
  double width = 0.0;
  std::optional<std::size_t> piece = {};  ///< index into the order's pieces
  bool turned = false;                    ///< the piece's length lies along y
};

/// A cut through a part from edge to edge. Of the part, `fence` stays between the fence and the
/// blade and becomes `first`; what is behind the blade becomes `rest`. The part lies at the fence
/// with its lower or left edge, or turned, with the opposite one: so the first of two edges is
/// trimmed, whose narrow waste then falls off free and not between fence and blade.
struct SheetCut {
  std::size_t part = 0;  ///< index into the layout's parts
  bool rip = false;      ///< along the sheet's length, `fence` measured across; else the other way
  double fence = 0.0;    ///< mm, from the edge at the fence
  int stage = 0;         ///< 0 trims the sheet; the direction changes from stage to stage
  std::size_t first = 0;
  std::optional<std::size_t> rest = {};  ///< none when the blade takes all of it
  bool turned = false;                   ///< the part's upper or right edge lies at the fence
};

/// One sheet.
struct SheetLayout {
  std::size_t stock = 0;         ///< index into the order's stock
  std::vector<SheetPart> parts;  ///< the untrimmed sheet first
  /// In the order they are sawn, stage by stage; in a stage those at one setting of the fence come
  /// together, as far as none waits for a cut at another.
  std::vector<SheetCut> cuts;
};

struct SheetsPlan {
  std::vector<SheetLayout> layouts;
  double cost = 0.0;
  double cost_bound = 0.0;  ///< no plan costs less
  bool proven = false;      ///< the bound equals the cost
  double waste = 0.0;       ///< area of all sheets less that of all pieces, mm2
};

/// Plans an order: cuts from edge to edge, for the least money that the search finds. The same
/// order gives the same plan: the search is limited by counts of work, never by time. Inside,
/// lengths are whole hundredths of a millimetre, pieces rounded up and stock rounded down; the
/// fence is set to the piece's own size. Where less than kSawn would come off there is no cut, and
/// the piece stays that much larger.
///
/// The bound comes from areas and from areas of scaled sizes (dual feasible functions), so it holds
/// for cuts of any kind and is sometimes below what cuts from edge to edge can reach.
///
/// Fails with "cut.too_large" for each piece that no sheet can give, with "cut.not_enough" or
/// "cut.no_plan" when no way was found to cut everything from what is on hand, and with
/// "cut.too_many" above kMostSheetPieces.
/// Precondition: as for plan_bars().
Result<SheetsPlan> plan_sheets(const SheetOrder& order);

}  // namespace ribbay
