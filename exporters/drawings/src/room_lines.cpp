#include "room_lines.hpp"

#include "drawings/convex_hull.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

VanLine room_section(const Vehicle& van, double x) {
  constexpr double step = 10.0;
  const double at = std::clamp(x, van.x_min(), van.x_max());
  VanLine left;
  VanLine right;
  double top = 0.0;
  for (const Station& s : van.stations) {
    for (const WallPoint& p : s.left) top = std::max(top, p.z);
    for (const WallPoint& p : s.right) top = std::max(top, p.z);
  }
  for (int i = 0; i * step <= top + step; ++i) {
    const double z = std::min(i * step, top);
    // Seen from behind, the left wall is on the left: the picture's x is -y.
    if (const auto y = wall_y(van, VanSide::left, at, z)) left.push_back({-*y, z});
    if (const auto y = wall_y(van, VanSide::right, at, z)) right.push_back({-*y, z});
  }
  std::ranges::reverse(left);
  left.insert(left.end(), right.begin(), right.end());
  if (!left.empty()) left.push_back(left.front());
  return left;
}

VanLine outline_of(const ConvexPiece& piece, const ViewFrame& view) {
  VanLine points;
  for (const Vec3 v : piece.vertices) points.push_back(view.picture(v));
  VanLine hull = convex_hull(std::move(points));
  if (!hull.empty()) hull.push_back(hull.front());
  return hull;
}

}  // namespace ribbay::detail
