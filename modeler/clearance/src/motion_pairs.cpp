#include "base/parallel.hpp"
#include "base/tolerance.hpp"
#include "broad_phase.hpp"
#include "checks.hpp"
#include "clearance/separation.hpp"
#include "clearance/sweep.hpp"
#include "findings.hpp"
#include "movers.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

/// Motions two by two. A(s) meets B(t) for some openings s and t of two motions if and only if what
/// A passes through meets what B passes through, so all openings of both are judged at once.
namespace ribbay::detail {

namespace {

/// What one motion moves, where it stands when the motion begins, and what it passes through.
struct Sweep {
  const Motion* motion = nullptr;
  std::optional<Scene> later;  ///< after the motions that come before
  Movers movers;

  const Scene& scene(const Scene& laid_out) const { return later ? *later : laid_out; }
};

/// Whether two sweeps meet: yes, no, or it could not be told.
enum class Answer { no, yes, open };

/// Of two stretches: they meet where one does, and it is open where one is.
Answer both(Answer a, Answer b) {
  if (a == Answer::yes || b == Answer::yes) return Answer::yes;
  return a == Answer::open ? a : b;
}

/// Furthest that a point of the piece lies from the turning axis, mm.
double reach(const ConvexPiece& piece, const Motion& motion) {
  double radius = 0.0;
  for (const Vec3& p : piece.vertices)
    radius = std::max(radius, length(cross(motion.axis, p - motion.origin)));
  return radius;
}

/// Two pieces that both turn. b over a stretch of its travel stays within `slack` of its place in
/// the middle, so where a keeps that far from it, it keeps clear of all of the stretch; else the
/// stretch is halved.
Answer two_turns_meet(const ConvexPiece& a, const Motion& turn_a, const ConvexPiece& b,
                      const Motion& turn_b, double from, double to) {
  constexpr double kFinest = 0.05;  // mm of slack: below, nothing is decided
  const double excess = a.excess + b.excess;
  const double slack = reach(b, turn_b) * (to - from) / 2;
  const ConvexPiece middle = at_travel(b, turn_b, (from + to) / 2);
  if (!contact_angle(a, middle, turn_of(turn_a), turn_a.travel, kContact - slack))
    return Answer::no;
  if (contact_angle(a, middle, turn_of(turn_a), turn_a.travel, kContact + excess))
    return Answer::yes;
  if (slack < kFinest) return Answer::open;
  const double half = (from + to) / 2;
  const Answer first = two_turns_meet(a, turn_a, b, turn_b, from, half);
  if (first == Answer::yes) return first;
  return both(first, two_turns_meet(a, turn_a, b, turn_b, half, to));
}

Answer meet(const ConvexPiece& a, const Motion& motion_a, const ConvexPiece& b,
            const Motion& motion_b) {
  const double excess = a.excess + b.excess;
  if (turns(motion_a) && turns(motion_b))
    return two_turns_meet(a, motion_a, b, motion_b, 0.0, motion_b.travel);
  if (turns(motion_b)) return meet(b, motion_b, a, motion_a);
  const ConvexPiece swept_b = swept_piece(b, motion_b.axis, motion_b.travel);
  if (!turns(motion_a)) {
    const double apart =
        separation(swept_piece(a, motion_a.axis, motion_a.travel), swept_b).distance;
    return apart >= -kContact ? Answer::no
           : apart < -kContact - excess ? Answer::yes
                                        : Answer::open;
  }
  const auto angle = [&](double depth) {
    return contact_angle(a, swept_b, turn_of(motion_a), motion_a.travel, depth);
  };
  if (!angle(kContact)) return Answer::no;
  return excess == 0.0 || angle(kContact + excess) ? Answer::yes : Answer::open;
}

struct PairFound {
  Answer answer = Answer::no;
  std::size_t a = 0;  ///< bodies that meet, or may
  std::size_t b = 0;
  Vec3 at;
};

Vec3 middle_of_common(const Box& a, const Box& b) {
  const Vec3 lo{std::max(a.lo.x, b.lo.x), std::max(a.lo.y, b.lo.y), std::max(a.lo.z, b.lo.z)};
  const Vec3 hi{std::min(a.hi.x, b.hi.x), std::min(a.hi.y, b.hi.y), std::min(a.hi.z, b.hi.z)};
  return (lo + hi) * 0.5;
}

/// The first bodies that meet, else the first that may.
PairFound find_meeting(const Scene& laid_out, const Sweep& first, const Sweep& second) {
  PairFound found;
  for (std::size_t i = 0; i < first.movers.bodies.size(); ++i) {
    for (std::size_t k = 0; k < second.movers.bodies.size(); ++k) {
      const std::size_t body_a = first.movers.bodies[i];
      const std::size_t body_b = second.movers.bodies[k];
      if (!near(first.movers.boxes[i], second.movers.boxes[k], -kContact)) continue;
      if (exempt(laid_out, body_a, body_b)) continue;
      const Pieces& a = first.scene(laid_out).bodies[body_a].pieces;
      const Pieces& b = second.scene(laid_out).bodies[body_b].pieces;
      for (std::size_t p = 0; p < a.size(); ++p) {
        for (std::size_t q = 0; q < b.size(); ++q) {
          const Box& box_a = first.movers.swept[i][p];
          const Box& box_b = second.movers.swept[k][q];
          if (!near(box_a, box_b, -kContact)) continue;
          const Answer answer = meet(a[p], *first.motion, b[q], *second.motion);
          if (answer == Answer::no || answer == found.answer) continue;
          found = {answer, body_a, body_b, middle_of_common(box_a, box_b)};
          if (answer == Answer::yes) return found;
        }
      }
    }
  }
  return found;
}

bool comes_before(const Layout& layout, const Motion& first, const Motion& motion) {
  return std::ranges::any_of(motions_before(layout, motion), [&](const Motion* before) {
    return before->id == first.id;
  });
}

bool share_movers(const Movers& a, const Movers& b) {
  return std::ranges::any_of(a.bodies, [&](std::size_t body) {
    return std::ranges::find(b.bodies, body) != b.bodies.end();
  });
}

/// True when the file says that the two are never open at once.
bool kept_apart(const Layout& layout, const Motion& a, const Motion& b) {
  return std::ranges::any_of(layout.one_at_a_time, [&](const OneAtATime& rule) {
    return std::ranges::find(rule.motions, a.id) != rule.motions.end() &&
           std::ranges::find(rule.motions, b.id) != rule.motions.end();
  });
}

/// One of the two cannot open for the other even while that is shut: told already.
bool already_told(const ClearanceResult& result, const Sweep& a, const Sweep& b,
                  const Scene& scene) {
  const auto stops = [&](const Sweep& one, const Sweep& other) {
    const auto told = std::ranges::find(result.motions, one.motion->id, &MotionResult::motion);
    return told != result.motions.end() && told->blocked &&
           std::ranges::any_of(other.movers.bodies, [&](std::size_t body) {
             return scene.bodies[body].id == told->obstacle;
           });
  };
  return stops(a, b) || stops(b, a);
}

}  // namespace

void check_motion_pairs(const Scene& scene, int jobs, ClearanceResult& result) {
  const Layout& layout = *scene.layout;
  std::vector<Sweep> sweeps(layout.motions.size());
  for_each_slot(sweeps.size(), jobs, [&](std::size_t i) {
    Sweep& sweep = sweeps[i];
    sweep.motion = &layout.motions[i];
    sweep.later = scene_before(scene, *sweep.motion);
    sweep.movers = movers_of(sweep.scene(scene), *sweep.motion);
  });
  const auto judged = [&](const Sweep& a, const Sweep& b) {
    return !a.movers.bodies.empty() && !b.movers.bodies.empty() &&
           !share_movers(a.movers, b.movers) && !comes_before(layout, *a.motion, *b.motion) &&
           !comes_before(layout, *b.motion, *a.motion) &&
           !kept_apart(layout, *a.motion, *b.motion) && !already_told(result, a, b, scene);
  };
  std::vector<IndexPair> pairs;
  for (std::size_t i = 0; i < sweeps.size(); ++i) {
    for (std::size_t k = i + 1; k < sweeps.size(); ++k) {
      if (!judged(sweeps[i], sweeps[k])) continue;
      ++result.motion_pairs;
      if (near(sweeps[i].movers.box, sweeps[k].movers.box, -kContact)) pairs.emplace_back(i, k);
    }
  }
  std::vector<PairFound> slots(pairs.size());
  for_each_slot(pairs.size(), jobs, [&](std::size_t i) {
    slots[i] = find_meeting(scene, sweeps[pairs[i].first], sweeps[pairs[i].second]);
  });
  for (std::size_t i = 0; i < pairs.size(); ++i) {
    if (slots[i].answer == Answer::no) continue;
    result.findings.push_back(motion_pair_finding(
        *sweeps[pairs[i].first].motion, *sweeps[pairs[i].second].motion,
        scene.bodies[slots[i].a].id, scene.bodies[slots[i].b].id, slots[i].at,
        slots[i].answer == Answer::yes));
  }
}

}  // namespace ribbay::detail
