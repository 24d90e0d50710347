#pragma once

#include "bench/tape_out.hpp"
#include "shape/pieces.hpp"

#include <vector>

/// Where a tape can be held, and where it can run.
namespace ribbay::detail {

/// The van's own points at a height: edges of its doorways, ends of its bulkhead. Named A, B, ...
/// in an order that does not depend on the height.
std::vector<TapePoint> van_points(const Vehicle& van, double z);

/// What may stand in the way of a tape.
struct Obstacles {
  std::vector<ConvexPiece> pieces;

  void add(const Part& part);
  /// True when the straight way is free: what only touches it does not count.
  bool free(Vec3 a, Vec3 b) const;
};
Obstacles obstacles_of(const Vehicle& van);

/// What a module's made parts leave at its lowest edge, seen from above.
struct Footprint {
  struct Corner {
    Vec3 at;
    Vec2 way;  ///< that it points in, from above
    const Part* part = nullptr;
  };
  std::vector<Corner> corners;              ///< counter-clockwise from the rear right one, or none
  std::vector<std::vector<Vec2>> outlines;  ///< of the parts that are cut there
};
Footprint footprint(const std::vector<const Part*>& parts);

/// Whether a part has this corner at another height too: an upright edge, not a wall that leans.
bool reaches(const Footprint::Corner& corner, double z);

/// The two points that place `corner` best, or none.
std::vector<TapePoint> best_pair(const std::vector<TapePoint>& points, std::size_t of_van,
                                 const Obstacles& obstacles, Vec3 corner);

/// For a corner beside a wall: one point that lies along the wall, and the wall itself, square
/// across.
std::vector<TapePoint> along_wall(const std::vector<TapePoint>& points, const Vehicle& van,
                                  const Obstacles& obstacles, Vec3 corner);

}  // namespace ribbay::detail
