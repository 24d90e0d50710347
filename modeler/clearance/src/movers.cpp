#include "movers.hpp"

#include "base/tolerance.hpp"

#include <algorithm>
#include <set>

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

std::vector<std::size_t> moving_bodies(const Scene& scene, const Motion& motion) {
  std::set<std::size_t> moves;
  for (const std::string& part : motion.parts) {
    if (const auto body = scene.part_named(part)) moves.insert(*body);
  }
  std::set<std::size_t> all = moves;
  for (const std::size_t host : moves) {
    for (const std::size_t guest : scene.bodies[host].guests) {
      const bool rides = std::ranges::all_of(
          scene.bodies[guest].hosts, [&](std::size_t k) { return moves.contains(k); });
      if (rides) all.insert(guest);
    }
  }
  return {all.begin(), all.end()};
}

Movers movers_of(const Scene& scene, const Motion& motion) {
  Movers movers;
  movers.bodies = moving_bodies(scene, motion);
  for (const std::size_t i : movers.bodies) {
    std::vector<Box>& swept = movers.swept.emplace_back();
    Box& box = movers.boxes.emplace_back();
    for (const ConvexPiece& piece : scene.bodies[i].pieces()) {
      swept.push_back(swept_box(piece, motion, motion.travel));
      box.add(swept.back());
    }
    movers.box.add(box);
  }
  return movers;
}

double reach(const Pieces& pieces, const Motion& motion) {
  double radius = 0.0;
  for (const ConvexPiece& piece : pieces) {
    for (const Vec3& p : piece.vertices)
      radius = std::max(radius, length(cross(motion.axis, p - motion.origin)));
  }
  return radius;
}

double indifferent_travel(const Pieces& pieces, const Motion& motion) {
  return turns(motion) ? kContact / std::max(reach(pieces, motion), 1.0) : kContact;
}

}  // namespace ribbay::detail
