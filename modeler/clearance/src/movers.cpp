#include "movers.hpp"

#include <algorithm>

namespace ribbay::detail {

ConvexPiece at_travel(const ConvexPiece& piece, const Motion& motion, double travel) {
  return turns(motion) ? turned(piece, turn_of(motion), travel)
                       : moved(piece, motion.axis * travel);
}

Box swept_box(const ConvexPiece& piece, const Motion& motion, double travel) {
  return turns(motion) ? ribbay::swept_box(piece, turn_of(motion), travel)
                       : ribbay::swept_box(piece, motion.axis, travel);
}

ConvexPiece swept_piece(const ConvexPiece& piece, Vec3 direction, double travel) {
  ConvexPiece swept = piece;
  swept.faces.clear();
  for (const Vec3& p : piece.vertices) swept.vertices.push_back(p + direction * travel);
  for (const Vec3& e : piece.edges) {
    const Vec3 normal = cross(direction, e);
    if (length(normal) > 1e-8) swept.normals.push_back(normalized(normal));
  }
  swept.edges.push_back(direction);
  swept.box = ribbay::swept_box(piece, direction, travel);
  return swept;
}

Movers movers_of(const Scene& scene, const Motion& motion) {
  std::vector<char> moves(scene.bodies.size(), 0);
  for (std::size_t i = 0; i < scene.parts; ++i) {
    moves[i] = std::ranges::find(motion.parts, scene.bodies[i].id) != motion.parts.end();
  }
  Movers movers;
  for (std::size_t i = 0; i < scene.parts; ++i) {
    const Body& body = scene.bodies[i];
    const bool rides =
        body.hardware() && !body.hosts.empty() &&
        std::ranges::all_of(body.hosts, [&](std::size_t k) { return moves[k] != 0; });
    if (!moves[i] && !rides) continue;
    movers.bodies.push_back(i);
    std::vector<Box>& swept = movers.swept.emplace_back();
    Box& box = movers.boxes.emplace_back();
    for (const ConvexPiece& piece : body.pieces) {
      swept.push_back(swept_box(piece, motion, motion.travel));
      box.add(swept.back());
    }
    movers.box.add(box);
  }
  return movers;
}

namespace {

Frame frame_at_travel(const Frame& frame, const Motion& motion, double travel) {
  const auto point = [&](Vec3 p) {
    return turns(motion) ? turned(p, turn_of(motion), travel) : p + motion.axis * travel;
  };
  const Vec3 origin = point(frame.origin);
  const auto axis = [&](Vec3 a) { return point(frame.origin + a) - origin; };
  return {origin, axis(frame.x), axis(frame.y), axis(frame.z)};
}

/// The scene when `motion` has gone all its way.
Scene scene_after(Scene scene, const Motion& motion) {
  for (const std::size_t i : movers_of(scene, motion).bodies) {
    Body& body = scene.bodies[i];
    body.frame = frame_at_travel(body.frame, motion, motion.travel);
    body.box = {};
    for (ConvexPiece& piece : body.pieces) {
      piece = at_travel(piece, motion, motion.travel);
      body.box.add(piece.box);
    }
  }
  return scene;
}

}  // namespace

std::vector<const Motion*> motions_before(const Layout& layout, const Motion& motion) {
  constexpr std::size_t kLongest = 10;
  std::vector<const Motion*> before;
  for (const Motion* last = &motion; !last->after.empty() && before.size() < kLongest;) {
    const auto found = std::ranges::find(layout.motions, last->after, &Motion::id);
    if (found == layout.motions.end()) break;
    last = &*found;
    before.push_back(last);
  }
  return before;
}

std::optional<Scene> scene_before(const Scene& laid_out, const Motion& motion) {
  const std::vector<const Motion*> before = motions_before(*laid_out.layout, motion);
  std::optional<Scene> later;
  for (auto each = before.rbegin(); each != before.rend(); ++each)
    later = scene_after(later ? std::move(*later) : laid_out, **each);
  return later;
}

}  // namespace ribbay::detail
