#include "obstacles.hpp"

#include "base/tolerance.hpp"
#include "clearance/separation.hpp"
#include "clearance/sweep.hpp"

#include <algorithm>

namespace ribbay::detail {

double slack(const ConvexPiece& a, const ConvexPiece& b) {
  return kContact + a.excess + b.excess;
}

bool runs_into(const Solid& a, const Solid& b, Vec3 way, double travel) {
  Box swept = a.box;
  swept.add(Box{a.box.lo + way * travel, a.box.hi + way * travel});
  if (!near(swept, b.box, -kContact)) return false;
  return std::ranges::any_of(a.pieces, [&](const ConvexPiece& p) {
    const Box room = swept_box(p, way, travel);
    return near(room, b.box, -kContact) && std::ranges::any_of(b.pieces, [&](const ConvexPiece& q) {
             if (!near(room, q.box, -kContact)) return false;
             const auto met = contact_stretch(p, q, way, travel, slack(p, q));
             return met && met->from > 0.0;
           });
  });
}

bool overlap_in(const ToolRoom& room, const Solid& b) {
  return std::ranges::any_of(room, [&](const ConvexPiece& p) {
    return near(p.box, b.box, -kContact) &&
           std::ranges::any_of(b.pieces, [&](const ConvexPiece& q) {
             return near(p.box, q.box, -kContact) && separation(p, q, 0.0).distance < -slack(p, q);
           });
  });
}

}  // namespace ribbay::detail
