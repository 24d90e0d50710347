#include "base/parallel.hpp"
#include "base/tolerance.hpp"
#include "body_pair.hpp"
#include "broad_phase.hpp"
#include "checks.hpp"
#include "forerunners.hpp"
#include "motion_answers.hpp"

#include <algorithm>

/// Motions two by two. A(s) meets B(t) for some openings s and t of two motions if and only if what
/// A passes through meets what B passes through, so all openings of both are judged at once, as far
/// as each really opens.
namespace ribbay::detail {

namespace {

/// What one motion moves, where that stands when the motion begins, and what it passes through.
struct Sweep {
  Start start;  ///< its motion's travel is cut down to what it really opens
  Movers movers;
  const MotionResult* alone = nullptr;

  /// As far as it opens, or only as far as it must.
  Moving moving(bool all) const {
    const Motion& motion = start.motion;
    return {&motion, all ? motion.travel : std::min(motion.travel, motion.required)};
  }
  bool opens_further() const { return moving(false).travel < start.motion.travel - kSame; }
};

/// Two bodies that move. Round ones are covered finer until it can be told.
PairFound meeting_afresh(const Body& a, const Moving& moving_a, const Body& b,
                         const Moving& moving_b) {
  const auto judge = [&](const Pieces& pieces_a, const Pieces& pieces_b) {
    PairFound found{sweeps_meet(pieces_a, moving_a, pieces_b, moving_b), {}};
    if (found.met.answer != Answer::no)
      found.told.at = meeting_place(pieces_a, moving_a, pieces_b, moving_b, found.met);
    return found;
  };
  PairFound found = judge(a.pieces(), b.pieces());
  const auto is_covered = [](const ConvexPiece& piece) { return piece.excess > 0.0; };
  if (found.met.answer == Answer::open &&
      (std::ranges::any_of(a.pieces(), is_covered) || std::ranges::any_of(b.pieces(), is_covered))) {
    refine(a, b, [&](const Pieces& fine_a, const Pieces& fine_b) {
      found = judge(fine_a, fine_b);
      return found.met.answer != Answer::open;
    });
  }
  return found;
}

/// The same, unless it is known.
PairFound bodies_meet(const Body& a, const Moving& moving_a, const Body& b,
                      const Moving& moving_b) {
  PairFound found;
  if (a.known && b.known) {
    SweepsQuestion question{a.known.number, b.known.number};
    put_motion(question, 2, *moving_a.motion, moving_a.travel);
    put_motion(question, 10, *moving_b.motion, moving_b.travel);
    found = *a.known.recall->sweeps.get(question, [&] {
      return std::make_shared<const PairFound>(meeting_afresh(a, moving_a, b, moving_b));
    });
  } else {
    found = meeting_afresh(a, moving_a, b, moving_b);
  }
  found.told.part_a = a.id;
  found.told.part_b = b.id;
  return found;
}

/// Where the two meet first, else where they may.
PairFound find_meeting(const Scene& laid_out, const Sweep& first, const Sweep& second, bool all) {
  PairFound found;
  const Moving moving_a = first.moving(all);
  const Moving moving_b = second.moving(all);
  for (std::size_t i = 0; i < first.movers.bodies.size(); ++i) {
    for (std::size_t k = 0; k < second.movers.bodies.size(); ++k) {
      const std::size_t a = first.movers.bodies[i];
      const std::size_t b = second.movers.bodies[k];
      if (!near(first.movers.boxes[i], second.movers.boxes[k], -kContact)) continue;
      if (exempt(laid_out, a, b)) continue;
      PairFound here = bodies_meet(first.start.scene(laid_out).bodies[a], moving_a,
                                   second.start.scene(laid_out).bodies[b], moving_b);
      if (comes_first(here.met, found.met)) found = std::move(here);
    }
  }
  found.told.open_a = found.met.open_a;
  found.told.open_b = found.met.open_b;
  found.told.proven = found.met.answer == Answer::yes;
  return found;
}

/// At openings that both must reach, else at those beyond.
PairFound judge_pair(const Scene& laid_out, const Sweep& first, const Sweep& second) {
  PairFound found = find_meeting(laid_out, first, second, false);
  if (found.met.answer != Answer::no || (!first.opens_further() && !second.opens_further()))
    return found;
  found = find_meeting(laid_out, first, second, true);
  found.told.beyond = true;
  return found;
}

bool comes_before(const Layout& layout, const Motion& first, const Motion& motion) {
  return std::ranges::any_of(motions_before(layout, motion),
                             [&](const Motion* before) { return before->id == first.id; });
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
bool already_told(const Sweep& a, const Sweep& b, const Scene& scene) {
  const auto stops = [&](const Sweep& one, const Sweep& other) {
    return one.alone->blocked && std::ranges::any_of(other.movers.bodies, [&](std::size_t body) {
             return scene.bodies[body].id == one.alone->obstacle;
           });
  };
  return stops(a, b) || stops(b, a);
}

}  // namespace

void check_motion_pairs(const Scene& scene, int jobs, ClearanceResult& result) {
  const Layout& layout = *scene.layout;
  const auto opens = [&](const Motion& motion) {
    return std::ranges::find(result.motions, motion.id, &MotionResult::motion)->opens;
  };
  std::vector<Sweep> sweeps(layout.motions.size());
  for_each_slot(sweeps.size(), jobs, [&](std::size_t i) {
    Sweep& sweep = sweeps[i];
    sweep.start = start_of(scene, layout.motions[i], opens);
    sweep.alone = &result.motions[i];
    sweep.start.motion.travel = sweep.alone->opens;
    sweep.movers = movers_of(sweep.start.scene(scene), sweep.start.motion);
  });
  const auto judged = [&](const Sweep& a, const Sweep& b) {
    const Motion& first = a.start.motion;
    const Motion& second = b.start.motion;
    return !a.movers.bodies.empty() && !b.movers.bodies.empty() &&
           !share_movers(a.movers, b.movers) && !comes_before(layout, first, second) &&
           !comes_before(layout, second, first) && !kept_apart(layout, first, second) &&
           !already_told(a, b, scene);
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
    slots[i] = judge_pair(scene, sweeps[pairs[i].first], sweeps[pairs[i].second]);
  });
  for (std::size_t i = 0; i < pairs.size(); ++i) {
    if (slots[i].met.answer == Answer::no) continue;
    result.findings.push_back(motion_pair_finding(layout.motions[pairs[i].first],
                                                  layout.motions[pairs[i].second], slots[i].told));
  }
}

}  // namespace ribbay::detail
