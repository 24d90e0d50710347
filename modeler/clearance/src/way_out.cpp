#include "way_out.hpp"

#include "base/tolerance.hpp"
#include "body_pair.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

Body moved(const Body& body, Vec3 by) {
  Body there = body;
  there.frame.origin = there.frame.origin + by;
  const auto shift = [&] {
    Placed shifted;
    Pieces pieces = body.pieces();
    for (ConvexPiece& piece : pieces) piece = placed(piece, Frame{by});
    shifted.pieces = std::make_shared<const Pieces>(std::move(pieces));
    shifted.box = {body.box.lo + by, body.box.hi + by};
    return shifted;
  };
  if (body.known) there.known.number = body.known.recall->number_of(body.known.number, by);
  const Placed placed =
      body.known ? body.known.recall->places.get({there.known.number}, shift) : shift();
  there.shared = placed.pieces;
  there.box = placed.box;
  return there;
}

/// What goes along when body `a` is moved away from `other` (null: a zone): bought things stand
/// loose, and so does what is to part from its own module; else the module moves as one.
std::vector<std::size_t> movers(const Scene& scene, std::size_t a, const Body* other) {
  const Body& body = scene.bodies[a];
  const bool apart =
      other == nullptr || other->part == nullptr || other->part->module != body.part->module;
  if (body.equipment() || !apart) return {a};
  std::vector<std::size_t> all;
  for (std::size_t i = 0; i < scene.parts; ++i) {
    if (scene.bodies[i].part->module == body.part->module) all.push_back(i);
  }
  return all;
}

}  // namespace

bool way_is_free(const Scene& scene, std::size_t a, const Body* other, const Contact& clash) {
  const Vec3 by = clash.way * -clash.separation;
  const std::vector<std::size_t> moving = movers(scene, a, other);
  const auto runs_into = [&](std::size_t m, const Body& there, std::size_t k) {
    const Body& body = scene.bodies[m];
    const Body& fixed = scene.bodies[k];
    return !exempt(scene, m, k) && !joined(body, fixed) &&
           measure(there, fixed, -kContact).clash() && !measure(body, fixed, -kContact).clash();
  };
  return std::ranges::none_of(moving, [&](std::size_t m) {
    const Body there = moved(scene.bodies[m], by);
    for (const std::size_t k : scene.near(there.box, -kContact)) {
      if (!std::ranges::binary_search(moving, k) && runs_into(m, there, k)) return true;
    }
    return false;
  });
}

}  // namespace ribbay::detail
