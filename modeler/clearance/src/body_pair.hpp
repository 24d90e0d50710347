#pragma once

#include "base/tolerance.hpp"
#include "bodies.hpp"
#include "clearance/clearance.hpp"
#include "clearance/separation.hpp"

#include <limits>

namespace ribbay::detail {

/// How two bodies stand, measured on pieces that may reach beyond the true shapes by their
/// `excess`: the true separation lies between `least` and `most`.
struct Measured {
  double least = std::numeric_limits<double>::infinity();
  double most = std::numeric_limits<double>::infinity();
  Vec3 at;        ///< between the nearest points, or in the deepest overlap
  Pieces fine_a;  ///< finer pieces when it took them to decide, else empty
  Pieces fine_b;

  /// The pieces to go on with.
  const Pieces& of_a(const Body& a) const { return fine_a.empty() ? a.pieces() : fine_a; }
  const Pieces& of_b(const Body& b) const { return fine_b.empty() ? b.pieces() : fine_b; }

  bool clash() const { return most < -kContact; }
  bool may_clash() const { return least < -kContact; }
};

/// The finest chord that arcs are refined to before a verdict is left open, mm.
inline constexpr double kFinestChord = 0.0005;

/// Calls again(finer pieces of a, of b) with halved chords until it returns true or arcs cannot be
/// covered any finer.
template <class F>
void refine(const Body& a, const Body& b, F again) {
  for (double chord = PieceOptions{}.chord; chord > kFinestChord;) {
    chord = std::max(chord / 2, kFinestChord);
    if (again(refined_pieces(a, chord), refined_pieces(b, chord))) return;
  }
}

/// Separation of two bodies as far as it is below `limit`; both bounds are infinite when it is not.
/// Pieces are refined until it is clear on which side of -kContact and of `limit` the separation
/// lies, or it cannot be told.
Measured measure(const Body& a, const Body& b, double limit);

/// How far a must go along the unit vector `way` until no pair of pieces overlaps any more, mm.
double travel_to_part(const Pieces& a, const Pieces& b, Vec3 way);

/// A way out of an overlap: moving a by `depth` along the unit vector `way` parts the bodies.
struct WayOut {
  double depth = 0.0;
  Vec3 way;
};

/// The shortest of the straight ways out that lie along the axes of the deepest overlaps of pieces,
/// or along the axes of the van. For two convex bodies it is the shortest there is.
WayOut way_out(const Pieces& a, const Pieces& b);

/// Common volume and its centroid, summed over pairs of pieces.
Overlap overlap(const Pieces& a, const Pieces& b);

/// The clash of two bodies in full; `measured`: measure(a, b, limit).
Contact clash_contact(const Body& a, const Body& b, const Measured& measured, double limit);

}  // namespace ribbay::detail
