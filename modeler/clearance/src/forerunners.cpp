#include "forerunners.hpp"

#include "base/tolerance.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

Frame frame_at_travel(const Frame& frame, const Motion& motion, double travel) {
  const auto point = [&](Vec3 p) {
    return turns(motion) ? turned(p, turn_of(motion), travel) : p + motion.axis * travel;
  };
  const Vec3 origin = point(frame.origin);
  const auto axis = [&](Vec3 a) { return point(frame.origin + a) - origin; };
  return {origin, axis(frame.x), axis(frame.y), axis(frame.z)};
}

/// A turn that was stopped stands kContact deep in what stopped it: by that much it goes back.
double freed(const Scene& scene, const std::vector<std::size_t>& bodies, const Motion& motion,
             double travel) {
  if (!turns(motion) || travel >= motion.travel) return travel;
  double back = 0.0;
  for (const std::size_t i : bodies)
    back = std::max(back, indifferent_travel(scene.bodies[i].pieces(), motion));
  return std::max(travel - back, 0.0);
}

void go(Scene& scene, const Motion& motion, double travel) {
  const std::vector<std::size_t> bodies = moving_bodies(scene, motion);
  const double way = freed(scene, bodies, motion, travel);
  scene.tree = nullptr;
  for (const std::size_t i : bodies) {
    Body& body = scene.bodies[i];
    body.frame = frame_at_travel(body.frame, motion, way);
    const Known before = body.known;
    Pieces there = body.pieces();
    for (ConvexPiece& piece : there) piece = at_travel(piece, motion, way);
    body.take(std::move(there));
    if (before)
      body.known = {before.recall, before.recall->number_of(before.number, motion, way)};
  }
}

/// `motion`, stated for the scene `then`, in the scene `there`.
Motion carried(Motion motion, const Scene& then, const Scene& there) {
  const auto image = [&](std::size_t body, Vec3 p) {
    return there.bodies[body].frame.point(then.bodies[body].frame.local_point(p));
  };
  const std::vector<std::size_t> bodies = moving_bodies(there, motion);
  if (bodies.empty()) return motion;
  const Vec3 tip = motion.origin + motion.axis;
  const Vec3 origin = image(bodies.front(), motion.origin);
  const Vec3 end = image(bodies.front(), tip);
  const bool alike = std::ranges::all_of(bodies, [&](std::size_t body) {
    return length(image(body, motion.origin) - origin) < kSame &&
           length(image(body, tip) - end) < kSame;
  });
  if (!alike) return motion;
  motion.axis = normalized(end - origin);
  motion.origin = origin;
  return motion;
}

}  // namespace

std::vector<const Motion*> motions_before(const Layout& layout, const Motion& motion) {
  std::vector<const Motion*> before;
  for (const Motion* last = &motion; !last->after.empty();) {
    const auto found = std::ranges::find(layout.motions, last->after, &Motion::id);
    if (found == layout.motions.end()) break;
    last = &*found;
    if (last->id == motion.id || std::ranges::find(before, last) != before.end()) return {};
    before.push_back(last);
  }
  return before;
}

Start start_of(const Scene& laid_out, const Motion& motion, const Gone& gone) {
  Start start;
  start.motion = motion;
  const std::vector<const Motion*> before = motions_before(*laid_out.layout, motion);
  if (before.empty()) return start;
  std::optional<Scene> then;  // all the way, as the axes are stated; only once one is held
  start.later = laid_out;
  Scene& there = *start.later;
  for (auto each = before.rbegin(); each != before.rend(); ++each) {
    const Motion& first = **each;
    const double travel = gone(first);
    const bool held = travel < first.travel - kSame;
    if (held && !then) then = there;
    go(there, then ? carried(first, *then, there) : first, travel);
    if (then) go(*then, first, first.travel);
    if (!held) continue;
    start.held = &first;
    start.held_at = travel;
  }
  if (then) start.motion = carried(motion, *then, there);
  return start;
}

}  // namespace ribbay::detail
