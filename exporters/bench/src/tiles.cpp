#include "tiles.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

constexpr double kMargin = 8.0;  ///< home printers leave up to 6 mm blank
constexpr double kFoot = 17.0;   ///< for what a sheet says

/// Gives all tiles that hang together with `start` its group.
void mark(const std::vector<Tile>& tiles, std::vector<int>& group, std::size_t start, int number) {
  std::vector<std::size_t> open{start};
  group[start] = number;
  while (!open.empty()) {
    const Tile at = tiles[open.back()];
    open.pop_back();
    for (std::size_t i = 0; i < tiles.size(); ++i) {
      const int away = std::abs(tiles[i].column - at.column) + std::abs(tiles[i].row - at.row);
      if (group[i] >= 0 || away != 1) continue;
      group[i] = number;
      open.push_back(i);
    }
  }
}

/// Adds blank sheets between groups that do not touch: a straight way along the row, then the column.
void hang_together(std::vector<Tile>& tiles) {
  for (;;) {
    std::vector<int> group(tiles.size(), -1);
    mark(tiles, group, 0, 0);
    const auto other = std::ranges::find(group, -1);
    if (other == group.end()) return;
    std::pair<std::size_t, std::size_t> nearest{0, 0};
    int least = -1;
    for (std::size_t a = 0; a < tiles.size(); ++a) {
      for (std::size_t b = 0; b < tiles.size(); ++b) {
        if (group[a] != 0 || group[b] == 0) continue;
        const int away = std::abs(tiles[a].column - tiles[b].column) +
                         std::abs(tiles[a].row - tiles[b].row);
        if (least >= 0 && away >= least) continue;
        least = away;
        nearest = {a, b};
      }
    }
    Tile at = tiles[nearest.first];
    const Tile end = tiles[nearest.second];
    while (at != end) {
      if (at.column != end.column)
        at.column += at.column < end.column ? 1 : -1;
      else
        at.row += at.row < end.row ? 1 : -1;
      if (std::ranges::find(tiles, at) == tiles.end()) tiles.push_back(at);
    }
  }
}

}  // namespace

std::string name_of(Tile tile) {
  std::string letters(1, static_cast<char>('A' + tile.column % 26));
  if (tile.column >= 26) letters = std::string(1, static_cast<char>('A' + tile.column / 26 - 1)) + letters;
  return letters + std::to_string(tile.row + 1);
}

Rect Tiling::window(Tile tile) const {
  const Vec2 lo{net.x * tile.column - kLap / 2, net.y * tile.row - kLap / 2};
  return {lo, lo + net + Vec2{kLap, kLap}};
}

bool Tiling::printed(Tile tile) const {
  return std::ranges::find(tiles, tile) != tiles.end();
}

Tiling tiling(const Drawn& picture, Vec2 size, Paper paper) {
  const PaperSize sheet = size_of(paper);
  Tiling t;
  t.image = {{kMargin, kMargin + kFoot}, {sheet.width - kMargin, sheet.height - kMargin}};
  t.net = Vec2{t.image.width() - kLap, t.image.height() - kLap};
  t.columns = std::max(1, static_cast<int>(std::ceil(size.x / t.net.x - 1e-9)));
  t.rows = std::max(1, static_cast<int>(std::ceil(size.y / t.net.y - 1e-9)));
  for (int row = 0; row < t.rows; ++row) {
    for (int column = 0; column < t.columns; ++column) {
      // The lap alone is no reason for a sheet: its neighbour shows it too.
      const Vec2 lo{t.net.x * column, t.net.y * row};
      const Drawn inked = clipped(picture, {lo, lo + t.net});
      if (!inked.lines.empty() || !inked.arcs.empty()) t.tiles.push_back({column, row});
    }
  }
  if (!t.tiles.empty()) hang_together(t.tiles);
  std::ranges::sort(t.tiles, {}, [](Tile tile) { return std::pair(tile.row, tile.column); });
  return t;
}

}  // namespace ribbay::detail
