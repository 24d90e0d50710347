#include "base/parallel.hpp"
#include "base/tolerance.hpp"
#include "body_pair.hpp"
#include "checks.hpp"
#include "clearance/sweep.hpp"
#include "findings.hpp"
#include "forerunners.hpp"
#include "motion_answers.hpp"
#include "motion_findings.hpp"
#include "movers.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

namespace ribbay::detail {

namespace {

std::optional<double> first_contact(const ConvexPiece& a, const ConvexPiece& b,
                                    const Motion& motion, double travel, double depth) {
  if (turns(motion)) return contact_angle(a, b, turn_of(motion), travel, depth);
  const auto stretch = contact_stretch(a, b, motion.axis, travel, depth);
  return stretch ? std::optional(stretch->from) : std::nullopt;
}

/// The earliest meeting within `travel`. Only pieces whose swept box comes near are looked at.
Meeting meet(const Pieces& a, const std::vector<Box>& swept, const Pieces& b, const Box& box_b,
             const Motion& motion, double travel) {
  Meeting first;
  for (std::size_t i = 0; i < a.size(); ++i) {
    if (!near(swept[i], box_b, -kContact)) continue;
    for (const ConvexPiece& q : b) {
      if (!near(swept[i], q.box, -kContact)) continue;
      const double limit = std::min(travel, first.most);
      const auto least = first_contact(a[i], q, motion, limit, kContact);
      if (!least) continue;
      const double excess = a[i].excess + q.excess;
      const auto most =
          excess > 0.0 ? first_contact(a[i], q, motion, limit, kContact + excess) : least;
      first.least = std::min(first.least, *least);
      if (most) first.most = std::min(first.most, *most);
    }
  }
  return first;
}

/// Somewhere in the overlap at the moment of contact.
Vec3 contact_place(const Pieces& a, const Pieces& b, const Motion& motion, double travel) {
  Pieces there;
  for (const ConvexPiece& piece : a) there.push_back(at_travel(piece, motion, travel));
  const Overlap common = overlap(there, b);
  if (common.volume > 0.0) return common.centre;
  Box box;
  for (const ConvexPiece& piece : there) box.add(piece.box);
  return box.centre();
}

/// The meeting of one mover and one obstacle, with arcs refined until it is known to within
/// kContact.
std::optional<Hit> hit_afresh(const Body& a, const std::vector<Box>& swept, const Body& b,
                              const Motion& motion, double travel) {
  Meeting meeting = meet(a.pieces(), swept, b.pieces(), b.box, motion, travel);
  if (meeting.least == kNever) return std::nullopt;
  const auto decided = [&] {
    return meeting.least == kNever ||
           meeting.most - meeting.least <= indifferent_travel(a.pieces(), motion);
  };
  Hit result{meeting, 0, 0, {}};
  if (decided()) {
    result.at = contact_place(a.pieces(), b.pieces(), motion, meeting.least);
    return result;
  }
  refine(a, b, [&](const Pieces& fine_a, const Pieces& fine_b) {
    std::vector<Box> fine_swept;
    for (const ConvexPiece& piece : fine_a) fine_swept.push_back(swept_box(piece, motion, travel));
    meeting = meet(fine_a, fine_swept, fine_b, b.box, motion, travel);
    if (meeting.least != kNever) {
      result.meeting = meeting;
      result.at = contact_place(fine_a, fine_b, motion, meeting.least);
    }
    return decided();
  });
  if (meeting.least == kNever) return std::nullopt;
  return result;
}

/// The same, unless it is known.
std::optional<Hit> hit(const Scene& scene, const Movers& movers, std::size_t m,
                       std::size_t obstacle, const Motion& motion, double travel) {
  const Body& a = scene.bodies[movers.bodies[m]];
  const Body& b = scene.bodies[obstacle];
  std::optional<Hit> found;
  if (a.known && b.known) {
    HitQuestion question{a.known.number, b.known.number};
    put_motion(question, 2, motion, travel);
    const auto known = a.known.recall->hits.get(question, [&] {
      const auto afresh = hit_afresh(a, movers.swept[m], b, motion, travel);
      return afresh ? std::make_shared<const Hit>(*afresh) : nullptr;
    });
    if (known) found = *known;
  } else {
    found = hit_afresh(a, movers.swept[m], b, motion, travel);
  }
  if (found) {
    found->mover = movers.bodies[m];
    found->obstacle = obstacle;
  }
  return found;
}

/// What can be in the way: near the swept space, not moving along, and not meant to sit in a mover.
std::vector<std::size_t> obstacles_of(const Scene& scene, const Movers& movers) {
  std::vector<std::size_t> found = scene.near(movers.box, -kContact);
  std::erase_if(found,
                [&](std::size_t k) { return std::ranges::binary_search(movers.bodies, k); });
  return found;
}

/// The earliest hit of all; of equally early ones, the first mover and obstacle by id.
std::optional<Hit> earliest_hit(const Scene& scene, const Movers& movers,
                                const std::vector<std::size_t>& obstacles, const Motion& motion) {
  std::optional<Hit> first;
  for (std::size_t m = 0; m < movers.bodies.size(); ++m) {
    for (const std::size_t k : obstacles) {
      if (!near(movers.boxes[m], scene.bodies[k].box, -kContact)) continue;
      if (exempt(scene, movers.bodies[m], k)) continue;
      const double travel = first ? std::min(motion.travel, first->meeting.most) : motion.travel;
      const auto here = hit(scene, movers, m, k, motion, travel);
      if (here && (!first || here->meeting.least < first->meeting.least)) first = here;
    }
  }
  return first;
}

/// The bodies that stop the motion before `required`.
std::vector<std::size_t> blockers(const Scene& scene, const Movers& movers,
                                  const std::vector<std::size_t>& obstacles, const Motion& motion) {
  std::vector<std::size_t> found;
  std::ranges::copy_if(obstacles, std::back_inserter(found), [&](std::size_t k) {
    for (std::size_t m = 0; m < movers.bodies.size(); ++m) {
      if (exempt(scene, movers.bodies[m], k)) continue;
      if (hit(scene, movers, m, k, motion, motion.required)) return true;
    }
    return false;
  });
  return found;
}

/// Level, and across the travel of a drawer; along the width of a door; along the axis of a flap.
Vec3 sideways(const Scene& scene, const Movers& movers, const Motion& motion) {
  const Vec3 across = cross(Vec3{0, 0, 1}, motion.axis);
  if (!turns(motion)) return length(across) > 1e-6 ? normalized(across) : Vec3{1, 0, 0};
  if (length(across) > 0.5) return motion.axis;
  Box closed;
  for (const std::size_t m : movers.bodies) closed.add(scene.bodies[m].box);
  return closed.size().x >= closed.size().y ? Vec3{1, 0, 0} : Vec3{0, 1, 0};
}

/// Whether the movers, shifted by `by` together with their turning axis, pass all blockers.
bool passes(const Scene& scene, const Movers& movers, const std::vector<std::size_t>& blocking,
            Motion motion, Vec3 by) {
  motion.origin = motion.origin + by;
  for (const std::size_t m : movers.bodies) {
    Pieces there;
    std::vector<Box> swept;
    for (const ConvexPiece& piece : scene.bodies[m].pieces()) {
      there.push_back(moved(piece, by));
      swept.push_back(swept_box(there.back(), motion, motion.travel));
    }
    for (const std::size_t k : blocking) {
      const Body& b = scene.bodies[k];
      if (exempt(scene, m, k)) continue;
      if (meet(there, swept, b.pieces(), b.box, motion, motion.travel).least != kNever) return false;
    }
  }
  return true;
}

/// The shift along `side` with which a door passes, rounded up to kCut: doubled until it passes,
/// then halved in. Infinite when a metre does not help.
double shift_by_trial(const Scene& scene, const Movers& movers,
                      const std::vector<std::size_t>& blocking, const Motion& motion, Vec3 side) {
  constexpr int kMost = 100000;  // steps of kCut
  const auto good = [&](int steps) {
    return passes(scene, movers, blocking, motion, side * (steps * kCut));
  };
  int enough = 1;
  while (!good(enough)) {
    if (enough >= kMost) return kNever;
    enough = std::min(2 * enough, kMost);
  }
  for (int little = enough / 2; enough - little > 1;) {
    const int middle = (little + enough) / 2;
    (good(middle) ? enough : little) = middle;
  }
  return enough * kCut;
}

/// The same for a drawer, in closed form: what it passes through is a convex piece itself.
double shift_in_closed_form(const Scene& scene, const Movers& movers,
                            const std::vector<std::size_t>& blocking, const Motion& motion,
                            Vec3 side) {
  Pieces swept;
  Pieces standing;
  for (const std::size_t m : movers.bodies) {
    for (const ConvexPiece& piece : scene.bodies[m].pieces()) {
      swept.push_back(swept_piece(piece, motion.axis, motion.travel));
    }
  }
  for (const std::size_t k : blocking) {
    std::ranges::copy(scene.bodies[k].pieces(), std::back_inserter(standing));
  }
  return travel_to_part(swept, standing, side);
}

/// The smallest shift of the movers to either side that lets them travel all the way past
/// everything they hit before `required`; 0 when there is none.
double sideways_shift(const Scene& scene, const Movers& movers,
                      const std::vector<std::size_t>& obstacles, const Motion& motion) {
  const std::vector<std::size_t> blocking = blockers(scene, movers, obstacles, motion);
  const Vec3 side = sideways(scene, movers, motion);
  const auto needed = [&](Vec3 way) {
    return turns(motion) ? shift_by_trial(scene, movers, blocking, motion, way)
                         : shift_in_closed_form(scene, movers, blocking, motion, way);
  };
  const double least = std::min(needed(side), needed(-side));
  return least == kNever ? 0.0 : least;
}

struct Outcome {
  MotionResult result;
  std::vector<Finding> findings;
};

/// A motion from one start on.
Outcome judge(const Scene& laid_out, const Start& start) {
  const Scene& scene = start.scene(laid_out);
  const Motion& motion = start.motion;
  Outcome outcome;
  MotionResult& result = outcome.result;
  result.motion = motion.id;
  result.opens = motion.travel;
  const Movers movers = movers_of(scene, motion);
  if (movers.bodies.empty()) return outcome;
  const std::vector<std::size_t> obstacles = obstacles_of(scene, movers);
  const auto first = earliest_hit(scene, movers, obstacles, motion);
  if (!first) return outcome;
  // Contact means kContact deep; on a straight way the faces met that much earlier.
  const auto opens = [&](double contact) {
    return turns(motion) ? contact : std::max(contact - kContact, 0.0);
  };
  result.opens = opens(first->meeting.least);
  result.mover = scene.bodies[first->mover].id;
  result.obstacle = scene.bodies[first->obstacle].id;
  result.at = first->at;
  result.blocked = opens(first->meeting.most) < motion.required - kSame;
  if (result.blocked) {
    if (!motion.gives_way.empty()) {
      result.shift = sideways_shift(scene, movers, obstacles, motion);
    }
    outcome.findings.push_back(motion_finding(motion, result));
  } else if (result.opens < motion.required - kSame) {
    outcome.findings.push_back(
        undecided_finding(result.mover, result.obstacle, 2 * kFinestChord + kContact, result.at));
  }
  return outcome;
}

/// How far a motion goes, of those that are judged already.
const MotionResult& told(const ClearanceResult& result, const Motion& motion) {
  return *std::ranges::find(result.motions, motion.id, &MotionResult::motion);
}

/// A motion from where those before it really end, and from where they must at least have gone.
Outcome check_motion(const Scene& laid_out, const Motion& motion, const ClearanceResult& before) {
  const Start real =
      start_of(laid_out, motion, [&](const Motion& first) { return told(before, first).opens; });
  Outcome outcome = judge(laid_out, real);
  if (real.held != nullptr) {
    if (outcome.result.blocked)
      add_held(outcome.findings.back(), real);
    else if (told(before, *real.held).blocked)
      outcome.findings.push_back(held_finding(real, outcome.result));
  }
  if (outcome.result.blocked) return outcome;
  const auto least = [&](const Motion& first) {
    return std::min(first.required, told(before, first).opens);
  };
  const bool opens_further = std::ranges::any_of(
      motions_before(*laid_out.layout, motion),
      [&](const Motion* first) { return least(*first) < told(before, *first).opens - kSame; });
  if (!opens_further) return outcome;
  const Start early = start_of(laid_out, motion, least);
  const MotionResult held = judge(laid_out, early).result;
  if (held.blocked) outcome.findings.push_back(early_finding(early, held));
  return outcome;
}

}  // namespace

void check_motions(const Scene& scene, int jobs, ClearanceResult& result) {
  const std::vector<Motion>& motions = scene.layout->motions;
  result.motions.resize(motions.size());
  // Those that come before others first: row by row.
  std::vector<std::vector<std::size_t>> rows;
  for (std::size_t i = 0; i < motions.size(); ++i) {
    result.motions[i].motion = motions[i].id;
    const std::size_t row = motions_before(*scene.layout, motions[i]).size();
    rows.resize(std::max(rows.size(), row + 1));
    rows[row].push_back(i);
  }
  for (const std::vector<std::size_t>& row : rows) {
    std::vector<Outcome> slots(row.size());
    for_each_slot(row.size(), jobs,
                  [&](std::size_t i) { slots[i] = check_motion(scene, motions[row[i]], result); });
    for (std::size_t i = 0; i < row.size(); ++i) {
      result.motions[row[i]] = std::move(slots[i].result);
      std::ranges::move(slots[i].findings, std::back_inserter(result.findings));
    }
  }
}

}  // namespace ribbay::detail
