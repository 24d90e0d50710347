#pragma once

#include "base/box.hpp"
#include "base/frame.hpp"
#include "shape/region.hpp"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace ribbay {

/// What a cut or a bore is for, in the words of the shop.
enum class CutRole { cut_out, notch, dado, rebate, groove, toe_space };
enum class BoreRole { bolt, screw, pilot, end_tap, access, shelf_pin, cup, handle, dowel };

/// Material taken away along the prism's z axis: `outline` over `from` <= z <= `to`. It may reach
/// past the section; only what lies inside counts.
struct Cut {
  Loop outline;  ///< counter-clockwise, in the section's plane
  double from = 0.0;
  double to = 0.0;
  CutRole role = CutRole::cut_out;
  friend bool operator==(const Cut&, const Cut&) = default;
};

/// A drilled hole. `at` is the point on the surface where the drill enters, `direction` the unit
/// direction it goes, both in the coordinates of the prism.
struct Bore {
  Vec3 at;
  Vec3 direction{0, 0, -1};
  double diameter = 0.0;
  double depth = 0.0;  ///< from `at`; at least the material's depth when `through`
  bool through = false;
  std::string thread{};  ///< "M8" when tapped, else empty
  BoreRole role = BoreRole::bolt;
  friend bool operator==(const Bore&, const Bore&) = default;
};

/// A section extruded along z from 0 to `height`, with cuts and bores. A panel is a prism whose
/// section is its face and whose height is its thickness; a member is a prism whose section is the
/// profile and whose height is its length.
struct Prism {
  Region section;
  double height = 0.0;
  std::vector<Cut> cuts{};
  std::vector<Bore> bores{};
  std::optional<Region>
      coarse{};  ///< stands in for `section` where a drawing cannot show slots this small
  friend bool operator==(const Prism&, const Prism&) = default;
};

struct PlacedPrism {
  Prism prism;
  Frame frame{};  ///< prism to shape coordinates
  friend bool operator==(const PlacedPrism&, const PlacedPrism&) = default;
};

struct ClosedMesh;

/// The geometry of a part: one prism, or several that touch or overlap and count as one body (a
/// bolt is a shank and a head). What was drawn elsewhere and read from a file is a closed mesh
/// instead. The only description of geometry there is: pieces, facets, B-rep,
/// volume and mass are each made from it by one piece of code.
struct Shape {
  std::vector<PlacedPrism> prisms;
  std::shared_ptr<const ClosedMesh> mesh{};  ///< null: the prisms are it
  friend bool operator==(const Shape&, const Shape&) = default;
};

/// Shapes are immutable and shared: equal parts point to one shape (see Shapes).
using ShapePtr = std::shared_ptr<const Shape>;

/// Canonical text of a shape: equal texts mean equal shapes to 1e-9 mm. The corner an outline starts
/// with, and the order of holes, cuts and bores, do not matter.
std::string key(const Shape& shape);

/// Box from lo to hi as a shape in its own coordinates.
Shape box_shape(Vec3 lo, Vec3 hi);
/// Cylinder of `diameter` from the origin along +z.
PlacedPrism cylinder(double diameter, double height, const Frame& frame = {});

/// Bounds in the shape's own coordinates, exact (arcs included), mm.
Box bounds(const Shape& shape);
/// Bounds after placing the shape, as exact, however it is turned.
Box bounds(const Shape& shape, const Frame& frame);

/// Volume in mm3 of the blank less its cuts, arcs exact. Bores are not subtracted (`bores_volume`
/// bounds what they take). Prisms of one shape are taken as not overlapping.
double volume(const Shape& shape);
/// Centroid of volume(), in shape coordinates.
Vec3 centroid(const Shape& shape);
/// Upper bound of what the bores take away, mm3.
double bores_volume(const Shape& shape);

}  // namespace ribbay
