#pragma once

#include "base/box.hpp"
#include "base/result.hpp"
#include "shape/shape.hpp"

#include <memory>
#include <string>

namespace ribbay {

/// An immutable solid body with exact faces (planes and cylinders), closed and valid. Copying
/// shares it.
class Solid {
 public:
  struct Kernel;  ///< defined only behind solids_kernel
  explicit Solid(std::shared_ptr<const Kernel> kernel) : kernel_(std::move(kernel)) {}
  const Kernel& kernel() const { return *kernel_; }

 private:
  std::shared_ptr<const Kernel> kernel_;  ///< never null
};

struct SolidOptions {
  bool bores = true;  ///< drill the bores; without them the solid is the one that pieces() covers
};

/// The one body that `shape` describes, in the shape's coordinates: arcs of sections become
/// cylinders, cuts and bores are taken away, prisms are joined. `part_id` names the part in
/// findings: "solid.bad_section" (see fault() in shape/region.hpp), "solid.no_height",
/// "solid.bad_bore", "solid.nothing_left", "solid.not_one_body", "solid.invalid", "solid.kernel".
Result<Solid> make_solid(const Shape& shape, const std::string& part_id,
                         const SolidOptions& options = {});

/// Volume to 1e-9 of its value or better, mm3.
double volume_mm3(const Solid& solid);
/// Centre of volume, in the solid's coordinates.
Vec3 centroid(const Solid& solid);
/// Tight bounds (to 1e-6 mm), in the solid's coordinates.
Box bounds(const Solid& solid);

}  // namespace ribbay
