#pragma once

#include "base/paper.hpp"
#include "drawings/true_outline.hpp"

#include <string>
#include <vector>

/// How a large picture is spread over sheets of paper.
namespace ribbay::detail {

inline constexpr double kLap = 10.0;  ///< of neighbouring sheets, mm

/// A sheet, by its column from the left and its row from below.
struct Tile {
  int column = 0;
  int row = 0;
  friend bool operator==(const Tile&, const Tile&) = default;
};
std::string name_of(Tile tile);  ///< "B3": column B, row 3

struct Tiling {
  Rect image;   ///< on paper: where the picture is drawn
  Vec2 net;     ///< what each sheet adds, mm
  Vec2 origin;  ///< of the picture, from the lower left corner of what the first sheet adds
  int columns = 0;
  int rows = 0;
  std::vector<Tile> tiles;  ///< that are printed, row by row from below

  /// The part of the picture that a sheet adds.
  Rect cell(Tile tile) const;
  /// The part of the picture that a sheet shows; it laps over its neighbours.
  Rect window(Tile tile) const { return grown(cell(tile), kLap / 2); }
  bool printed(Tile tile) const;
  /// Those within the picture that nothing is drawn on, row by row from below.
  std::vector<Tile> blank() const;
};

/// Sheets for `picture`, that of an area of `size`: those with a line on them, and as many blank
/// ones as make all of them hang together by their edges. The picture is moved on the sheets where
/// that saves one.
Tiling tiling(const Drawn& picture, Vec2 size, Paper paper);

}  // namespace ribbay::detail
