#pragma once

#include "workshop.hpp"

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

/// What lies on the bench: members and panels that joints still drill and cut.
namespace ribbay::detail {

/// A member or a panel before the workshop makes it.
struct Workpiece {
  std::variant<Bar, ShapedBoard> part;

  Bar* bar() { return std::get_if<Bar>(&part); }
  const Bar* bar() const { return std::get_if<Bar>(&part); }
  ShapedBoard* board() { return std::get_if<ShapedBoard>(&part); }
  const ShapedBoard* board() const { return std::get_if<ShapedBoard>(&part); }
  const std::string& name() const;
  std::vector<Hole>& holes();
  /// Its own axes to the module's: a member's z runs along it, a panel's looks to its face.
  Frame frame() const;
  /// Its bounds in its own axes.
  Box box() const;
  /// The slot of a slotted member, or null.
  const Slot* slot() const;
};

/// By name. What has been handed over stays there, for joints that only look.
using Workpieces = std::map<std::string, Workpiece, std::less<>>;

/// Hands all to the workshop.
void make_all(Workshop& shop, const Workpieces& pieces);

/// Where the boxes of two parts lie on each other: a rectangle in module axes.
struct Patch {
  Vec3 middle;  ///< on the first part's face
  Vec3 out;     ///< unit: from the first part into the second
  Vec3 u;       ///< unit: one side of the rectangle, towards the right, the back or up
  Vec3 v;       ///< unit: its other side, as above
  double length_u = 0.0;
  double length_v = 0.0;

  /// The longer side.
  Vec3 along() const { return length_u >= length_v ? u : v; }
  /// The side that is parallel to a direction.
  Vec3 side(Vec3 direction) const;
  /// Its size in the direction of one of its sides.
  double length(Vec3 direction) const;
  bool holds(Vec3 point, double margin = 0.0) const;
};

/// The direction or its opposite, whichever looks to the right, else to the back, else up.
Vec3 forward(Vec3 d);

/// The bounds of a part in the axes of `to`, which is given in the module's.
Box in_axes(const Frame& to, const Workpiece& piece);

/// True when the axes of both are parallel.
bool square(const Workpiece& a, const Workpiece& b);

/// The patch where `a` ends and `b` begins, `gap` mm on; nullopt when they are not square or do not
/// face each other so.
std::optional<Patch> contact(const Workpiece& a, const Workpiece& b, double gap = 0.0);

/// Distance between the boxes of two parts along the axis that separates them best, mm; negative:
/// how deep they reach into each other. Exact for boxes whose faces are nearest.
double separation(const Workpiece& a, const Workpiece& b);

/// What `inner` takes of the box of `outer`, in the axes of `outer`; empty when they are not square
/// or only touch.
Box overlap(const Workpiece& outer, const Workpiece& inner);

/// Size in a direction that is parallel to one of its axes.
double size_along(const Workpiece& piece, Vec3 direction);

/// Distances from `at` along `direction` at which a line enters and leaves the box; nullopt when
/// it passes by.
std::optional<std::pair<double, double>> crossing(const Workpiece& piece, Vec3 at, Vec3 direction);

/// The point beside `at` in the middle of the nearest slot of the face that looks to `out`; nullopt
/// without one.
std::optional<Vec3> on_slot(const Workpiece& piece, Vec3 out, Vec3 at);

}  // namespace ribbay::detail
