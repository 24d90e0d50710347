#include "section.hpp"

#include "base/box.hpp"
#include "base/tolerance.hpp"
#include "shape/region.hpp"

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeVertex.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <TopoDS_Vertex.hxx>
#include <TopoDS_Wire.hxx>
#include <gp_Circ.hxx>
#include <gp_Pln.hxx>

#include <algorithm>
#include <cmath>
#include <vector>

namespace ribbay::detail {

namespace {

/// How far cutters run past a face sideways: far above kGrid, and narrower than any gap in a
/// section, so that they cannot reach material on the other side of it.
constexpr double kPastSide = 0.05;
/// How far they run past the ends of a prism, where nothing else can be.
constexpr double kPastEnd = 1.0;

bool same_circle(const Side& a, const Side& b) {
  return a.arc && b.arc && a.counter_clockwise == b.counter_clockwise &&
         length(a.centre - b.centre) < kSame && std::abs(a.radius - b.radius) < kSame;
}

/// Joins neighbouring arcs of one circle; a whole circle comes back as one side from a point to
/// itself.
std::vector<Side> joined_arcs(std::vector<Side> path) {
  const auto first = std::ranges::find_if(path, [&](const Side& side) {
    const Side& before = &side == &path.front() ? path.back() : *(&side - 1);
    return !same_circle(before, side);
  });
  if (first != path.end()) std::ranges::rotate(path, first);
  std::vector<Side> joined;
  for (const Side& side : path) {
    if (!joined.empty() && same_circle(joined.back(), side)) {
      joined.back().b = side.b;
    } else {
      joined.push_back(side);
    }
  }
  return joined;
}

TopoDS_Wire wire_of(const Loop& loop, double z) {
  const auto point = [z](Vec2 p) { return gp_Pnt(p.x, p.y, z); };
  const auto circle_of = [&](const Side& arc) {
    return gp_Circ(
        gp_Ax2(point(arc.centre), gp_Dir(0, 0, arc.counter_clockwise ? 1 : -1), gp_Dir(1, 0, 0)),
        arc.radius);
  };
  const std::vector<Side> path = joined_arcs(sides(loop));
  if (path.size() == 1) {
    return BRepBuilderAPI_MakeWire(BRepBuilderAPI_MakeEdge(circle_of(path.front())));
  }
  std::vector<TopoDS_Vertex> starts;
  for (const Side& side : path) starts.push_back(BRepBuilderAPI_MakeVertex(point(side.a)));
  BRepBuilderAPI_MakeWire wire;
  for (std::size_t i = 0; i < path.size(); ++i) {
    const TopoDS_Vertex& from = starts[i];
    const TopoDS_Vertex& to = starts[(i + 1) % path.size()];
    wire.Add(path[i].arc ? BRepBuilderAPI_MakeEdge(circle_of(path[i]), from, to)
                         : BRepBuilderAPI_MakeEdge(from, to));
  }
  return wire;
}

Box bounds_of(const std::vector<Side>& path) {
  Box box;
  for (const Side& side : path) {
    box.add(Vec3{side.a.x, side.a.y, 0.0});
    box.add(Vec3{side.b.x, side.b.y, 0.0});
  }
  return box;
}

/// True when the side of a cutter from a to b lies on a straight side of the section's boundary,
/// with material on the same hand, and where it runs on past that side's ends it leaves the
/// section's box.
bool lies_on(Vec2 a, Vec2 b, const Side& side, const Box& box) {
  if (side.arc) return false;
  const Vec2 along = normalized(side.b - side.a);
  const double from = dot(a - side.a, along);
  const double to = dot(b - side.a, along);
  const double end = length(side.b - side.a);
  const bool on_line =
      std::abs(cross(along, a - side.a)) <= kGrid && std::abs(cross(along, b - side.a)) <= kGrid;
  const bool overlaps = std::min(to, end) - std::max(from, 0.0) > kGrid;
  const auto leaves = [&](Vec2 p) {
    return p.x <= box.lo.x + kGrid || p.x >= box.hi.x - kGrid || p.y <= box.lo.y + kGrid ||
           p.y >= box.hi.y - kGrid;
  };
  return on_line && overlaps && (from >= -kGrid || leaves(a)) && (to <= end + kGrid || leaves(b));
}

/// The way a corner moves when the sides before and after it (unit directions) are shifted to the
/// right.
Vec2 corner_shift(Vec2 before, double shift_before, Vec2 after, double shift_after) {
  const double turn = cross(before, after);
  if (std::abs(turn) < kSame) return perpendicular(after) * -std::min(shift_before, shift_after);
  return before * (shift_after / turn) - after * (shift_before / turn);
}

Loop widened(const Loop& outline, const Region& section) {
  std::vector<Side> boundary = sides(section.outer);
  const Box box = bounds_of(boundary);
  for (const Loop& hole : section.holes) {
    const std::vector<Side> more = sides(hole);
    boundary.insert(boundary.end(), more.begin(), more.end());
  }
  const std::size_t n = outline.size();
  std::vector<double> shift(n, 0.0);
  for (std::size_t i = 0; i < n; ++i) {
    const Corner& a = outline[i];
    const Corner& b = outline[(i + 1) % n];
    const bool sharp =
        a.radius == 0.0 && b.radius == 0.0;  // moving a rounded end would move its arc
    if (sharp && std::ranges::any_of(
                     boundary, [&](const Side& side) { return lies_on(a.at, b.at, side, box); })) {
      shift[i] = kPastSide;
    }
  }
  Loop wider = outline;
  for (std::size_t i = 0; i < n; ++i) {
    const std::size_t before = (i + n - 1) % n;
    wider[i].at =
        outline[i].at + corner_shift(normalized(outline[i].at - outline[before].at), shift[before],
                                     normalized(outline[(i + 1) % n].at - outline[i].at), shift[i]);
  }
  return wider;
}

}  // namespace

TopoDS_Face face_of(const Region& region, double z) {
  BRepBuilderAPI_MakeFace face(gp_Pln(gp_Pnt(0, 0, z), gp_Dir(0, 0, 1)), wire_of(region.outer, z));
  for (const Loop& hole : region.holes) face.Add(wire_of(hole, z));
  return face;
}

Cut widened(Cut cut, const Prism& prism) {
  cut.outline = widened(cut.outline, prism.section);
  if (cut.from <= kGrid) cut.from = std::min(cut.from, -kPastEnd);
  if (cut.to >= prism.height - kGrid) cut.to = std::max(cut.to, prism.height + kPastEnd);
  return cut;
}

}  // namespace ribbay::detail
