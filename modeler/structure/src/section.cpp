#include "structure/section.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ribbay {

SectionProperties section_properties(const Region& region) {
  SectionProperties p;
  const AreaMoments about_origin = moments(region);
  p.area = about_origin.area;
  p.centroid = {about_origin.x / p.area, about_origin.y / p.area};

  const Vec2 home = p.centroid * -1.0;
  Region central{moved(region.outer, home)};
  for (const Loop& hole : region.holes) central.holes.push_back(moved(hole, home));
  const AreaMoments m = moments(central);
  p.ixx = m.yy;
  p.iyy = m.xx;
  p.ixy = m.xy;

  const auto modulus = [&](double inertia, Vec2 outwards) {
    return inertia / reach(central.outer, outwards);
  };
  p.wx_top = modulus(p.ixx, {0, 1});
  p.wx_bottom = modulus(p.ixx, {0, -1});
  p.wy_left = modulus(p.iyy, {-1, 0});
  p.wy_right = modulus(p.iyy, {1, 0});

  const double mean = (p.ixx + p.iyy) / 2.0;
  const double half_difference = (p.ixx - p.iyy) / 2.0;
  const double radius = std::hypot(half_difference, p.ixy);
  p.i_major = mean + radius;
  p.i_minor = mean - radius;
  // A section that is equal about all axes keeps x as its major axis; below this is rounding.
  if (radius > 1e-9 * mean) p.angle = std::atan2(-p.ixy, half_difference) / 2.0;
  const Vec2 major{std::cos(p.angle), std::sin(p.angle)};
  const Vec2 minor = perpendicular(major);
  p.w_major = std::min(modulus(p.i_major, minor), modulus(p.i_major, minor * -1.0));
  p.w_minor = std::min(modulus(p.i_minor, major), modulus(p.i_minor, major * -1.0));

  p.perimeter = perimeter(region.outer);
  for (const Loop& hole : region.holes) p.inner_perimeter += perimeter(hole);
  return p;
}

double hollow_torsion_constant(double h, double b, double t, double r_out, double r_in) {
  const double corner = (r_out + r_in) / 2.0;
  const double missing = (4.0 - std::numbers::pi) * corner;
  const double mean_perimeter = 2.0 * (h - t + b - t) - 2.0 * missing;
  const double enclosed = (h - t) * (b - t) - missing * corner;
  const double k = 2.0 * enclosed * t / mean_perimeter;
  return t * t * t * mean_perimeter / 3.0 + 2.0 * k * enclosed;
}

}  // namespace ribbay
