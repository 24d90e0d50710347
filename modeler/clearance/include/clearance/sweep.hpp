#pragma once

#include "base/box.hpp"
#include "base/tolerance.hpp"
#include "base/vec.hpp"
#include "shape/pieces.hpp"

#include <optional>

namespace ribbay {

/// Motion is never sampled: both sweeps below find the first contact in closed form, so a contact
/// that lasts a hundredth of a millimetre is found like any other. Pieces that touch, or overlap by
/// no more than `depth`, are not in contact: what rests or slides on something does not stop.

/// A stretch of travel, mm.
struct Stretch {
  double from = 0.0;
  double to = 0.0;
};

/// The part of the travel 0..`travel` (mm, along the unit vector `direction`) over which a, moving,
/// and b, standing, overlap deeper than `depth`; nullopt when there is none. Every separating axis
/// keeps its direction while a moves, and along each the overlap is an interval of travel; this is
/// their common part.
std::optional<Stretch> contact_stretch(const ConvexPiece& a, const ConvexPiece& b, Vec3 direction,
                                       double travel, double depth = kContact);

/// A turning axis through `origin` along the unit vector `axis`, right-hand rule.
struct Turn {
  Vec3 origin;
  Vec3 axis{0, 0, 1};
};

/// The first angle within 0..`angle` (radians, at most a full turn) at which a, turning, and b,
/// standing, overlap deeper than `depth`; nullopt when they never do. A plane that parts the pieces
/// either stands still or turns along with a, and when a corner next crosses it is known in closed
/// form: the sweep jumps to the crossing of the plane that lasts longest, looks for a new one, and
/// ends where none is left. Free before the returned angle; its rounding is below 1e-6 mm of depth.
std::optional<double> contact_angle(const ConvexPiece& a, const ConvexPiece& b, const Turn& turn,
                                    double angle, double depth = kContact);

/// `point` turned by `angle`, and a piece likewise.
Vec3 turned(Vec3 point, const Turn& turn, double angle);
ConvexPiece turned(const ConvexPiece& piece, const Turn& turn, double angle);

/// The piece moved by `by`.
ConvexPiece moved(ConvexPiece piece, Vec3 by);

/// Bounds of everything a piece passes through.
Box swept_box(const ConvexPiece& piece, Vec3 direction, double travel);
Box swept_box(const ConvexPiece& piece, const Turn& turn, double angle);

}  // namespace ribbay
