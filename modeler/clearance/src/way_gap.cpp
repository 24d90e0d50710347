#include "way_gap.hpp"

#include "base/tolerance.hpp"
#include "body_pair.hpp"
#include "motion_answers.hpp"
#include "movers.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

std::optional<NearestOnWay> nearest_on_way(const ConvexPiece& a, const ConvexPiece& b,
                                           const Motion& motion, double travel, double within) {
  return turns(motion) ? nearest_on_turn(a, b, turn_of(motion), travel, within)
                       : nearest_on_slide(a, b, motion.axis, travel, within);
}

/// Of all pairs of pieces the nearest.
std::optional<WayGap> nearest_of(const Pieces& a, const Pieces& b, const Box& box_b,
                                 const Motion& motion, double travel, double within) {
  std::optional<WayGap> least;
  for (const ConvexPiece& p : a) {
    const Box swept = swept_box(p, motion, travel);
    if (!near(swept, box_b, within)) continue;
    for (const ConvexPiece& q : b) {
      const double limit = least ? std::min(within, least->most) : within;
      if (!near(swept, q.box, limit)) continue;
      const auto here = nearest_on_way(p, q, motion, travel, limit);
      if (!here) continue;
      if (!least) least = WayGap{*here};
      least->most = std::min(least->most, here->distance + p.excess + q.excess);
      if (here->distance < least->nearest.distance) least->nearest = *here;
    }
  }
  return least;
}

std::optional<WayGap> way_gap_afresh(const Body& a, const Body& b, const Motion& motion,
                                     double travel, double within) {
  auto found = nearest_of(a.pieces(), b.pieces(), b.box, motion, travel, within);
  if (!found || found->most < within) return found;
  refine(a, b, [&](const Pieces& fine_a, const Pieces& fine_b) {
    found = nearest_of(fine_a, fine_b, b.box, motion, travel, within);
    return !found || found->most < within;
  });
  return found;
}

}  // namespace

std::optional<WayGap> way_gap(const Body& a, const Body& b, const Motion& motion, double travel,
                              double within) {
  if (!a.known || !b.known) return way_gap_afresh(a, b, motion, travel, within);
  WayQuestion question{a.known.number, b.known.number};
  put_motion(question, 2, motion, travel);
  question.back() = word(within);
  const auto known = a.known.recall->ways.get(question, [&] {
    const auto afresh = way_gap_afresh(a, b, motion, travel, within);
    return afresh ? std::make_shared<const WayGap>(*afresh) : nullptr;
  });
  return known ? std::optional(*known) : std::nullopt;
}

}  // namespace ribbay::detail
