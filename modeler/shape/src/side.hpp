#pragma once

#include "shape/region.hpp"

#include <vector>

/// What the sides of an outline can be asked. Shared by the files of this folder.
namespace ribbay::detail {

/// An upright rectangle around something in the plane.
struct Rect {
  Vec2 lo;
  Vec2 hi;
};

Rect bounds(const Side& side);
Rect bounds(const std::vector<Side>& loop);

inline bool near(const Rect& a, const Rect& b, double margin) {
  return a.lo.x <= b.hi.x + margin && b.lo.x <= a.hi.x + margin && a.lo.y <= b.hi.y + margin &&
         b.lo.y <= a.hi.y + margin;
}
inline bool contains(const Rect& r, Vec2 p) {
  return r.lo.x <= p.x && p.x <= r.hi.x && r.lo.y <= p.y && p.y <= r.hi.y;
}

/// The angle that an arc turns through, positive; 0 for a straight side.
double sweep(const Side& side);

/// The point of `side` at `fraction` of its way from a to b.
Vec2 point_at(const Side& side, double fraction);

/// Unit direction of travel at point `p` of the side.
Vec2 tangent(const Side& side, Vec2 p);

/// Grows along the side from about 0 at its start; orders the points on it.
double position(const Side& side, Vec2 p);

/// The greatest dot product of `direction` with a point of the side.
double support(const Side& side, Vec2 direction);

/// Integrals over the area that the line from the origin to the side sweeps as it travels from a to
/// b, negative where it sweeps clockwise. Summed over a closed outline: the integrals over its
/// inside.
AreaMoments moments(const Side& side);

/// Adds the points where `s` and `t` meet within kSame: crossings, touches and the ends of
/// stretches that they share.
void add_contacts(const Side& s, const Side& t, std::vector<Vec2>& points);

/// How often the closed outline runs around `p`, which does not lie on it.
int winding(const std::vector<Side>& loop, Vec2 p);

}  // namespace ribbay::detail
