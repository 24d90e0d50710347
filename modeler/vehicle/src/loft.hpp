#pragma once

#include "vehicle/vehicle.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <vector>

/// The surface of the room between stations. Every question and every body is made from exactly
/// these triangles, so they cannot disagree.
namespace ribbay::detail {

inline constexpr double kFar = std::numeric_limits<double>::infinity();

using Triangle = std::array<Vec3, 3>;

/// A line across the wall from a point of the rear station to one of the front station.
struct Rung {
  Vec3 rear;
  Vec3 front;
};

/// The wall of one side between two neighbouring stations, from the floor up. Neighbouring rungs
/// share one end, so each pair bounds one triangle.
using Strip = std::vector<Rung>;

/// The point at share t of the way from a to b: exactly a and b at the ends, and never beside equal
/// values.
inline Vec3 between(Vec3 a, Vec3 b, double t) {
  return {std::lerp(a.x, b.x, t), std::lerp(a.y, b.y, t), std::lerp(a.z, b.z, t)};
}

/// Span i lies between stations i and i + 1.
inline std::size_t span_count(const Vehicle& vehicle) {
  return vehicle.stations.size() - 1;
}
/// The span that holds x, which must lie in the surveyed room.
std::size_t span_at(const Vehicle& vehicle, double x);

Strip strip(const Vehicle& vehicle, VanSide side, std::size_t span);

/// The triangle between rungs k and k + 1; its normal (by the right hand) points out of the room.
Triangle wall_triangle(const Strip& strip, VanSide side, std::size_t k);

/// The triangles between the top rungs, normals upward; those without area are left out.
std::vector<Triangle> roof_triangles(const Rung& left_top, const Rung& right_top);

/// The rung above which the wall counts as roof: from there up every triangle leans inward by 45
/// degrees or more, so the room nowhere widens above it.
std::size_t first_roof_rung(const Strip& wall, VanSide side);

/// The room cut at one x: walls from the floor up and the roof from left to right, all as (y, z).
struct Section {
  std::vector<Vec2> left;
  std::vector<Vec2> right;
  std::vector<Vec2> roof;
};
Section section_at(const Vehicle& vehicle, double x);

/// Value at `at` of the polyline that goes through (position, value) points with rising positions.
/// Precondition: `at` lies within the positions.
double value_at(const std::vector<Vec2>& points, double at);

using Polygon3 = std::vector<Vec3>;
/// The part of a convex polygon with lo <= p[axis] <= hi. May be a line or a point.
Polygon3 clipped(Polygon3 polygon, int axis, double lo, double hi);
/// True when clipping the triangle would leave nothing of it.
bool is_beside(const Triangle& triangle, int axis, double lo, double hi);

/// +1 on the left, -1 on the right: the sign of y.
inline double sign(VanSide side) {
  return side == VanSide::left ? 1.0 : -1.0;
}
inline const std::vector<WallPoint>& points(const Station& station, VanSide side) {
  return side == VanSide::left ? station.left : station.right;
}

/// Unit normal of a triangle with area.
inline Vec3 unit_normal(const Triangle& t) {
  return normalized(cross(t[1] - t[0], t[2] - t[0]));
}

double lowest(const Polygon3& polygon);  ///< least z; infinite for an empty polygon

/// Calls `visit(span, from, to)` for each span that shares something with x0..x1.
template <class Visit>
void each_span(const Vehicle& vehicle, double x0, double x1, Visit visit) {
  for (std::size_t span = 0; span < span_count(vehicle); ++span) {
    const double from = std::max(x0, vehicle.stations[span].x);
    const double to = std::min(x1, vehicle.stations[span + 1].x);
    if (from <= to) visit(span, from, to);
  }
}

/// Lowest z of the roof between the top points over x0..x1 and all its width.
double lowest_roof(const Vehicle& vehicle, double x0, double x1);

/// Lowest height of the bare roof over a rectangle, as clear_height() without the bows.
std::optional<double> roof_height(const Vehicle& vehicle, double x0, double x1, double y0,
                                  double y1);

/// Least distance of the bare wall from the centre line over x0..x1 and z0..z1, which must lie in
/// the room. The wall is plane between its edges, so the least value lies on a corner of a clipped
/// triangle.
double least_half_width(const Vehicle& vehicle, VanSide side, double x0, double x1, double z0,
                        double z1);

/// The greatest of the same.
double largest_half_width(const Vehicle& vehicle, VanSide side, double x0, double x1, double z0,
                          double z1);

/// Largest height of the arch over x0..x1.
double arch_height(const WheelArch& arch, double x0, double x1);

/// Distance of the arch's inboard face from the centre line at height z, which it must reach.
double arch_half_width(const WheelArch& arch, double z);

/// What the bow hangs under: the roof, and the walls where they lean inward by 45 degrees or more,
/// over the bow's width and between its ends. Pieces may be lines.
std::vector<Polygon3> bow_surface(const Vehicle& vehicle, const Bow& bow);

/// True when the insides of the ranges share something; a range without length counts as its point.
bool overlap(double a0, double a1, double b0, double b1);

/// How far ribs and bows stand in front of the surveyed surface.
template <class Standing>
double protrusion(const Vehicle& vehicle, const Standing& standing) {
  return vehicle.stations.front().surveyed == Surveyed::skin ? standing.depth : 0.0;
}

}  // namespace ribbay::detail
