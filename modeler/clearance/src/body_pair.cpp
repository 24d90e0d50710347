#include "body_pair.hpp"

#include "base/tolerance.hpp"
#include "clearance/sweep.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

Box bounds_of(const Pieces& pieces) {
  Box box;
  for (const ConvexPiece& piece : pieces) box.add(piece.box);
  return box;
}

std::vector<const ConvexPiece*> pieces_near(const Pieces& pieces, const Box& box, double margin) {
  std::vector<const ConvexPiece*> found;
  for (const ConvexPiece& piece : pieces) {
    if (near(piece.box, box, margin)) found.push_back(&piece);
  }
  return found;
}

/// Calls use(a, b) for all pairs of pieces whose boxes are closer than `margin`.
template <class F>
void for_near_pieces(const Pieces& a, const Pieces& b, double margin, F use) {
  const auto near_a = pieces_near(a, bounds_of(b), margin);
  const auto near_b = pieces_near(b, bounds_of(a), margin);
  for (const ConvexPiece* p : near_a) {
    for (const ConvexPiece* q : near_b) {
      if (near(p->box, q->box, margin)) use(*p, *q);
    }
  }
}

Vec3 middle_of_common_box(const Box& a, const Box& b) {
  const Box common{{std::max(a.lo.x, b.lo.x), std::max(a.lo.y, b.lo.y), std::max(a.lo.z, b.lo.z)},
                   {std::min(a.hi.x, b.hi.x), std::min(a.hi.y, b.hi.y), std::min(a.hi.z, b.hi.z)}};
  return common.centre();
}

Measured measure_pieces(const Pieces& a, const Pieces& b, double limit) {
  Measured result;
  for_near_pieces(a, b, limit, [&](const ConvexPiece& p, const ConvexPiece& q) {
    const double excess = p.excess + q.excess;
    const Separation known = separation(p, q, std::min(limit, result.most));
    if (known.distance > std::min(limit, result.most)) return;
    double distance = known.distance;
    Vec3 at;
    if (distance > 0.0) {
      const auto closest = closest_points(p, q, known, limit);
      if (!closest) return;
      distance = closest->distance;
      at = (closest->on_a + closest->on_b) * 0.5;
    } else {
      at = middle_of_common_box(p.box, q.box);
    }
    if (distance < result.least) {
      result.least = distance;
      result.at = at;
    }
    result.most = std::min(result.most, distance + excess);
  });
  return result;
}

/// True when it cannot be told on which side of `threshold` the separation lies.
bool straddles(const Measured& measured, double threshold) {
  return measured.least < threshold && measured.most >= threshold;
}

}  // namespace

namespace {

Measured measured_afresh(const Body& a, const Body& b, double limit) {
  Measured result = measure_pieces(a.pieces(), b.pieces(), limit);
  const auto decided = [&] { return !straddles(result, -kContact) && !straddles(result, limit); };
  if (decided()) return result;
  refine(a, b, [&](Pieces fine_a, Pieces fine_b) {
    result = measure_pieces(fine_a, fine_b, limit);
    result.fine_a = std::move(fine_a);
    result.fine_b = std::move(fine_b);
    return decided();
  });
  return result;
}

}  // namespace

Measured measure(const Body& a, const Body& b, double limit) {
  if (!a.known || !b.known) return measured_afresh(a, b, limit);
  return *a.known.recall->measured.get(
      {a.known.number, b.known.number, word(limit)},
      [&] { return std::make_shared<const Measured>(measured_afresh(a, b, limit)); });
}

double travel_to_part(const Pieces& a, const Pieces& b, Vec3 way) {
  const Box box_a = bounds_of(a);
  const Box box_b = bounds_of(b);
  const double far = length(box_a.size()) + length(box_b.size());
  std::vector<Stretch> stretches;
  for (const ConvexPiece& p : a) {
    const Box swept = swept_box(p, way, far);
    if (!near(swept, box_b, 0.0)) continue;
    for (const ConvexPiece& q : b) {
      if (!near(swept, q.box, 0.0)) continue;
      if (const auto stretch = contact_stretch(p, q, way, far)) stretches.push_back(*stretch);
    }
  }
  std::ranges::sort(stretches, {}, &Stretch::from);
  double parted = 0.0;
  for (const Stretch& s : stretches) {
    if (s.from > parted) break;
    parted = std::max(parted, s.to);
  }
  // A stretch ends while the pieces still overlap by kContact.
  return parted + kContact;
}

WayOut way_out(const Pieces& a, const Pieces& b) {
  struct Axis {
    double depth;
    Vec3 way;
  };
  std::vector<Axis> axes;
  for_near_pieces(a, b, 0.0, [&](const ConvexPiece& p, const ConvexPiece& q) {
    const Separation s = separation(p, q, -kContact);
    if (s.distance < -kContact) axes.push_back({-s.distance, s.axis});
  });
  std::ranges::stable_sort(axes, std::ranges::greater{}, &Axis::depth);
  constexpr std::size_t kMostAxes =
      8;  // the deepest pairs of pieces say which ways are worth trying
  if (axes.size() > kMostAxes) axes.resize(kMostAxes);
  for (const Vec3 way : {Vec3{1, 0, 0}, Vec3{-1, 0, 0}, Vec3{0, 1, 0}, Vec3{0, -1, 0},
                         Vec3{0, 0, 1}, Vec3{0, 0, -1}}) {
    axes.push_back({0.0, way});
  }
  WayOut best{std::numeric_limits<double>::infinity(), {}};
  for (const Axis& axis : axes) {
    const double depth = travel_to_part(a, b, axis.way);
    if (depth < best.depth - kSame) best = {depth, axis.way};
  }
  return best;
}

Overlap overlap(const Pieces& a, const Pieces& b) {
  Overlap sum;
  Vec3 weighted;
  for_near_pieces(a, b, 0.0, [&](const ConvexPiece& p, const ConvexPiece& q) {
    const Overlap part = ribbay::overlap(p, q);
    sum.volume += part.volume;
    weighted = weighted + part.centre * part.volume;
  });
  if (sum.volume > 0.0) sum.centre = weighted * (1.0 / sum.volume);
  return sum;
}

namespace {

Contact clash_afresh(const Body& a, const Body& b, const Measured& measured) {
  const Pieces& pieces_a = measured.of_a(a);
  const Pieces& pieces_b = measured.of_b(b);
  const WayOut out = way_out(pieces_a, pieces_b);
  const Overlap common = overlap(pieces_a, pieces_b);
  return {a.id,         b.id,    Verdict::clash,
          -out.depth,   out.way, common.volume > 0.0 ? common.centre : measured.at,
          common.volume};
}

}  // namespace

Contact clash_contact(const Body& a, const Body& b, const Measured& measured,
                      double limit) {
  if (!a.known || !b.known) return clash_afresh(a, b, measured);
  Contact clash = *a.known.recall->clashes.get(
      {a.known.number, b.known.number, word(limit)},
      [&] { return std::make_shared<const Contact>(clash_afresh(a, b, measured)); });
  clash.a = a.id;
  clash.b = b.id;
  return clash;
}

}  // namespace ribbay::detail
