#pragma once

#include "workshop.hpp"

#include <optional>
#include <string>
#include <vector>

/// How boards with tongue and groove are shared out over a wall, and what they need of it.
namespace ribbay::detail {

/// Screws that hold a board stand at most this far apart, and this from its ends and from openings,
/// so that it does not split. Common practice, no source.
inline constexpr double kPlankScrewPitch = 400.0;
inline constexpr double kPlankScrewMargin = 30.0;
/// No board is narrower than this share of a whole one. Common practice, no source.
inline constexpr double kLeastPlankShare = 1.0 / 3;

/// Boards side by side, counted from the datum edge.
struct PlankRow {
  std::vector<double> from;    ///< where each begins to cover
  std::vector<double> widths;  ///< that each covers
};

/// Shares out `span` from its datum edge: whole boards of `cover` with a gap between them. The
/// first board is `first` wide, or, when that is not said, whole; the last takes what is left. When
/// the last would be narrower than `least` and `first` is not said, the first gives it half of what
/// both have, so that the wall looks even.
PlankRow share_planks(double span, double cover, double gap, std::optional<double> first,
                      double least);

/// A table of the file that asks for planks. Findings have `subject` and a place in that table.
struct PlankOrder {
  const ModuleRequest& request;
  Workshop& shop;
  const Record& fields;
  std::string subject;

  const Plank& plank() const;
  Finding fault(const char* code, const char* field) const;
  /// The gap that lets the boards swell until they touch; a tongue must reach over it when they are
  /// driest. Reports "planks.moisture" and "planks.no_movement"; tells "planks.tongue_out".
  std::optional<double> gap() const;
  /// The boards over a span. Reports "planks.narrow_board".
  std::optional<PlankRow> row(double span, double gap) const;
  /// True when a screw through `behind` of material holds a board and stays hidden in it. Reports
  /// "planks.screw_short" and "planks.screw_comes_out".
  bool screw_fits(const Bolt& screw, double behind) const;
};

/// Board `index` of a row: what it is, but for its outline along its length, which is the caller's.
/// `across` runs from the datum edge over the boards, `face` is the way they look, and `edge` lies
/// on the datum edge, on the boards' back.
struct RowBoard {
  CutPlank board;     ///< its x from the start of its frame; outline empty
  double from = 0.0;  ///< where its wood begins and ends, in its own y, tongue included
  double to = 0.0;
  double middle = 0.0;  ///< of what it covers, in its own y
};
RowBoard row_board(const PlankOrder& order, const PlankRow& row, std::size_t index, Vec3 edge,
                   Vec3 across, Vec3 face);

/// Fields that every table of planks has. `screw`: what its screw goes through and into.
std::vector<Field> plank_fields(std::string what, std::string screw);

}  // namespace ribbay::detail
