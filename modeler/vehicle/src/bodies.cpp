#include "base/tolerance.hpp"
#include "clip.hpp"
#include "loft.hpp"
#include "shape/shape.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ribbay {

using namespace detail;

namespace {

/// Everything closer than this behind the surface of the room is solid, mm.
constexpr double kThickness = 60.0;

/// The convex polygon (plane, any direction of turn) swept by `by`, which must not lie in its
/// plane.
ConvexPiece swept(Polygon3 polygon, Vec3 by) {
  const auto n = polygon.size();
  if (dot(cross(polygon[1] - polygon[0], polygon[2] - polygon[0]), by) > 0.0) {
    std::ranges::reverse(polygon);  // the start face looks against the sweep
  }
  ConvexPiece piece;
  piece.vertices = polygon;
  for (const Vec3& p : polygon) piece.vertices.push_back(p + by);
  std::vector<int> start;
  std::vector<int> end;
  for (std::size_t i = 0; i < n; ++i) {
    const auto a = static_cast<int>(i);
    const auto b = static_cast<int>((i + 1) % n);
    const auto m = static_cast<int>(n);
    start.push_back(a);
    end.insert(end.begin(), a + m);
    piece.faces.push_back({b, a, a + m, b + m});
  }
  piece.faces.push_back(start);
  piece.faces.push_back(end);
  finish(piece);
  return piece;
}

ConvexPiece block(Vec3 lo, Vec3 hi) {
  return swept({lo, {hi.x, lo.y, lo.z}, {hi.x, hi.y, lo.z}, {lo.x, hi.y, lo.z}},
               {0, 0, hi.z - lo.z});
}

/// The wall of one span, divided into what is swept sideways and what is swept upward.
struct SpanWall {
  VanSide side = VanSide::left;
  Strip rungs;
  std::size_t roof_from = 0;
};

/// How far each direction must sweep so that everything within kThickness of the surface is
/// covered: along an axis the surface is a function of the other two, and over a distance t it
/// rises by at most t / |n[axis]|.
struct Reach {
  double sideways = kThickness;
  double upward = kThickness;
};

struct Shell {
  std::vector<SpanWall> walls;               ///< left and right of each span
  std::vector<std::vector<Triangle>> roofs;  ///< of each span
  Reach reach;
};

Shell shell(const Vehicle& vehicle) {
  Shell result;
  for (std::size_t span = 0; span < span_count(vehicle); ++span) {
    for (const VanSide side : {VanSide::left, VanSide::right}) {
      SpanWall wall{side, strip(vehicle, side, span), 0};
      wall.roof_from = first_roof_rung(wall.rungs, side);
      for (std::size_t k = 0; k + 1 < wall.rungs.size(); ++k) {
        const Vec3 normal = unit_normal(wall_triangle(wall.rungs, side, k));
        double& reach = k < wall.roof_from ? result.reach.sideways : result.reach.upward;
        reach = std::max(reach, kThickness / std::abs(k < wall.roof_from ? normal.y : normal.z));
      }
      result.walls.push_back(std::move(wall));
    }
    const auto n = result.walls.size();
    result.roofs.push_back(
        roof_triangles(result.walls[n - 2].rungs.back(), result.walls[n - 1].rungs.back()));
    for (const Triangle& t : result.roofs.back()) {
      result.reach.upward = std::max(result.reach.upward, kThickness / unit_normal(t).z);
    }
  }
  return result;
}

Pieces wall_pieces(const Shell& shell, VanSide side) {
  Pieces pieces;
  const Vec3 outward{0, sign(side) * shell.reach.sideways, 0};
  for (const SpanWall& wall : shell.walls) {
    if (wall.side != side) continue;
    for (std::size_t k = 0; k < wall.roof_from; ++k) {
      const Triangle t = wall_triangle(wall.rungs, side, k);
      pieces.push_back(swept({t.begin(), t.end()}, outward));
    }
  }
  return pieces;
}

Pieces roof_pieces(const Shell& shell) {
  Pieces pieces;
  const Vec3 upward{0, 0, shell.reach.upward};
  for (const SpanWall& wall : shell.walls) {
    // The corner between the wall swept sideways and the roof swept upward.
    const Rung& edge = wall.rungs[wall.roof_from];
    const Vec3 outward{0, sign(wall.side) * shell.reach.sideways, 0};
    pieces.push_back(
        swept({edge.rear, edge.front, edge.front + outward, edge.rear + outward}, upward));
    for (std::size_t k = wall.roof_from; k + 1 < wall.rungs.size(); ++k) {
      const Triangle t = wall_triangle(wall.rungs, wall.side, k);
      pieces.push_back(swept({t.begin(), t.end()}, upward));
    }
  }
  for (const auto& roof : shell.roofs) {
    for (const Triangle& t : roof) pieces.push_back(swept({t.begin(), t.end()}, upward));
  }
  return pieces;
}

/// Area of the polygon seen along an axis.
double seen_area(const Polygon3& polygon, int axis) {
  Vec3 twice;
  for (std::size_t i = 1; i + 1 < polygon.size(); ++i) {
    twice = twice + cross(polygon[i] - polygon[0], polygon[i + 1] - polygon[0]);
  }
  return std::abs(twice[axis]) / 2.0;
}

/// A sliver of less than 0.001 mm2 holds nothing that could be hit.
constexpr double kSliver = 1e-3;

Polygon3 without_repeats(const Polygon3& polygon) {
  Polygon3 kept;
  for (const Vec3& p : polygon) {
    if (kept.empty() || length(p - kept.back()) > kSame) kept.push_back(p);
  }
  while (kept.size() > 1 && length(kept.front() - kept.back()) <= kSame) kept.pop_back();
  return kept;
}

/// Swept in from the wall by `depth`, between two x and two heights.
Pieces wall_block(const Vehicle& vehicle, VanSide side, double x0, double x1, double z0, double z1,
                  double depth) {
  Pieces pieces;
  if (depth <= 0.0) return pieces;
  const Vec3 inward{0, -sign(side) * depth, 0};
  each_span(vehicle, x0, x1, [&](std::size_t span, double, double) {
    const Strip wall = strip(vehicle, side, span);
    for (std::size_t k = 0; k + 1 < wall.size(); ++k) {
      const Triangle t = wall_triangle(wall, side, k);
      const Polygon3 part =
          without_repeats(clipped(clipped({t.begin(), t.end()}, 0, x0, x1), 2, z0, z1));
      if (part.size() >= 3 && seen_area(part, 1) > kSliver) pieces.push_back(swept(part, inward));
    }
  });
  return pieces;
}

Pieces rib_pieces(const Vehicle& vehicle, const Rib& rib) {
  return wall_block(vehicle, rib.side, rib.x - rib.width / 2.0, rib.x + rib.width / 2.0, rib.from,
                    rib.to, protrusion(vehicle, rib));
}

Pieces bow_pieces(const Vehicle& vehicle, const Bow& bow) {
  Pieces pieces;
  const double depth = protrusion(vehicle, bow);
  if (depth <= 0.0) return pieces;
  for (const Polygon3& polygon : bow_surface(vehicle, bow)) {
    const Polygon3 part = without_repeats(polygon);
    if (part.size() >= 3 && seen_area(part, 2) > kSliver) {
      pieces.push_back(swept(part, {0, 0, -depth}));
    }
  }
  return pieces;
}

/// The closed door where it stands in front of the wall, or in the rear end.
Pieces leaf_pieces(const Vehicle& vehicle, const Opening& opening) {
  const double bottom = std::max(opening.bottom, 0.0);
  if (opening.leaf.intrudes <= 0.0 || opening.top <= bottom) return {};
  if (opening.kind == OpeningKind::rear) {
    const double x = vehicle.x_min();
    return {block({x, opening.from, bottom}, {x + opening.leaf.intrudes, opening.to, opening.top})};
  }
  return wall_block(vehicle, opening.side, opening.from, opening.to, bottom, opening.top,
                    opening.leaf.intrudes);
}

/// Rounds the inboard upper edge of an arch: cuts the piece along tangents of the arc, so that it
/// never lies inside it. The ends of the arch are rounded by planes along y and this edge by planes
/// along x; whatever satisfies both lies within the sum of both excesses.
ConvexPiece with_round_edge(ConvexPiece piece, const WheelArch& arch) {
  const double r = arch.edge_radius;
  if (r <= 0.0) return piece;
  const double s = sign(arch.side);
  const double quarter = std::numbers::pi / 2.0;
  const double chord = PieceOptions{}.chord;
  // Neighbouring tangents meet outside the arc by r / cos(half the angle between them) - r.
  const int steps =
      std::max(1, static_cast<int>(std::ceil(quarter / (2.0 * std::acos(r / (r + chord))))));
  const Vec3 centre{0, s * (arch.half_width + r), arch.height - r};
  for (int i = 1; i < steps; ++i) {
    const double angle = quarter * i / steps;
    const Vec3 normal{0, -s * std::sin(angle), std::cos(angle)};
    piece = cut_by(piece, normal, dot(normal, centre) + r);
  }
  finish(piece);
  piece.excess += r / std::cos(quarter / steps / 2.0) - r;
  return piece;
}

/// The arch from its inboard face to `outboard` (distance from the centre line), its profile in x
/// and z.
Pieces arch_pieces(const WheelArch& arch, double outboard) {
  Prism prism;
  prism.section.outer = {{{arch.from, 0.0}, 0.0},
                         {{arch.to, 0.0}, 0.0},
                         {{arch.to, arch.height}, arch.radius},
                         {{arch.from, arch.height}, arch.radius}};
  prism.height = outboard - arch.half_width;
  // The prism's z runs along -y.
  const double start = arch.side == VanSide::left ? outboard : -arch.half_width;
  const Frame frame{{0, start, 0}, {1, 0, 0}, {0, 0, 1}, {0, -1, 0}};
  Pieces rounded = pieces(Shape{{{prism, frame}}});
  for (ConvexPiece& piece : rounded) piece = with_round_edge(std::move(piece), arch);
  return rounded;
}

struct Extent {
  double left = 0.0;
  double right = 0.0;
  double top = 0.0;
};

Extent extent(const Vehicle& vehicle, Reach reach) {
  Extent result;
  for (const Station& station : vehicle.stations) {
    for (const WallPoint& p : station.left) result.left = std::max(result.left, p.half_width);
    for (const WallPoint& p : station.right) result.right = std::max(result.right, p.half_width);
    result.top = std::max({result.top, station.left.back().z, station.right.back().z});
  }
  return {result.left + reach.sideways, result.right + reach.sideways, result.top + reach.upward};
}

}  // namespace

