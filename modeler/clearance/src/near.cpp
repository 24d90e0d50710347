#include "clearance/near.hpp"

#include "base/parallel.hpp"
#include "base/tolerance.hpp"
#include "bodies.hpp"
#include "broad_phase.hpp"
#include "clearance/separation.hpp"
#include "hull.hpp"
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

/// Pieces with the faces of their hulls, which are made when they are first asked for.
class Hulls {
 public:
  explicit Hulls(const Pieces& pieces) : pieces_{pieces}, faces_(pieces.size()) {}

  const ConvexPiece& piece(std::size_t i) const { return pieces_[i]; }
  Hull hull(std::size_t i) {
    if (!faces_[i]) faces_[i] = hull_faces(pieces_[i]);
    return {pieces_[i], *faces_[i]};
  }

 private:
  const Pieces& pieces_;
  std::vector<std::optional<std::vector<HullFace>>> faces_;
};

/// How piece i of one body and piece k of the other stand, if no further apart than `limit`.
std::optional<NearPair> near_pieces(Hulls& a, std::size_t i, Hulls& b, std::size_t k,
                                    double limit) {
  const ConvexPiece& p = a.piece(i);
  const ConvexPiece& q = b.piece(k);
  const Separation known = separation(p, q, limit);
  if (known.distance > limit) return std::nullopt;
  NearPair pair;
  pair.face = common(p.box, q.box);
  pair.distance = known.distance;
  pair.way = known.axis * -1.0;  // the axis says where a goes to part them
  pair.at = pair.face.centre();
  if (known.distance <= kContact) return pair;
  const auto closest = closest_points(a.hull(i), b.hull(k), known, limit);
  if (!closest) return std::nullopt;
  pair.distance = closest->distance;
  pair.way = (closest->on_b - closest->on_a) * (1.0 / closest->distance);
  pair.at = (closest->on_a + closest->on_b) * 0.5;
  return pair;
}

/// No two points of the boxes are closer, mm.
double least_distance(const Box& a, const Box& b) {
  const auto between = [](double lo_a, double hi_a, double lo_b, double hi_b) {
    return std::max({lo_b - hi_a, lo_a - hi_b, 0.0});
  };
  return length({between(a.lo.x, a.hi.x, b.lo.x, b.hi.x), between(a.lo.y, a.hi.y, b.lo.y, b.hi.y),
                 between(a.lo.z, a.hi.z, b.lo.z, b.hi.z)});
}

/// Two pieces that may be near each other, by their boxes.
struct PiecePair {
  double bound = 0.0;  ///< they are no closer, mm
  std::size_t a = 0;
  std::size_t b = 0;
};

/// Those no further apart than `within`, the nearest first.
std::vector<PiecePair> piece_pairs(const Body& a, const Body& b, double within) {
  std::vector<std::size_t> near_a;
  for (std::size_t k = 0; k < b.pieces().size(); ++k) {
    if (near(b.pieces()[k].box, a.box, within)) near_a.push_back(k);
  }
  std::vector<PiecePair> pairs;
  for (std::size_t i = 0; i < a.pieces().size(); ++i) {
    if (!near(a.pieces()[i].box, b.box, within)) continue;
    for (const std::size_t k : near_a) {
      const double bound = least_distance(a.pieces()[i].box, b.pieces()[k].box);
      if (bound <= within) pairs.push_back({bound, i, k});
    }
  }
  std::ranges::sort(pairs, {}, [](const PiecePair& pair) {
    return std::tuple(pair.bound, pair.a, pair.b);
  });
  return pairs;
}

/// The nearest pair of pieces, of equally near ones the first, with the face of all that are near.
std::optional<NearPair> nearest_afresh(const Body& a, const Body& b, double within,
                                       double face_within) {
  std::optional<NearPair> best;
  const PiecePair* of_best = nullptr;
  Box face;
  Hulls hulls_a(a.pieces());
  Hulls hulls_b(b.pieces());
  const std::vector<PiecePair> pairs = piece_pairs(a, b, within);
  for (const PiecePair& two : pairs) {
    // Equally near ones are looked at too, whatever the rounding: which comes first decides.
    const double matters = best ? std::max(face_within, best->distance) + kSame : within;
    if (two.bound > matters) break;  // and so are all that follow
    const auto pair = near_pieces(hulls_a, two.a, hulls_b, two.b, matters);
    if (!pair) continue;
    if (pair->distance <= face_within) face.add(pair->face);
    const auto rank = [](const NearPair& near, const PiecePair& from) {
      return std::tuple(near.distance, from.a, from.b);
    };
    if (best && rank(*best, *of_best) < rank(*pair, two)) continue;
    best = pair;
    of_best = &two;
  }
  if (best && !face.empty()) best->face = face;
  return best;
}

