#include "clearance/near.hpp"

#include "base/parallel.hpp"
#include "base/tolerance.hpp"
#include "bodies.hpp"
#include "broad_phase.hpp"
#include "clearance/separation.hpp"
#include "movers.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <tuple>
#include <utility>

namespace ribbay {

namespace {

using namespace detail;

/// What both boxes span; between them where they do not meet.
Box common(const Box& a, const Box& b) {
  const auto span = [](double low, double high) {
    return std::pair(std::min(low, high), std::max(low, high));
  };
  const auto x = span(std::max(a.lo.x, b.lo.x), std::min(a.hi.x, b.hi.x));
  const auto y = span(std::max(a.lo.y, b.lo.y), std::min(a.hi.y, b.hi.y));
  const auto z = span(std::max(a.lo.z, b.lo.z), std::min(a.hi.z, b.hi.z));
  return {{x.first, y.first, z.first}, {x.second, y.second, z.second}};
}

/// How two pieces stand, if no further apart than `limit`.
std::optional<NearPair> near_pieces(const ConvexPiece& p, const ConvexPiece& q, double limit) {
  if (!near(p.box, q.box, limit)) return std::nullopt;
  const Separation known = separation(p, q, limit);
  if (known.distance > limit) return std::nullopt;
  NearPair pair;
  pair.face = common(p.box, q.box);
  pair.distance = known.distance;
  pair.way = known.axis * -1.0;  // the axis says where a goes to part them
  pair.at = pair.face.centre();
  if (known.distance <= kContact) return pair;
  const auto closest = closest_points(p, q, known, limit);
  if (!closest) return std::nullopt;
  pair.distance = closest->distance;
  pair.way = (closest->on_b - closest->on_a) * (1.0 / closest->distance);
  pair.at = (closest->on_a + closest->on_b) * 0.5;
  return pair;
}

/// The nearest of all pairs of pieces, with the face of those that are near.
class Nearest {
 public:
  explicit Nearest(const NearOptions& options) : options_{options} {}

  void look_at(const ConvexPiece& p, const ConvexPiece& q) {
    const double matters = best_ ? std::max(options_.face, best_->distance) : options_.within;
    const auto pair = near_pieces(p, q, matters);
    if (!pair) return;
    if (pair->distance <= options_.face) face_.add(pair->face);
    if (!best_ || pair->distance < best_->distance) best_ = pair;
  }

  std::optional<NearPair> take(const Body& a, const Body& b) {
    if (!best_) return std::nullopt;
    best_->a = a.id;
    best_->b = b.id;
    if (!face_.empty()) best_->face = face_;
    return std::move(best_);
  }

 private:
  const NearOptions& options_;
  std::optional<NearPair> best_;
  Box face_;
};

std::optional<NearPair> nearest(const Body& a, const Body& b, const NearOptions& options) {
  Nearest nearest(options);
  for (const ConvexPiece& p : a.pieces) {
    if (!near(p.box, b.box, options.within)) continue;
    for (const ConvexPiece& q : b.pieces) nearest.look_at(p, q);
  }
  return nearest.take(a, b);
}

std::vector<NearPair> pairs_of(const Scene& scene, const NearOptions& options) {
  std::vector<std::size_t> bodies;
  std::vector<Box> boxes;
  for (std::size_t i = 0; i < scene.bodies.size(); ++i) {
    if (scene.bodies[i].hardware()) continue;
    bodies.push_back(i);
    boxes.push_back(scene.bodies[i].box);
  }
  auto candidates = near_pairs(boxes, options.within);
  for (IndexPair& pair : candidates) pair = {bodies[pair.first], bodies[pair.second]};
  std::erase_if(candidates, [&](IndexPair pair) { return exempt(scene, pair.first, pair.second); });
  std::vector<std::optional<NearPair>> slots(candidates.size());
  for_each_slot(candidates.size(), options.jobs, [&](std::size_t i) {
    slots[i] = nearest(scene.bodies[candidates[i].first], scene.bodies[candidates[i].second],
                       options);
  });
  std::vector<NearPair> pairs;
  for (auto& slot : slots) {
    if (slot) pairs.push_back(std::move(*slot));
  }
  return pairs;
}

/// The way of a straight motion, as far as it must go; what turns stays where it is.
Pieces ways(const Body& body, const Motion& motion) {
  if (turns(motion)) return body.pieces;
  Pieces swept;
  for (const ConvexPiece& piece : body.pieces)
    swept.push_back(swept_piece(piece, motion.axis, motion.travel));
  return swept;
}

/// Separating axes alone: a swept piece has no faces to look for the nearest points on. Along the
/// axes of box-shaped parts that is the distance.
std::optional<NearPair> nearest_on_way(const Body& mover, const Pieces& way, const Body& other,
                                       double within) {
  std::optional<NearPair> best;
  for (const ConvexPiece& p : way) {
    if (!near(p.box, other.box, within)) continue;
    for (const ConvexPiece& q : other.pieces) {
      if (!near(p.box, q.box, within)) continue;
      const Separation known = separation(p, q, within);
      if (known.distance > within || (best && known.distance >= best->distance)) continue;
      const Box face = common(p.box, q.box);
      best = {mover.id, other.id, known.distance, known.axis * -1.0, face.centre(), face};
    }
  }
  return best;
}

/// True when the motion begins by leaving the gap: what shuts against something stops there.
bool leaves(const Motion& motion, const NearPair& pair) {
  const Vec3 turning = cross(motion.axis, pair.at - motion.origin);
  if (!turns(motion)) return dot(motion.axis, pair.way) < -0.9;
  return length(turning) > kContact && dot(normalized(turning), pair.way) < -0.9;
}

std::optional<NearPair> least_gap(const Scene& scene, const Motion& motion, double within) {
  const Movers movers = movers_of(scene, motion);
  const Box reach = grown(movers.box, within);
  std::optional<NearPair> least;
  for (const std::size_t m : movers.bodies) {
    const Body& mover = scene.bodies[m];
    if (mover.hardware()) continue;
    const Pieces way = ways(mover, motion);
    for (std::size_t k = 0; k < scene.bodies.size(); ++k) {
      const Body& other = scene.bodies[k];
      if (other.hardware() || std::ranges::binary_search(movers.bodies, k)) continue;
      if (!near(reach, other.box, 0.0) || exempt(scene, m, k) || joined(mover, other)) continue;
      const auto pair = nearest_on_way(mover, way, other, within);
      if (!pair || pair->distance <= kContact || leaves(motion, *pair)) continue;
      if (!least || pair->distance < least->distance) least = pair;
    }
  }
  return least;
}

}  // namespace

NearResult near_bodies(const Layout& layout, const NearOptions& options) {
  const Scene scene = make_scene(layout, options.jobs);
  NearResult result;
  result.pairs = pairs_of(scene, options);
  std::vector<std::optional<NearPair>> slots(layout.motions.size());
  for_each_slot(slots.size(), options.jobs, [&](std::size_t i) {
    if (layout.motions[i].after.empty())
      slots[i] = least_gap(scene, layout.motions[i], options.within);
  });
  for (std::size_t i = 0; i < slots.size(); ++i) {
    if (slots[i]) result.motions.push_back({i, std::move(*slots[i])});
  }
  return result;
}

}  // namespace ribbay
