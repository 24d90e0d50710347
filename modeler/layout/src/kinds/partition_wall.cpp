#include "partition_wall.hpp"

#include "base/tolerance.hpp"
#include "walls.hpp"

#include <algorithm>
#include <cmath>
#include <set>

namespace ribbay::detail {

namespace {

/// The room within a window at one height.
WallRow row_at(const std::vector<WallRow>& rows, const WallWindow& window, double z) {
  const auto above = std::ranges::find_if(rows, [&](const WallRow& row) { return row.z >= z; });
  const WallRow& hi = above == rows.end() ? rows.back() : *above;
  const WallRow& lo = above == rows.begin() || above == rows.end() ? hi : *(above - 1);
  const double part = hi.z - lo.z > kSame ? (z - lo.z) / (hi.z - lo.z) : 0.0;
  return {z, std::max(lo.left + part * (hi.left - lo.left), window.lo.x),
          std::min(lo.right + part * (hi.right - lo.right), window.hi.x)};
}

/// Heights where the outline of what lies inside may bend.
std::set<double> bends(const std::vector<WallRow>& rows, const WallWindow& window) {
  std::set<double> heights = {window.lo.y, window.hi.y};
  const auto add = [&](double z) {
    if (z > window.lo.y + kSame && z < window.hi.y - kSame) heights.insert(z);
  };
  for (std::size_t i = 0; i < rows.size(); ++i) {
    add(rows[i].z);
    if (i == 0) continue;
    const WallRow& a = rows[i - 1];
    const WallRow& b = rows[i];
    const auto add_crossing = [&](double from, double to) {  // where a difference changes its sign
      if (from * to < 0.0) add(a.z + (b.z - a.z) * from / (from - to));
    };
    for (const double x : {window.lo.x, window.hi.x}) {
      add_crossing(a.left - x, b.left - x);
      add_crossing(a.right - x, b.right - x);
    }
  }
  return heights;
}

Loop loop_of(const std::vector<WallRow>& span) {
  Loop loop;
  for (const WallRow& row : span) add_wall_corner(loop, {row.right, row.z});
  for (auto row = span.rbegin(); row != span.rend(); ++row)
    add_wall_corner(loop, {row->left, row->z});
  close_wall_loop(loop);
  return loop;
}

}  // namespace

void add_wall_corner(Loop& loop, Vec2 p) {
  if (!loop.empty() && length(loop.back().at - p) < kGrid) return;
  while (loop.size() >= 2 && straight(loop[loop.size() - 2].at, loop.back().at, p)) loop.pop_back();
  loop.push_back({p, 0.0});
}

void close_wall_loop(Loop& loop) {
  if (loop.size() > 3 && straight(loop[loop.size() - 1].at, loop[0].at, loop[1].at))
    loop.erase(loop.begin());
}

std::vector<Loop> inside_wall(const std::vector<WallRow>& rows, const WallWindow& window) {
  std::vector<Loop> loops;
  if (window.hi.y - window.lo.y < kGrid || window.hi.x - window.lo.x < kGrid) return loops;
  const std::set<double> heights = bends(rows, window);
  std::vector<WallRow> span;
  const auto finish = [&] {
    if (span.size() > 1) loops.push_back(loop_of(span));
    span.clear();
  };
  for (auto z = heights.begin(); std::next(z) != heights.end(); ++z) {
    const double above = *std::next(z);
    const WallRow middle = row_at(rows, window, (*z + above) / 2);
    if (middle.right - middle.left < kGrid) {
      finish();
      continue;
    }
    if (span.empty()) span.push_back(row_at(rows, window, *z));
    span.push_back(row_at(rows, window, above));
  }
  finish();
  std::erase_if(loops, [](const Loop& loop) { return loop.size() < 3 || area({loop, {}}) < 1.0; });
  return loops;
}

}  // namespace ribbay::detail
