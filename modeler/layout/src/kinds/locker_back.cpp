#include "locker.hpp"
#include "wall_fixing.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

/// Half of what is left free between two layers that meet at a bend (common practice, no source).
constexpr double kHalfGap = 0.5;

}  // namespace

std::vector<Facet> divide_back(const std::vector<Vec2>& wall, double z0, double z1, int count) {
  std::vector<Vec2> breaks;
  for (int i = 0; i <= count; ++i) {
    const double z = z0 + (z1 - z0) * i / count;
    breaks.push_back({nearest_wall(wall, z, z), z});
  }
  // Where the wall bulges in between two breaks, the whole back moves in.
  double past = 0.0;
  for (const Vec2 point : wall) {
    for (int i = 0; i < count; ++i) {
      const Vec2 a = breaks[static_cast<std::size_t>(i)];
      const Vec2 b = breaks[static_cast<std::size_t>(i) + 1];
      if (point.y < a.y || point.y > b.y) continue;
      past = std::max(past, a.x + (b.x - a.x) * (point.y - a.y) / (b.y - a.y) - point.x);
    }
  }
  std::vector<Facet> facets;
  for (std::size_t i = 0; i + 1 < breaks.size(); ++i) {
    const Vec2 along = normalized(breaks[i + 1] - breaks[i]);
    facets.push_back({.from = breaks[i] - Vec2{past, 0},
                      .along = along,
                      .outward = perpendicular(along) * -1.0,
                      .length = length(breaks[i + 1] - breaks[i])});
  }
  return facets;
}

LayerSpan span_of(const std::vector<Facet>& facets, std::size_t index, double near, double far,
                  double z0, double z1) {
  const Facet& facet = facets[index];
  // A point `a` along the facet and `b` inside it lies at z = from.z + a along.z + b along.y.
  const auto at_height = [&](double z, bool low) {
    const double lift_near = near * facet.along.x;
    const double lift_far = far * facet.along.x;
    const double lift = low ? std::min(lift_near, lift_far) : std::max(lift_near, lift_far);
    return (z - facet.from.y - lift) / facet.along.y;
  };
  // Beside a bend, square ends stay out of the other facet's layer.
  const auto trim = [&](const Facet& a, const Facet& b) {
    const double half = std::tan(std::asin(cross(a.along, b.along)) / 2);
    return std::max(near * half, far * half) + kHalfGap;
  };
  return {index == 0 ? at_height(z0, true) : trim(facets[index - 1], facet),
          index + 1 == facets.size() ? at_height(z1, false)
                                     : facet.length - trim(facet, facets[index + 1])};
}

}  // namespace ribbay::detail
