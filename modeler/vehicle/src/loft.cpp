#include "loft.hpp"

#include "base/tolerance.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

Vec3 wall_point(const Station& station, VanSide side, std::size_t k) {
  const WallPoint& point = points(station, side)[k];
  return {station.x, sign(side) * point.half_width, point.z};
}

/// The rung where it crosses the plane at x; exact at both ends.
Vec2 crossing(const Rung& rung, double x) {
  const double t = (x - rung.rear.x) / (rung.front.x - rung.rear.x);
  const Vec3 p = between(rung.rear, rung.front, t);
  return {p.y, p.z};
}

/// The lower diagonal of the roof between the top rungs. Which one is lower is seen where they
/// cross in plan; when they meet there the roof is plane and either will do.
Rung roof_diagonal(const Rung& left_top, const Rung& right_top) {
  const Rung one{left_top.rear, right_top.front};
  const Rung other{right_top.rear, left_top.front};
  const double rear = left_top.rear.y - right_top.rear.y;
  const double front = left_top.front.y - right_top.front.y;
  if (rear + front <= 0.0) return one;
  const double t = rear / (rear + front);
  const auto height = [t](const Rung& rung) { return between(rung.rear, rung.front, t).z; };
  return height(one) <= height(other) ? one : other;
}

void keep_half(Polygon3& polygon, int axis, double bound, double direction) {
  const auto inside = [&](const Vec3& p) { return direction * (p[axis] - bound) >= 0.0; };
  const auto count = std::ranges::count_if(polygon, inside);
  if (count == std::ssize(polygon)) return;
  if (count == 0) return polygon.clear();
  Polygon3 kept;
  kept.reserve(polygon.size() + 1);
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Vec3 a = polygon[i];
    const Vec3 b = polygon[(i + 1) % polygon.size()];
    const double in_a = direction * (a[axis] - bound);
    const double in_b = direction * (b[axis] - bound);
    if (in_a >= 0.0) kept.push_back(a);
    if ((in_a > 0.0 && in_b < 0.0) || (in_a < 0.0 && in_b > 0.0)) {
      const double t = in_a / (in_a - in_b);
      Vec3 p = between(a, b, t);
      p[axis] = bound;
      kept.push_back(p);
    }
  }
  polygon = std::move(kept);
}

}  // namespace

std::size_t span_at(const Vehicle& vehicle, double x) {
  const auto front = std::ranges::lower_bound(vehicle.stations, x, {}, &Station::x);
  const auto index = static_cast<std::size_t>(front - vehicle.stations.begin());
  return index == 0 ? 0 : index - 1;
}

Strip strip(const Vehicle& vehicle, VanSide side, std::size_t span) {
  const Station& rear = vehicle.stations[span];
  const Station& front = vehicle.stations[span + 1];
  const auto& rear_points = points(rear, side);
  const auto& front_points = points(front, side);
  std::size_t i = 0;
  std::size_t j = 0;
  Strip rungs;
  rungs.reserve(rear_points.size() + front_points.size() - 1);
  rungs.push_back({wall_point(rear, side, 0), wall_point(front, side, 0)});
  while (i + 1 < rear_points.size() || j + 1 < front_points.size()) {
    const bool rear_goes =
        j + 1 == front_points.size() ||
        (i + 1 < rear_points.size() && rear_points[i + 1].z <= front_points[j + 1].z);
    rear_goes ? ++i : ++j;
    rungs.push_back({wall_point(rear, side, i), wall_point(front, side, j)});
  }
  return rungs;
}

Triangle wall_triangle(const Strip& strip, VanSide side, std::size_t k) {
  const Rung& low = strip[k];
  const Rung& high = strip[k + 1];
  const Vec3 tip = low.rear == high.rear ? high.front : high.rear;
  // Seen from the left of the van, forward is to the left: front, rear, up runs counter-clockwise.
  if (side == VanSide::left) return {low.front, low.rear, tip};
  return {low.rear, low.front, tip};
}

std::vector<Triangle> roof_triangles(const Rung& left_top, const Rung& right_top) {
  const Rung diagonal = roof_diagonal(left_top, right_top);
  const bool from_left = diagonal.rear == left_top.rear;
  const std::array<Triangle, 2> both =
      from_left ? std::array<Triangle, 2>{Triangle{diagonal.rear, right_top.rear, diagonal.front},
                                          Triangle{diagonal.rear, diagonal.front, left_top.front}}
                : std::array<Triangle, 2>{Triangle{diagonal.rear, diagonal.front, left_top.rear},
                                          Triangle{diagonal.rear, right_top.front, diagonal.front}};
  std::vector<Triangle> triangles;
  for (const Triangle& triangle : both) {
    if (length(cross(triangle[1] - triangle[0], triangle[2] - triangle[0])) > kSame) {
      triangles.push_back(triangle);
    }
  }
  return triangles;
}

std::size_t first_roof_rung(const Strip& wall, VanSide side) {
  std::size_t k = wall.size() - 1;
  for (; k > 0; --k) {
    const Rung& low = wall[k - 1];
    const Rung& high = wall[k];
    const Vec3 rise = low.rear == high.rear ? high.front - low.front : high.rear - low.rear;
    if (-sign(side) * rise.y < rise.z) break;
  }
  return k;
}