/// The same, unless it is known.
std::optional<NearPair> nearest(const Body& a, const Body& b, double within, double face_within) {
  std::optional<NearPair> found;
  if (a.known && b.known) {
    const PairQuestion question{a.known.number, b.known.number, word(within), word(face_within)};
    const auto known = a.known.recall->nearest.get(question, [&] {
      const auto afresh = nearest_afresh(a, b, within, face_within);
      return afresh ? std::make_shared<const NearPair>(*afresh) : nullptr;
    });
    if (known) found = *known;
  } else {
    found = nearest_afresh(a, b, within, face_within);
  }
  if (found) {
    found->a = a.id;
    found->b = b.id;
  }
  return found;
}

/// How far away from each body others are looked at.
std::vector<double> reaches(const Scene& scene, const NearOptions& options) {
  std::vector<double> all(scene.bodies.size(), options.within);
  for (const NearFurther& further : options.further) {
    for (std::size_t i = 0; i < all.size(); ++i) {
      if (means(further.name, scene.bodies[i])) all[i] = std::max(all[i], further.within);
    }
  }
  return all;
}

std::vector<NearPair> pairs_of(const Scene& scene, const NearOptions& options) {
  const std::vector<double> reach = reaches(scene, options);
  const auto within = [&](IndexPair pair) { return std::max(reach[pair.first], reach[pair.second]); };
  std::vector<std::size_t> bodies;
  std::vector<Box> boxes;
  for (std::size_t i = 0; i < scene.bodies.size(); ++i) {
    if (scene.bodies[i].hardware()) continue;
    bodies.push_back(i);
    boxes.push_back(scene.bodies[i].box);
  }
  auto candidates = near_pairs(boxes, *std::ranges::max_element(reach));
  for (IndexPair& pair : candidates) pair = {bodies[pair.first], bodies[pair.second]};
  std::erase_if(candidates, [&](IndexPair pair) {
    const auto& [a, b] = pair;
    return !near(scene.bodies[a].box, scene.bodies[b].box, within(pair)) || exempt(scene, a, b);
  });
  std::vector<std::optional<NearPair>> slots(candidates.size());
  for_each_slot(candidates.size(), options.jobs, [&](std::size_t i) {
    slots[i] = nearest(scene.bodies[candidates[i].first], scene.bodies[candidates[i].second],
                       within(candidates[i]), options.face);
  });
  std::vector<NearPair> pairs;
  for (auto& slot : slots) {
    if (slot) pairs.push_back(std::move(*slot));
  }
  return pairs;
}

/// The way of a straight motion, as far as it must go; what turns stays where it is.
Pieces ways(const Body& body, const Motion& motion) {
  if (turns(motion)) return body.pieces();
  Pieces swept;
  for (const ConvexPiece& piece : body.pieces())
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
    for (const ConvexPiece& q : other.pieces()) {
      if (!near(p.box, q.box, within)) continue;
      const Separation known = separation(p, q, best ? best->distance : within);
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
    for (const std::size_t k : scene.near(reach, 0.0)) {
      const Body& other = scene.bodies[k];
      if (other.hardware() || std::ranges::binary_search(movers.bodies, k)) continue;
      if (exempt(scene, m, k) || joined(mover, other)) continue;
      const auto pair = nearest_on_way(mover, way, other, within);
      if (!pair || pair->distance <= kContact || leaves(motion, *pair)) continue;
      if (!least || pair->distance < least->distance) least = pair;
    }
  }
  return least;
}

}  // namespace

NearResult near_bodies(const Layout& layout, const NearOptions& options) {
  const Scene scene = make_scene(layout, options.jobs, options.memo);
  NearResult result;
  if (scene.bodies.empty()) return result;
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
