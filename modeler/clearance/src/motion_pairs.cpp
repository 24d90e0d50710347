#include "base/parallel.hpp"
#include "base/tolerance.hpp"
#include "body_pair.hpp"
#include "broad_phase.hpp"
#include "checks.hpp"
#include "forerunners.hpp"
#include "motion_answers.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <string_view>

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

/// Pairs of motions that are not judged, each in rising order.
class LeftOut {
 public:
  LeftOut(const Scene& scene, const std::vector<Sweep>& sweeps) : scene_{scene}, sweeps_{sweeps} {
    for (std::size_t i = 0; i < sweeps.size(); ++i) {
      by_id_[scene.layout->motions[i].id] = i;
      for (const std::size_t body : sweeps[i].movers.bodies) moving_[body].push_back(i);
    }
    share_movers();
    come_before();
    kept_apart();
    already_told();
  }

  bool contains(IndexPair pair) const { return pairs_.contains(pair); }
  std::size_t size() const { return pairs_.size(); }

 private:
  /// What moves nothing is in no pair anyway.
  void add(std::size_t i, std::size_t k) {
    if (i != k && !sweeps_[i].movers.bodies.empty() && !sweeps_[k].movers.bodies.empty())
      pairs_.insert(std::minmax(i, k));
  }

  void share_movers() {
    for (const auto& [body, all] : moving_) {
      for (const std::size_t i : all) {
        for (const std::size_t k : all) add(i, k);
      }
    }
  }

  void come_before() {
    for (std::size_t i = 0; i < sweeps_.size(); ++i) {
      for (const Motion* first : motions_before(*scene_.layout, scene_.layout->motions[i]))
        add(by_id_.at(first->id), i);
    }
  }

  /// The file says that they are never open at once.
  void kept_apart() {
    for (const OneAtATime& rule : scene_.layout->one_at_a_time) {
      for (const std::string& one : rule.motions) {
        for (const std::string& other : rule.motions) {
          const auto i = by_id_.find(one);
          const auto k = by_id_.find(other);
          if (i != by_id_.end() && k != by_id_.end()) add(i->second, k->second);
        }
      }
    }
  }

  /// One of the two cannot open for the other even while that is shut.
  void already_told() {
    for (std::size_t i = 0; i < sweeps_.size(); ++i) {
      if (!sweeps_[i].alone->blocked) continue;
      const auto obstacle = scene_.part_named(sweeps_[i].alone->obstacle);
      const auto moving = obstacle ? moving_.find(*obstacle) : moving_.end();
      if (moving == moving_.end()) continue;
      for (const std::size_t k : moving->second) add(i, k);
    }
  }

  const Scene& scene_;
  const std::vector<Sweep>& sweeps_;
  std::map<std::string_view, std::size_t> by_id_;
  std::map<std::size_t, std::vector<std::size_t>> moving_;  ///< the motions that move a body
  std::set<IndexPair> pairs_;
};

/// How many pairs of motions are judged, and those of them whose ways come near each other.
struct PairsToJudge {
  std::size_t count = 0;
  std::vector<IndexPair> near;
};

PairsToJudge pairs_to_judge(const Scene& scene, const std::vector<Sweep>& sweeps) {
  std::vector<std::size_t> moving;
  std::vector<Box> boxes;
  for (std::size_t i = 0; i < sweeps.size(); ++i) {
    if (sweeps[i].movers.bodies.empty()) continue;
    moving.push_back(i);
    boxes.push_back(sweeps[i].movers.box);
  }
  const LeftOut left_out(scene, sweeps);
  PairsToJudge pairs{moving.size() * (moving.size() - std::min<std::size_t>(moving.size(), 1)) / 2 -
                         left_out.size(),
                     {}};
  for (const auto& [i, k] : near_pairs(boxes, -kContact)) {
    const IndexPair pair{moving[i], moving[k]};
    if (!left_out.contains(pair)) pairs.near.push_back(pair);
  }
  return pairs;
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
  const auto [count, pairs] = pairs_to_judge(scene, sweeps);
  result.motion_pairs = count;
  std::vector<PairFound> slots(pairs.size());
  for_each_slot(pairs.size(), jobs, [&, &near = pairs](std::size_t i) {
    slots[i] = judge_pair(scene, sweeps[near[i].first], sweeps[near[i].second]);
  });
  for (std::size_t i = 0; i < pairs.size(); ++i) {
    if (slots[i].met.answer == Answer::no) continue;
    result.findings.push_back(motion_pair_finding(layout.motions[pairs[i].first],
                                                  layout.motions[pairs[i].second], slots[i].told));
  }
}

}  // namespace ribbay::detail
