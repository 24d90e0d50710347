#include "sweep_pair.hpp"

#include "base/tolerance.hpp"
#include "clearance/separation.hpp"

#include <algorithm>
#include <tuple>

namespace ribbay::detail {

namespace {

std::optional<double> angle_of_contact(const ConvexPiece& a, const Moving& turn,
                                       const ConvexPiece& b, double depth) {
  return contact_angle(a, b, turn_of(*turn.motion), turn.travel, depth);
}

/// Two pieces that both turn. b over a stretch of its travel stays within `slack` of its place in
/// the middle, so where a keeps that far from it, it keeps clear of all of the stretch; else the
/// stretch is halved.
Met two_turns_meet(const ConvexPiece& a, const Moving& turn_a, const ConvexPiece& b,
                   const Moving& turn_b, double from, double to) {
  constexpr double kFinest = 0.05;  // mm of slack: below, nothing is decided
  const double excess = a.excess + b.excess;
  const double slack = reach({b}, *turn_b.motion) * (to - from) / 2;
  const double half = (from + to) / 2;
  const ConvexPiece middle = at_travel(b, *turn_b.motion, half);
  const auto may = angle_of_contact(a, turn_a, middle, kContact - slack);
  if (!may) return {};
  if (const auto does = angle_of_contact(a, turn_a, middle, kContact + excess))
    return {Answer::yes, *does, half};
  if (slack < kFinest) return {Answer::open, *may, half};
  const Met first = two_turns_meet(a, turn_a, b, turn_b, from, half);
  if (first.answer == Answer::yes) return first;
  const Met second = two_turns_meet(a, turn_a, b, turn_b, half, to);
  return comes_first(second, first) ? second : first;
}

/// b slides; a slides or turns. What b passes through is a convex piece itself.
Met meet_sliding(const ConvexPiece& a, const Moving& moving_a, const ConvexPiece& b,
                 const Moving& slide_b) {
  const Vec3 way = slide_b.motion->axis;
  const ConvexPiece swept = swept_piece(b, way, slide_b.travel);
  const auto contact = [&](double depth) -> std::optional<double> {
    if (turns(*moving_a.motion)) return angle_of_contact(a, moving_a, swept, depth);
    const auto stretch = contact_stretch(a, swept, moving_a.motion->axis, moving_a.travel, depth);
    return stretch ? std::optional(stretch->from) : std::nullopt;
  };
  const auto may = contact(kContact);
  if (!may) return {};
  const double excess = a.excess + b.excess;
  const auto does = excess > 0.0 ? contact(kContact + excess) : may;
  Met met{does ? Answer::yes : Answer::open, does.value_or(*may), slide_b.travel};
  const ConvexPiece there = at_travel(a, *moving_a.motion, met.open_a);
  if (const auto stretch = contact_stretch(b, there, way, slide_b.travel, 0.0))
    met.open_b = stretch->from;
  return met;
}

Met swapped(Met met) {
  std::swap(met.open_a, met.open_b);
  return met;
}

Met pieces_meet(const ConvexPiece& a, const Moving& moving_a, const ConvexPiece& b,
                const Moving& moving_b) {
  if (!turns(*moving_b.motion)) return meet_sliding(a, moving_a, b, moving_b);
  if (!turns(*moving_a.motion)) return swapped(meet_sliding(b, moving_b, a, moving_a));
  return two_turns_meet(a, moving_a, b, moving_b, 0.0, moving_b.travel);
}

std::vector<Box> swept_boxes(const Pieces& pieces, const Moving& moving) {
  std::vector<Box> boxes;
  for (const ConvexPiece& piece : pieces)
    boxes.push_back(swept_box(piece, *moving.motion, moving.travel));
  return boxes;
}

}  // namespace

bool comes_first(const Met& one, const Met& other) {
  const auto rank = [](const Met& met) {
    const int kind = met.answer == Answer::yes ? 0 : met.answer == Answer::open ? 1 : 2;
    return std::tuple(kind, met.open_a, met.open_b);
  };
  return one.answer != Answer::no && rank(one) < rank(other);
}

Met sweeps_meet(const Pieces& a, const Moving& moving_a, const Pieces& b, const Moving& moving_b) {
  const std::vector<Box> boxes_a = swept_boxes(a, moving_a);
  const std::vector<Box> boxes_b = swept_boxes(b, moving_b);
  Met first;
  for (std::size_t i = 0; i < a.size(); ++i) {
    for (std::size_t k = 0; k < b.size(); ++k) {
      if (!near(boxes_a[i], boxes_b[k], -kContact)) continue;
      Met here = pieces_meet(a[i], moving_a, b[k], moving_b);
      here.a = i;
      here.b = k;
      if (comes_first(here, first)) first = here;
    }
  }
  return first;
}

Vec3 meeting_place(const Pieces& a, const Moving& moving_a, const Pieces& b, const Moving& moving_b,
                   const Met& met) {
  // A hair further than first contact, so that there is something in common.
  const auto there = [](const ConvexPiece& piece, const Moving& moving, double open) {
    const double hair = indifferent_travel({piece}, *moving.motion);
    return at_travel(piece, *moving.motion, std::min(open + hair, moving.travel));
  };
  const ConvexPiece one = there(a[met.a], moving_a, met.open_a);
  const ConvexPiece other = there(b[met.b], moving_b, met.open_b);
  if (const Overlap common = overlap(one, other); common.volume > 0.0) return common.centre;
  const Separation apart = separation(one, other);
  if (apart.distance > 0.0) {
    if (const auto nearest = closest_points(one, other, apart, apart.distance * 2 + kContact))
      return (nearest->on_a + nearest->on_b) * 0.5;
  }
  const auto inner = [](double lo_a, double lo_b, double hi_a, double hi_b) {
    return (std::max(lo_a, lo_b) + std::min(hi_a, hi_b)) / 2;
  };
  const Box& p = one.box;
  const Box& q = other.box;
  return {inner(p.lo.x, q.lo.x, p.hi.x, q.hi.x), inner(p.lo.y, q.lo.y, p.hi.y, q.hi.y),
          inner(p.lo.z, q.lo.z, p.hi.z, q.hi.z)};
}

}  // namespace ribbay::detail
