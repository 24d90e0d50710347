#pragma once

#include "base/frame.hpp"
#include "shape/shape.hpp"

#include <span>

/// Mirror images of placed shapes. Frames stay rigid: what a reflection would do to a frame is done
/// to the shape instead, and a shape that is its own image stays as it is.
namespace ribbay::detail {

/// A reflection in the plane where coordinate `axis` (0, 1, 2) is `at`.
struct Reflection {
  int axis = 0;
  double at = 0.0;
  Vec3 point(Vec3 p) const {
    p[axis] = 2.0 * at - p[axis];
    return p;
  }
  Vec3 direction(Vec3 d) const {
    d[axis] = -d[axis];
    return d;
  }
};

/// `outer` after `frame` after `inner`: two reflections make a rigid frame again.
Frame reflected(const Frame& frame, const Reflection& outer, const Reflection& inner);

/// The shape's image, in the same coordinates. Sections, cuts and bores change sides; the frames of
/// its prisms stay rigid.
Shape reflected(const Shape& shape, const Reflection& plane);

struct StandingShape {
  Shape shape;
  Frame frame;
};

/// The image in `plane` of a shape that stands at `frame`. The shape is reflected in its own middle
/// across one of `axes`: the first that leaves it as it is, so that a part that is its own image
/// stays one part, else the first of all.
StandingShape mirror_image(Shape shape, const Frame& frame, const Reflection& plane,
                           std::span<const int> axes);

}  // namespace ribbay::detail
