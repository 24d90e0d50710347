#pragma once

#include "base/output_file.hpp"
#include "base/result.hpp"
#include "layout/layout.hpp"
#include "solids/solid_set.hpp"

namespace ribbay {

struct StlOptions {
  double deflection = 0.05;  ///< largest distance between a curved face and its triangles, mm
  double angle = 0.25;  ///< largest turn between neighbouring triangles of a curved face, radians
};

/// A binary STL file for each kind of made part (member, panel), in mm and the part's own
/// coordinates: model/stl/MARK-TITLE.stl. The header says what part it is and that the unit is mm,
/// which STL itself cannot. Every file is one closed, consistently oriented surface also after its
/// points were rounded to single precision, by which readers join facets; facet normals follow from
/// the rounded points. A part whose surface cannot be closed is reported ("solid.open_mesh") and
/// left out.
Built<OutputFiles> stl_parts(const Layout& layout, const SolidSet& solids,
                             const StlOptions& options = {});

}  // namespace ribbay