Section section_at(const Vehicle& vehicle, double x) {
  const std::size_t span = span_at(vehicle, x);
  const Strip left = strip(vehicle, VanSide::left, span);
  const Strip right = strip(vehicle, VanSide::right, span);
  Section section;
  for (const Rung& rung : left) section.left.push_back(crossing(rung, x));
  for (const Rung& rung : right) section.right.push_back(crossing(rung, x));
  section.roof = {section.left.back(), crossing(roof_diagonal(left.back(), right.back()), x),
                  section.right.back()};
  return section;
}

double value_at(const std::vector<Vec2>& points, double at) {
  auto upper = std::ranges::lower_bound(points, at, {}, &Vec2::x);
  if (upper == points.end()) return points.back().y;
  if (upper == points.begin() || upper->x == at) return upper->y;
  const auto lower = std::prev(upper);
  const double t = (at - lower->x) / (upper->x - lower->x);
  return std::lerp(lower->y, upper->y, t);
}

Polygon3 clipped(Polygon3 polygon, int axis, double lo, double hi) {
  keep_half(polygon, axis, lo, 1.0);
  keep_half(polygon, axis, hi, -1.0);
  return polygon;
}

bool is_beside(const Triangle& triangle, int axis, double lo, double hi) {
  const auto [low, high] = std::minmax({triangle[0][axis], triangle[1][axis], triangle[2][axis]});
  return low > hi || high < lo;
}

double lowest(const Polygon3& polygon) {
  double z = kFar;
  for (const Vec3& p : polygon) z = std::min(z, p.z);
  return z;
}

double lowest_roof(const Vehicle& vehicle, double x0, double x1) {
  double z = kFar;
  each_span(vehicle, x0, x1, [&](std::size_t span, double from, double to) {
    const Rung left = strip(vehicle, VanSide::left, span).back();
    const Rung right = strip(vehicle, VanSide::right, span).back();
    for (const Rung& top : {left, right}) {
      z = std::min(z, lowest(clipped({top.rear, top.front}, 0, from, to)));
    }
    for (const Triangle& t : roof_triangles(left, right)) {
      z = std::min(z, lowest(clipped({t.begin(), t.end()}, 0, from, to)));
    }
  });
  return z;
}

namespace {

/// Calls `visit` with the half width at each corner of the wall's triangles clipped to the window.
template <class Visit>
void each_half_width(const Vehicle& vehicle, VanSide side, double x0, double x1, double z0,
                     double z1, Visit visit) {
  each_span(vehicle, x0, x1, [&](std::size_t span, double, double) {
    const Strip wall = strip(vehicle, side, span);
    for (std::size_t k = 0; k + 1 < wall.size(); ++k) {
      const Triangle t = wall_triangle(wall, side, k);
      if (is_beside(t, 0, x0, x1) || is_beside(t, 2, z0, z1)) continue;
      for (const Vec3& p : clipped(clipped({t.begin(), t.end()}, 0, x0, x1), 2, z0, z1)) {
        visit(sign(side) * p.y);
      }
    }
  });
}

}  // namespace

double least_half_width(const Vehicle& vehicle, VanSide side, double x0, double x1, double z0,
                        double z1) {
  double least = kFar;
  each_half_width(vehicle, side, x0, x1, z0, z1, [&](double y) { least = std::min(least, y); });
  return least;
}

double largest_half_width(const Vehicle& vehicle, VanSide side, double x0, double x1, double z0,
                          double z1) {
  double largest = 0.0;
  each_half_width(vehicle, side, x0, x1, z0, z1, [&](double y) { largest = std::max(largest, y); });
  return largest;
}

double arch_height(const WheelArch& arch, double x0, double x1) {
  const double level_from = arch.from + arch.radius;
  const double level_to = arch.to - arch.radius;
  // How far the nearest x of the range lies inside a rounded end, 0 on the level part.
  const double into = std::max({0.0, level_from - x1, x0 - level_to});
  if (into >= arch.radius) return into > arch.radius ? 0.0 : arch.height - arch.radius;
  return arch.height - arch.radius + std::sqrt(arch.radius * arch.radius - into * into);
}

double arch_half_width(const WheelArch& arch, double z) {
  const double into = z - (arch.height - arch.edge_radius);
  if (into <= 0.0) return arch.half_width;
  const double r = arch.edge_radius;
  return arch.half_width + r - std::sqrt(std::max(0.0, r * r - into * into));
}

std::vector<Polygon3> bow_surface(const Vehicle& vehicle, const Bow& bow) {
  std::vector<Polygon3> surface;
  const double x0 = bow.x - bow.width / 2.0;
  const double x1 = bow.x + bow.width / 2.0;
  const auto add = [&](const Triangle& t) {
    Polygon3 part = clipped(clipped({t.begin(), t.end()}, 0, x0, x1), 1, bow.from, bow.to);
    if (part.size() >= 3) surface.push_back(std::move(part));
  };
  each_span(vehicle, x0, x1, [&](std::size_t span, double, double) {
    const Strip left = strip(vehicle, VanSide::left, span);
    const Strip right = strip(vehicle, VanSide::right, span);
    for (const VanSide side : {VanSide::left, VanSide::right}) {
      const Strip& wall = side == VanSide::left ? left : right;
      for (std::size_t k = first_roof_rung(wall, side); k + 1 < wall.size(); ++k) {
        add(wall_triangle(wall, side, k));
      }
    }
    for (const Triangle& t : roof_triangles(left.back(), right.back())) add(t);
  });
  return surface;
}

bool overlap(double a0, double a1, double b0, double b1) {
  return a1 > b0 + kSame && b1 > a0 + kSame;
}

}  // namespace ribbay::detail
