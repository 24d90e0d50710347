#include "base/tolerance.hpp"
#include "loft.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay {

using namespace detail;

namespace {

bool surveyed_at(const Vehicle& vehicle, double x) {
  return x >= vehicle.x_min() && x <= vehicle.x_max();
}

/// A box of space seen from the side.
struct Window {
  double x0, x1, z0, z1;
};

/// How far from the centre line the wall is free where something stands `depth` in front of it over
/// `there`; infinite when that does not reach into the window.
double face_half_width(const Vehicle& vehicle, VanSide side, const Window& w, const Window& there,
                       double depth) {
  if (!overlap(w.x0, w.x1, there.x0, there.x1) || !overlap(w.z0, w.z1, there.z0, there.z1)) {
    return kFar;
  }
  return least_half_width(vehicle, side, std::max(w.x0, there.x0), std::min(w.x1, there.x1),
                          std::max(w.z0, there.z0), std::min(w.z1, there.z1)) -
         depth;
}

double free_half_width(const Vehicle& vehicle, VanSide side, const Window& w) {
  double least = least_half_width(vehicle, side, w.x0, w.x1, w.z0, w.z1);
  for (const Rib& rib : vehicle.ribs) {
    if (rib.side != side) continue;
    const Window there{rib.x - rib.width / 2.0, rib.x + rib.width / 2.0, rib.from, rib.to};
    least = std::min(least, face_half_width(vehicle, side, w, there, protrusion(vehicle, rib)));
  }
  for (const Opening& opening : vehicle.openings) {
    const bool stands_in = opening.kind != OpeningKind::rear && opening.leaf.intrudes > 0.0;
    if (!stands_in || opening.side != side) continue;
    const Window there{opening.from, opening.to, opening.bottom, opening.top};
    least = std::min(least, face_half_width(vehicle, side, w, there, opening.leaf.intrudes));
  }
  for (const WheelArch& arch : vehicle.arches) {
    const bool beside = arch.side == side && overlap(w.x0, w.x1, arch.from, arch.to);
    if (beside && arch_height(arch, w.x0, w.x1) > w.z0 + kSame) {
      least = std::min(least, arch_half_width(arch, w.z0));
    }
  }
  return least;
}

/// Lowest face of the bows over the rectangle.
double lowest_bow(const Vehicle& vehicle, double x0, double x1, double y0, double y1) {
  double least = kFar;
  for (const Bow& bow : vehicle.bows) {
    const double from = bow.x - bow.width / 2.0;
    const double to = bow.x + bow.width / 2.0;
    if (!overlap(x0, x1, from, to) || !overlap(y0, y1, bow.from, bow.to)) continue;
    for (const Polygon3& part : bow_surface(vehicle, bow)) {
      const double roof = lowest(clipped(clipped(part, 0, x0, x1), 1, y0, y1));
      least = std::min(least, roof - protrusion(vehicle, bow));
    }
  }
  return least;
}

/// Least over x of the greatest half width over z: how far the room reaches in plan all along
/// from..to. The greatest of straight lines has its least value at an end or where two of them
/// cross.
double least_reach(const Strip& wall, VanSide side, double from, double to) {
  const auto reach = [&](const Rung& rung, double x) {
    const double t = (x - rung.rear.x) / (rung.front.x - rung.rear.x);
    return sign(side) * between(rung.rear, rung.front, t).y;
  };
  std::vector<double> candidates{from, to};
  for (std::size_t i = 0; i < wall.size(); ++i) {
    for (std::size_t k = i + 1; k < wall.size(); ++k) {
      const double at_from = reach(wall[i], from) - reach(wall[k], from);
      const double at_to = reach(wall[i], to) - reach(wall[k], to);
      if (at_from * at_to < 0.0) {
        candidates.push_back(from + (to - from) * at_from / (at_from - at_to));
      }
    }
  }
  double least = kFar;
  for (const double x : candidates) {
    double greatest = -kFar;
    for (const Rung& rung : wall) greatest = std::max(greatest, reach(rung, x));
    least = std::min(least, greatest);
  }
  return least;
}

/// Uncertainty of the measured point that is a corner of the wall.
double point_uncertainty(const Vehicle& vehicle, std::size_t span, VanSide side, Vec3 corner) {
  const Station& rear = vehicle.stations[span];
  const Station& station = corner.x == rear.x ? rear : vehicle.stations[span + 1];
  const auto found = std::ranges::find(points(station, side), corner.z, &WallPoint::z);
  return found->uncertainty;
}

/// The wall as (z, half width) points of a section.
std::vector<Vec2> half_widths(const std::vector<Vec2>& wall, VanSide side) {
  std::vector<Vec2> result;
  for (const Vec2& p : wall) result.push_back({p.y, sign(side) * p.x});
  return result;
}

}  // namespace

