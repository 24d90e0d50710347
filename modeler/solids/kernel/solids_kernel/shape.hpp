#pragma once

#include "base/frame.hpp"
#include "solids/solid.hpp"

#include <TopoDS_Shape.hxx>
#include <gp_Trsf.hxx>

namespace ribbay {

/// What a Solid holds. The shape has no location of its own, and nobody may change it: meshing
/// writes into a shape, so mesh a copy.
struct Solid::Kernel {
  TopoDS_Shape shape;  ///< a TopoDS_Solid
  double volume_mm3 = 0.0;
  Vec3 centroid;
  Box bounds;
};

/// The placement as the kernel writes it, rigid to the last bit: the kernel refuses any scaling.
gp_Trsf transformation(const Frame& frame);

}  // namespace ribbay
