#include "structure/section.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

namespace ribbay {
namespace {

/// A straight piece of the boundary, material on its left. Warping varies on it as a parabola
/// through three nodes at the Gauss points; these lie inside the element, so corners need no care.
struct Element {
  Vec2 middle;
  Vec2 along;  ///< unit
  double length = 0.0;

  double node_offset() const { return std::sqrt(0.6) * length / 2.0; }
  Vec2 node(int k) const { return middle + along * ((k - 1) * node_offset()); }
  double node_weight(int k) const { return length * (k == 1 ? 8.0 : 5.0) / 18.0; }
  /// dw/dn at a point of the element: y nx - x ny.
  double slope_at(Vec2 p) const { return dot(p, along); }
};

/// Points that divide a line, closer towards its ends, where the solution has its corners.
void divide_line(const Side& side, double size, std::vector<Vec2>& points) {
  const Vec2 d = side.b - side.a;
  const int n = std::max(4, static_cast<int>(std::lround(length(d) / size)));
  for (int i = 0; i < n; ++i)
    points.push_back(side.a + d * ((1.0 - std::cos(std::numbers::pi * i / n)) / 2.0));
}

/// Points whose chords enclose the area of the arc: those between the ends lie a little outside, at
/// the root q of  2 r q + (n - 2) q^2 = r^2 angle / sin(angle / n).
void divide_arc(const Side& side, double size, std::vector<Vec2>& points) {
  const Vec2 a = side.a - side.centre;
  const Vec2 b = side.b - side.centre;
  const double angle = std::atan2(cross(a, b), dot(a, b));
  const int n = std::max(6, static_cast<int>(std::lround(std::abs(angle) * side.radius / size)));
  const double wanted = angle / std::sin(angle / n);
  const double q = (std::sqrt(1.0 + (n - 2) * wanted) - 1.0) / (n - 2);
  points.push_back(side.a);
  for (int i = 1; i < n; ++i) {
    const double turn = angle * i / n;
    points.push_back(side.centre + (a * std::cos(turn) + perpendicular(a) * std::sin(turn)) * q);
  }
}

/// The loop in straight steps of about `size`.
Loop divided(const Loop& loop, double size) {
  std::vector<Vec2> points;
  for (const Side& side : sides(loop))
    side.arc ? divide_arc(side, size, points) : divide_line(side, size, points);
  Loop polygon;
  for (const Vec2 p : points) polygon.push_back({p});
  return polygon;
}

void add_elements(const Loop& polygon, Vec2 origin, std::vector<Element>& elements) {
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Vec2 a = polygon[i].at - origin;
    const Vec2 b = polygon[(i + 1) % polygon.size()].at - origin;
    elements.push_back({(a + b) * 0.5, normalized(b - a), length(b - a)});
  }
}

/// Integrals over an element as seen from a point p, with u along the element and `off` across it,
/// measured from p to the element: all in closed form.
struct Seen {
  double log = 0.0;    ///< of ln r
  double u_log = 0.0;  ///< of u ln r
  double
      view[3]{};  ///< of d(ln r)/dn times 1, x, x^2, where x is measured from the element's middle
};

Seen seen_from(Vec2 p, const Element& e, bool on_it) {
  const double middle = dot(e.middle - p, e.along);
  const double from = middle - e.length / 2.0;
  const double to = middle + e.length / 2.0;
  const double off = on_it ? 0.0 : cross(e.middle - p, e.along);
  const double r2_from = from * from + off * off;
  const double r2_to = to * to + off * off;
  const double log_from = std::log(r2_from);
  const double log_to = std::log(r2_to);
  const double angle = off == 0.0 ? 0.0 : std::atan2(off * e.length, off * off + from * to);
  Seen seen;
  seen.log = (to * log_to - from * log_from) / 2.0 - e.length + off * angle;
  seen.u_log = (r2_to * (log_to - 1.0) - r2_from * (log_from - 1.0)) / 4.0;
  const double first = off * (log_to - log_from) / 2.0;
  const double second = off * (e.length - off * angle);
  seen.view[0] = angle;
  seen.view[1] = first - middle * angle;
  seen.view[2] = second - 2.0 * middle * first + middle * middle * angle;
  return seen;
}

}  // namespace

double torsion_constant(const Region& region, int nodes_wanted) {
  double total = perimeter(region.outer);
  for (const Loop& hole : region.holes) total += perimeter(hole);
  const double size = 3.0 * total / nodes_wanted;
  Region polygon{divided(region.outer, size)};
  for (const Loop& hole : region.holes) polygon.holes.push_back(divided(hole, size));

  const AreaMoments m = moments(polygon);
  const Vec2 centroid{m.x / m.area, m.y / m.area};
  const double polar = m.xx + m.yy - m.area * dot(centroid, centroid);
  std::vector<Element> elements;
  add_elements(polygon.outer, centroid, elements);
  for (const Loop& hole : polygon.holes) add_elements(hole, centroid, elements);

  // At each node p: w(p) / 2 - integral of w d(ln r)/dn / 2 pi = -integral of ln r dw/dn / 2 pi.
  const auto count = static_cast<Eigen::Index>(elements.size());
  Eigen::MatrixXd matrix(3 * count, 3 * count);
  Eigen::VectorXd right = Eigen::VectorXd::Zero(3 * count);
  const auto at = [&](Eigen::Index i) -> const Element& {
    return elements[static_cast<std::size_t>(i)];
  };
  constexpr double two_pi = 2.0 * std::numbers::pi;
  for (Eigen::Index row = 0; row < 3 * count; ++row) {
    const Vec2 p = at(row / 3).node(static_cast<int>(row % 3));
    for (Eigen::Index j = 0; j < count; ++j) {
      const Element& e = at(j);
      const Seen seen = seen_from(p, e, row / 3 == j);
      const double b = e.node_offset();
      const double odd = seen.view[1] / (2.0 * b);
      const double even = seen.view[2] / (2.0 * b * b);
      matrix(row, 3 * j) = -(even - odd) / two_pi;
      matrix(row, 3 * j + 1) = -(seen.view[0] - 2.0 * even) / two_pi;
      matrix(row, 3 * j + 2) = -(even + odd) / two_pi;
      // Along the element dw/dn grows with slope 1.
      right(row) -= (e.slope_at(p) * seen.log + seen.u_log) / two_pi;
    }
    matrix(row, row) += 0.5;
  }
  // Warping is known up to a constant: choose the one whose mean over the boundary is zero.
  for (Eigen::Index j = 0; j < 3 * count; ++j)
    matrix.col(j).array() += at(j / 3).node_weight(static_cast<int>(j % 3)) / total;

  const Eigen::VectorXd warping = matrix.partialPivLu().solve(right);
  double lost = 0.0;
  for (Eigen::Index j = 0; j < 3 * count; ++j) {
    const Element& e = at(j / 3);
    const int k = static_cast<int>(j % 3);
    lost += warping(j) * e.slope_at(e.node(k)) * e.node_weight(k);
  }
  return polar - lost;
}

}  // namespace ribbay
