#pragma once

#include "shape/folded.hpp"

#include <optional>
#include <vector>

/// The curve of a lining: the section of its back, across its bends.
///
/// In the section s runs along what is lined (up a wall, or across under the roof) and h out of the
/// room, both in mm; the curve is a function of s.
namespace ribbay::detail {

/// What the van leaves at one place of the section.
struct RoomPoint {
  double s = 0.0;
  double bare = 0.0;  ///< h of the wall or roof itself
  double free = 0.0;  ///< h that also ribs, bows and closed doors leave
};

/// A place on a curve.
struct CurvePoint {
  Vec2 at;                          ///< s, h
  Vec2 along;                       ///< unit: the way the curve goes there
  std::optional<std::size_t> flat;  ///< the flat it lies on; nullopt: on a bend
  double from_start = 0.0;          ///< distance from the flat's start
};

/// A bend that does not fit between its neighbours.
struct TightBend {
  double s = 0.0;      ///< where its flats would meet
  double angle = 0.0;  ///< that it turns through
  double fits = 0.0;   ///< the largest inside radius that leaves flats on both sides
};

/// Straight flats joined by bends of one radius, which lie inside the corners.
class LiningCurve {
 public:
  /// `corners` rise in s. `radius` is the inside one of the bends of a sheet of that thickness.
  LiningCurve(std::vector<Vec2> corners, double radius, double thickness)
      : corners_{std::move(corners)}, radius_{radius}, thickness_{thickness} {}

  std::size_t flats() const { return corners_.size() - 1; }
  /// The end of a flat that s begins or ends at.
  double flat_start(std::size_t flat) const;
  double flat_end(std::size_t flat) const;
  /// Length of a flat between its bends.
  double flat_length(std::size_t flat) const;
  const std::vector<Vec2>& corners() const { return corners_; }
  double radius() const { return radius_; }

  /// The bend that leaves too little flat beside it, the worst one.
  std::optional<TightBend> tight_bend() const;

  /// Precondition: no tight bend, and s lies on the curve.
  CurvePoint at(double s) const;

  /// How far its back reaches into what is not free, at most; negative when it stays off it.
  double excess(const std::vector<RoomPoint>& line) const;

  LiningCurve moved(double h) const;

  /// The sheet between two places of x, `width` apart, bent: axes of the first flat, x along the
  /// bends, y along the curve, face into the room.
  FoldedSheet fold(double width, double k_factor) const;

 private:
  double angle(std::size_t corner) const;    ///< positive: towards the room
  double tangent(std::size_t corner) const;  ///< length from the corner to the ends of its bend
  double back_radius(std::size_t corner) const;
  Vec2 along(std::size_t flat) const;

  std::vector<Vec2> corners_;
  double radius_;
  double thickness_;
};

/// The curve that follows the wall, stays `gap` clear of what stands in front of it, and goes
/// straight over what the wall bulges out by less than `smooth`.
LiningCurve following(const std::vector<RoomPoint>& line, double gap, double smooth, double radius,
                      double thickness);

/// The curve of a flat sheet whose ends lie `gap` off and which is pressed out as far as the room
/// lets it: one arc with short straight ends.
LiningCurve sprung(const std::vector<RoomPoint>& line, double gap, double thickness);

/// Height of an arc's middle over its chord, mm.
double bow(const LiningCurve& curve);

}  // namespace ribbay::detail
