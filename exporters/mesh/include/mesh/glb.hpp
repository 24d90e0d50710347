#pragma once

#include "base/output_file.hpp"
#include "base/result.hpp"
#include "layout/layout.hpp"
#include "solids/solid_set.hpp"

#include <string>

namespace ribbay {

struct GlbOptions {
  double deflection = 0.2;  ///< largest distance between a curved face and its triangles, mm
  double angle = 0.4;   ///< largest turn between neighbouring triangles of a curved face, radians
  bool vehicle = true;  ///< show the van's body as a translucent backdrop
};

/// The layout as one binary glTF 2.0 file (GLB), in metres:
///
///     project > module > part            mesh shared by all parts of one shape and colour
///             > vehicle > body           translucent; when the layout has a vehicle and it is
///             asked for
///
/// The project's node turns van axes (x forward, y left, z up) into glTF's (z forward, x left, y
/// up), so nodes below it are in van axes. Parts are named by id; `extras` of parts and modules
/// hold "id", "title", "kind" and, of parts, "module", "material" and "mark" where they have one.
/// Surfaces are flat-shaded: meshes carry no normals. The same layout gives the same bytes. A part
/// whose surface cannot be closed is reported ("solid.open_mesh") and left out.
Built<OutputFile> glb(const Layout& layout, const SolidSet& solids, const std::string& path,
                      const GlbOptions& options = {});

}  // namespace ribbay