std::optional<double> wall_y(const Vehicle& vehicle, VanSide side, double x, double z) {
  if (!surveyed_at(vehicle, x)) return std::nullopt;
  const Section section = section_at(vehicle, x);
  const auto wall = half_widths(side == VanSide::left ? section.left : section.right, side);
  if (z < wall.front().x || z > wall.back().x) return std::nullopt;
  return sign(side) * value_at(wall, z);
}

std::optional<ClearWidth> clear_width(const Vehicle& vehicle, double x0, double x1, double z0,
                                      double z1) {
  if (x0 > x1) std::swap(x0, x1);
  if (z0 > z1) std::swap(z0, z1);
  if (!surveyed_at(vehicle, x0) || !surveyed_at(vehicle, x1) || z0 < 0.0 ||
      z1 > lowest_roof(vehicle, x0, x1)) {
    return std::nullopt;
  }
  const Window window{x0, x1, z0, z1};
  return ClearWidth{free_half_width(vehicle, VanSide::left, window),
                    -free_half_width(vehicle, VanSide::right, window)};
}

std::optional<double> detail::roof_height(const Vehicle& vehicle, double x0, double x1, double y0,
                                          double y1) {
  if (x0 > x1) std::swap(x0, x1);
  if (y0 > y1) std::swap(y0, y1);
  if (!surveyed_at(vehicle, x0) || !surveyed_at(vehicle, x1)) return std::nullopt;
  bool inside = true;
  double least = kFar;
  const auto look = [&](const Triangle& t) {
    if (is_beside(t, 0, x0, x1) || is_beside(t, 1, y0, y1) || unit_normal(t).z <= 0.0) return;
    least = std::min(least, lowest(clipped(clipped({t.begin(), t.end()}, 0, x0, x1), 1, y0, y1)));
  };
  each_span(vehicle, x0, x1, [&](std::size_t span, double from, double to) {
    const Strip left = strip(vehicle, VanSide::left, span);
    const Strip right = strip(vehicle, VanSide::right, span);
    inside = inside && y1 <= least_reach(left, VanSide::left, from, to) &&
             y0 >= -least_reach(right, VanSide::right, from, to);
    for (const VanSide side : {VanSide::left, VanSide::right}) {
      const Strip& wall = side == VanSide::left ? left : right;
      for (std::size_t k = 0; k + 1 < wall.size(); ++k) look(wall_triangle(wall, side, k));
    }
    for (const Triangle& t : roof_triangles(left.back(), right.back())) look(t);
  });
  if (!inside || least == kFar) return std::nullopt;
  return least;
}

std::optional<double> clear_height(const Vehicle& vehicle, double x0, double x1, double y0,
                                   double y1) {
  if (x0 > x1) std::swap(x0, x1);
  if (y0 > y1) std::swap(y0, y1);
  const auto roof = roof_height(vehicle, x0, x1, y0, y1);
  if (!roof) return std::nullopt;
  return std::min(*roof, lowest_bow(vehicle, x0, x1, y0, y1));
}

bool inside_room(const Vehicle& vehicle, Vec3 point) {
  if (!surveyed_at(vehicle, point.x) || point.z < 0.0) return false;
  const Section section = section_at(vehicle, point.x);
  const Vec2 left_top = section.roof.front();
  const Vec2 right_top = section.roof.back();
  // Below its top a wall bounds the room; above it the roof does.
  if (point.z <= left_top.y) {
    if (point.y > value_at(half_widths(section.left, VanSide::left), point.z)) return false;
  } else if (point.y > left_top.x) {
    return false;
  }
  if (point.z <= right_top.y) {
    if (-point.y > value_at(half_widths(section.right, VanSide::right), point.z)) return false;
  } else if (point.y < right_top.x) {
    return false;
  }
  if (point.y > left_top.x || point.y < right_top.x) return true;
  const std::vector<Vec2> roof(section.roof.rbegin(), section.roof.rend());
  return point.z <= value_at(roof, point.y);
}

double survey_uncertainty(const Vehicle& vehicle, double x0, double x1) {
  double largest = 0.0;
  each_span(vehicle, x0, x1, [&](std::size_t span, double, double) {
    largest = std::max(
        {largest, vehicle.stations[span].uncertainty, vehicle.stations[span + 1].uncertainty});
  });
  return largest;
}

double survey_uncertainty(const Vehicle& vehicle, double x0, double x1, double z0, double z1) {
  double largest = 0.0;
  each_span(vehicle, x0, x1, [&](std::size_t span, double from, double to) {
    for (const VanSide side : {VanSide::left, VanSide::right}) {
      const Strip wall = strip(vehicle, side, span);
      for (std::size_t k = 0; k + 1 < wall.size(); ++k) {
        const Triangle t = wall_triangle(wall, side, k);
        if (clipped(clipped({t.begin(), t.end()}, 0, from, to), 2, z0, z1).empty()) continue;
        for (const Vec3& corner : t) {
          largest = std::max(largest, point_uncertainty(vehicle, span, side, corner));
        }
      }
    }
  });
  return largest;
}

}  // namespace ribbay
