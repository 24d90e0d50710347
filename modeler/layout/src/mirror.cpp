#include "mirror.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

/// `loop` with x or y reflected, walked the other way so that it keeps its direction.
Loop reflected(Loop loop, const Reflection& plane) {
  for (Corner& corner : loop) {
    double& value = plane.axis == 0 ? corner.at.x : corner.at.y;
    value = 2.0 * plane.at - value;
  }
  return reversed(std::move(loop));
}

Region reflected(Region region, const Reflection& plane) {
  region.outer = reflected(std::move(region.outer), plane);
  for (Loop& hole : region.holes) hole = reflected(std::move(hole), plane);
  return region;
}

Prism reflected(Prism prism, const Reflection& plane) {
  if (plane.axis != 2) {
    prism.section = reflected(std::move(prism.section), plane);
    if (prism.coarse) prism.coarse = reflected(std::move(*prism.coarse), plane);
  }
  for (Cut& cut : prism.cuts) {
    if (plane.axis != 2) {
      cut.outline = reflected(std::move(cut.outline), plane);
    } else {
      const double from = 2.0 * plane.at - cut.to;
      cut.to = 2.0 * plane.at - cut.from;
      cut.from = from;
    }
  }
  for (Bore& bore : prism.bores) {
    bore.at = plane.point(bore.at);
    bore.direction = plane.direction(bore.direction);
  }
  return prism;
}

/// The reflection in a prism's own coordinates that belongs to `plane`: across the axis that is
/// nearest to the plane's normal, at the plane, or along its length at its middle.
Reflection inside(const PlacedPrism& placed, const Reflection& plane) {
  const Frame& frame = placed.frame;
  const Vec3 normal{plane.axis == 0 ? 1.0 : 0.0, plane.axis == 1 ? 1.0 : 0.0,
                    plane.axis == 2 ? 1.0 : 0.0};
  const Vec3 local = frame.local_direction(normal);
  int axis = 0;
  for (const int other : {1, 2}) {
    if (std::abs(local[other]) > std::abs(local[axis])) axis = other;
  }
  if (axis == 2) return {2, placed.prism.height / 2};
  return {axis, frame.local_point(normal * plane.at)[axis]};
}

}  // namespace

Frame reflected(const Frame& frame, const Reflection& outer, const Reflection& inner) {
  const auto axis = [&](Vec3 own) {
    return outer.direction(frame.direction(inner.direction(own)));
  };
  return {outer.point(frame.point(inner.point({}))), axis({1, 0, 0}), axis({0, 1, 0}),
          axis({0, 0, 1})};
}

Shape reflected(const Shape& shape, const Reflection& plane) {
  Shape image;
  for (const PlacedPrism& placed : shape.prisms) {
    const Reflection own = inside(placed, plane);
    image.prisms.push_back({reflected(placed.prism, own), reflected(placed.frame, plane, own)});
  }
  return image;
}

StandingShape mirror_image(Shape shape, const Frame& frame, const Reflection& plane,
                           std::span<const int> axes) {
  const Vec3 middle = bounds(shape).centre();
  const std::string own = key(shape);
  for (const int axis : axes) {
    const Reflection inner{axis, middle[axis]};
    if (key(reflected(shape, inner)) == own) {
      return {std::move(shape), reflected(frame, plane, inner)};
    }
  }
  const Reflection inner{axes.front(), middle[axes.front()]};
  return {reflected(shape, inner), reflected(frame, plane, inner)};
}

}  // namespace ribbay::detail
