#include "tiles.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

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

/// Adds blank sheets between groups that do not touch: a straight way along the row, then the
/// column.
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
        const int away =
            std::abs(tiles[a].column - tiles[b].column) + std::abs(tiles[a].row - tiles[b].row);
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
  if (tile.column >= 26)
    letters = std::string(1, static_cast<char>('A' + tile.column / 26 - 1)) + letters;
  return letters + std::to_string(tile.row + 1);
}

Rect Tiling::cell(Tile tile) const {
  const Vec2 lo = Vec2{net.x * tile.column, net.y * tile.row} - origin;
  return {lo, lo + net};
}

bool Tiling::printed(Tile tile) const {
  return std::ranges::find(tiles, tile) != tiles.end();
}

std::vector<Tile> Tiling::blank() const {
  std::vector<Tile> all;
  for (int row = 0; row < rows; ++row) {
    for (int column = 0; column < columns; ++column) {
      if (!printed({column, row})) all.push_back({column, row});
    }
  }
  return all;
}

namespace {

/// Sheets for the picture with its lower left corner at `t.origin`.
Tiling laid(Tiling t, const Drawn& picture) {
  for (int row = 0; row < t.rows; ++row) {
    for (int column = 0; column < t.columns; ++column) {
      // The lap alone is no reason for a sheet: its neighbour shows it too. At the rim there is
      // none.
      Rect shown = t.cell({column, row});
      if (column == 0) shown.lo.x -= kLap / 2;
      if (row == 0) shown.lo.y -= kLap / 2;
      if (column == t.columns - 1) shown.hi.x += kLap / 2;
      if (row == t.rows - 1) shown.hi.y += kLap / 2;
      const Drawn inked = clipped(picture, shown);
      if (!inked.lines.empty() || !inked.arcs.empty()) t.tiles.push_back({column, row});
    }
  }
  if (!t.tiles.empty()) hang_together(t.tiles);
  std::ranges::sort(t.tiles, {}, [](Tile tile) { return std::pair(tile.row, tile.column); });
  return t;
}

}  // namespace

Tiling tiling(const Drawn& picture, Vec2 size, Paper paper) {
  const PaperSize sheet = size_of(paper);
  Tiling t;
  t.image = {{kMargin, kMargin + kFoot}, {sheet.width - kMargin, sheet.height - kMargin}};
  t.net = Vec2{t.image.width() - kLap, t.image.height() - kLap};
  // Sheets at the rim show half a lap more, less what keeps a line whole.
  constexpr double rim = kLap / 2 - 1.0;
  const auto count = [](double length, double net) {
    return std::max(1, static_cast<int>(std::ceil((length - 2.0 * rim) / net - 1e-9)));
  };
  t.columns = count(size.x, t.net.x);
  t.rows = count(size.y, t.net.y);
  // At the lower left, then a quarter further each time, as far as the sheets allow.
  std::optional<Tiling> best;
  constexpr int steps = 4;
  for (int up = 0; up <= steps; ++up) {
    for (int right = 0; right <= steps; ++right) {
      const auto at = [&](int step, int sheets, double net, double length) {
        const double most = sheets * net + rim - length;  // its far end at the far rim
        const double least = std::min(0.0, most);
        return least + (most - least) * step / steps;
      };
      t.origin = {at(right, t.columns, t.net.x, size.x), at(up, t.rows, t.net.y, size.y)};
      Tiling made = laid(t, picture);
      if (!best || made.tiles.size() < best->tiles.size()) best = std::move(made);
    }
  }
  return *best;
}

}  // namespace ribbay::detail
