#pragma once

#include "shape/shape.hpp"

#include <TopoDS_Face.hxx>

namespace ribbay::detail {

/// `region` as a face at height z, looking up. Neighbouring arcs of one circle become one edge, so
/// a round hole has a single seam.
TopoDS_Face face_of(const Region& region, double z);

/// `cut` moved a little past the faces of `prism` that it reaches, so that no sliver is left on
/// them and no two faces lie in one another.
Cut widened(Cut cut, const Prism& prism);

}  // namespace ribbay::detail