std::vector<VehicleBody> vehicle_bodies(const Vehicle& vehicle) {
  const Shell room = shell(vehicle);
  const Extent out = extent(vehicle, room.reach);
  const auto slab = [&](double x0, double x1, double z0, double z1) {
    return Pieces{block({x0, -out.right, z0}, {x1, out.left, z1})};
  };
  const double rear = vehicle.x_min();
  const double front = vehicle.x_max();

  std::vector<VehicleBody> bodies{
      {"vehicle/floor", slab(rear, front, -kThickness, 0.0)},
      {"vehicle/wall.left", wall_pieces(room, VanSide::left)},
      {"vehicle/wall.right", wall_pieces(room, VanSide::right)},
      {"vehicle/roof", roof_pieces(room)},
  };
  if (vehicle.rear_closed) {
    bodies.push_back({"vehicle/rear", slab(rear - kThickness, rear, -kThickness, out.top)});
  }
  if (vehicle.front_closed) {
    bodies.push_back({"vehicle/bulkhead", slab(front, front + kThickness, -kThickness, out.top)});
  }
  const auto add = [&](std::string id, Pieces pieces) {
    if (!pieces.empty()) bodies.push_back({std::move(id), std::move(pieces)});
  };
  for (const Rib& rib : vehicle.ribs) add("vehicle/rib." + rib.name, rib_pieces(vehicle, rib));
  for (const Bow& bow : vehicle.bows) add("vehicle/bow." + bow.name, bow_pieces(vehicle, bow));
  for (const WheelArch& arch : vehicle.arches) {
    const double outboard = arch.side == VanSide::left ? out.left : out.right;
    add("vehicle/arch." + arch.name, arch_pieces(arch, outboard));
  }
  for (const Opening& opening : vehicle.openings) {
    add("vehicle/leaf." + opening.name, leaf_pieces(vehicle, opening));
  }
  return bodies;
}

}  // namespace ribbay
