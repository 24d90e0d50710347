#include "edge_bands.hpp"

#include "base/tolerance.hpp"
#include "finished_shape.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

Vec2 middle_of_side(const Loop& outline, std::size_t side) {
  return (outline[side].at + outline[(side + 1) % outline.size()].at) * 0.5;
}

}  // namespace

std::vector<std::size_t> sides_looking(const Loop& outline, const std::vector<Vec2>& ways) {
  std::vector<std::size_t> found;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Vec2 side = outline[(i + 1) % outline.size()].at - outline[i].at;
    if (length(side) < kSame) continue;
    const Vec2 outward = perpendicular(normalized(side)) * -1.0;
    const bool looks =
        std::ranges::any_of(ways, [&](Vec2 way) { return length(outward - way) < kSame; });
    if (looks) found.push_back(i);
  }
  return found;
}

Loop sawn_outline(const ShapedBoard& board) {
  if (board.band == nullptr || board.banded.empty()) return board.outline.outer;
  std::vector<double> by(board.outline.outer.size(), 0.0);
  for (const std::size_t side : board.banded) by[side] = -board.band->thickness;
  return grown(board.outline.outer, by);
}

Covering band_covering(const ShapedBoard& board, const Part& part, const ModuleRequest& request) {
  Covering band{.finish = board.band->key,
                .face = false,
                .back = false,
                .edges = {},
                .thickness = board.band->thickness,
                .turn_over = 0.0};
  // A mirrored part may begin its outline elsewhere: its sides are found by where they lie.
  const Loop sawn = sawn_outline(board);
  const Loop& standing = part.shape->prisms.front().prism.section.outer;
  for (const std::size_t side : board.banded) {
    const Vec2 middle = middle_of_side(sawn, side);
    const Vec3 at =
        part.frame.local_point(request.to_van(board.frame.point({middle.x, middle.y, 0.0})));
    for (std::size_t i = 0; i < standing.size(); ++i) {
      if (length(middle_of_side(standing, i) - Vec2{at.x, at.y}) < kGrid) band.edges.push_back(i);
    }
  }
  std::ranges::sort(band.edges);
  return band;
}

}  // namespace ribbay::detail
