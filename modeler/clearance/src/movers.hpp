#pragma once

#include "bodies.hpp"
#include "clearance/sweep.hpp"

#include <vector>

/// What moves, and where it goes.
namespace ribbay::detail {

inline bool turns(const Motion& motion) { return motion.kind == MotionKind::rotation; }

inline Turn turn_of(const Motion& motion) { return {motion.origin, motion.axis}; }

/// The piece when the motion has gone so far.
ConvexPiece at_travel(const ConvexPiece& piece, const Motion& motion, double travel);

/// Bounds of all that a piece passes through.
Box swept_box(const ConvexPiece& piece, const Motion& motion, double travel);

/// Everything a piece passes through on a straight way, as one convex piece (without faces: it is
/// good for separating axes only).
ConvexPiece swept_piece(const ConvexPiece& piece, Vec3 direction, double travel);

/// Bodies that move, and what they pass through.
struct Movers {
  std::vector<std::size_t> bodies;
  std::vector<std::vector<Box>> swept;  ///< of each piece of each of them
  std::vector<Box> boxes;               ///< of each of them
  Box box;                              ///< of all
};

/// The parts of the motion, and hardware that sits in nothing else; rising.
std::vector<std::size_t> moving_bodies(const Scene& scene, const Motion& motion);
Movers movers_of(const Scene& scene, const Motion& motion);

/// Furthest that a corner of the pieces lies from the turning axis, mm.
double reach(const Pieces& pieces, const Motion& motion);

/// Travel in which no point of the pieces moves further than kContact.
double indifferent_travel(const Pieces& pieces, const Motion& motion);

}  // namespace ribbay::detail
