#include "base/tolerance.hpp"
#include "loft.hpp"
#include "shape/shape.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay {

using namespace detail;

namespace {

/// Everything closer than this behind the surface of the room is solid, mm.
constexpr double kThickness = 60.0;

/// Adds a unit direction unless it is there already, either way round.
void add_direction(std::vector<Vec3>& directions, Vec3 v) {
  const double size = length(v);
  if (size < kSame) return;
  const Vec3 unit = v * (1.0 / size);
  const bool known = std::ranges::any_of(directions, [&](Vec3 other) {
    return length(cross(unit, other)) < 1e-9;  // sine of the angle: far below any real facet
  });
  if (!known) directions.push_back(unit);
}

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
  for (const auto& face : piece.faces) {
    const auto at = [&](std::size_t i) {
      return piece.vertices[static_cast<std::size_t>(face[i % face.size()])];
    };
    // Sum over the outline: a short side gives no worse a normal than a long one.
    Vec3 normal;
    for (std::size_t i = 1; i + 1 < face.size(); ++i) {
      normal = normal + cross(at(i) - at(0), at(i + 1) - at(0));
    }
    add_direction(piece.normals, normal);
    for (std::size_t i = 0; i < face.size(); ++i) add_direction(piece.edges, at(i + 1) - at(i));
  }
  for (const Vec3& p : piece.vertices) piece.box.add(p);
  return piece;
}

ConvexPiece block(Vec3 lo, Vec3 hi) {
  return swept({lo, {hi.x, lo.y, lo.z}, {hi.x, hi.y, lo.z}, {lo.x, hi.y, lo.z}},
               {0, 0, hi.z - lo.z});
}

/// The rung above which the wall counts as roof: from there up every triangle leans inward by 45
/// degrees or more, so the room nowhere widens above it.
std::size_t first_roof_rung(const Strip& wall, VanSide side) {
  std::size_t k = wall.size() - 1;
  for (; k > 0; --k) {
    const Rung& low = wall[k - 1];
    const Rung& high = wall[k];
    const Vec3 rise = low.rear == high.rear ? high.front - low.front : high.rear - low.rear;
    if (-sign(side) * rise.y < rise.z) break;
  }
  return k;
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

double projected_area(const Polygon3& polygon) {
  double twice = 0.0;
  for (std::size_t i = 1; i + 1 < polygon.size(); ++i) {
    const Vec3 a = polygon[i] - polygon[0];
    const Vec3 b = polygon[i + 1] - polygon[0];
    twice += a.x * b.z - a.z * b.x;
  }
  return std::abs(twice) / 2.0;
}

Polygon3 without_repeats(const Polygon3& polygon) {
  Polygon3 kept;
  for (const Vec3& p : polygon) {
    if (kept.empty() || length(p - kept.back()) > kSame) kept.push_back(p);
  }
  while (kept.size() > 1 && length(kept.front() - kept.back()) <= kSame) kept.pop_back();
  return kept;
}

Pieces rib_pieces(const Vehicle& vehicle, const Rib& rib) {
  Pieces pieces;
  const double depth = protrusion(vehicle, rib);
  if (depth <= 0.0) return pieces;
  const Vec3 inward{0, -sign(rib.side) * depth, 0};
  const double from = rib.x - rib.width / 2.0;
  const double to = rib.x + rib.width / 2.0;
  each_span(vehicle, from, to, [&](std::size_t span, double, double) {
    const Strip wall = strip(vehicle, rib.side, span);
    for (std::size_t k = 0; k + 1 < wall.size(); ++k) {
      const Triangle t = wall_triangle(wall, rib.side, k);
      const Polygon3 part =
          without_repeats(clipped(clipped({t.begin(), t.end()}, 0, from, to), 2, rib.from, rib.to));
      // A sliver of less than 0.001 mm2 seen from the side holds nothing that could be hit.
      if (part.size() >= 3 && projected_area(part) > 1e-3) pieces.push_back(swept(part, inward));
    }
  });
  return pieces;
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
  return pieces(Shape{{{prism, frame}}});
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
  for (const Rib& rib : vehicle.ribs) {
    Pieces pieces = rib_pieces(vehicle, rib);
    if (!pieces.empty()) bodies.push_back({"vehicle/rib." + rib.name, std::move(pieces)});
  }
  for (const WheelArch& arch : vehicle.arches) {
    const double outboard = arch.side == VanSide::left ? out.left : out.right;
    bodies.push_back({"vehicle/arch." + arch.name, arch_pieces(arch, outboard)});
  }
  return bodies;
}

}  // namespace ribbay
