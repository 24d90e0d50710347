#include "shape/pieces.hpp"

#include "convex.hpp"
#include "shape/closed_mesh.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace ribbay {

void detail::add_unparallel(std::vector<Vec3>& directions, Vec3 d) {
  for (const Vec3 known : directions)
    if (std::abs(dot(known, d)) > 1.0 - 1e-12) return;
  directions.push_back(d);
}

namespace {

using detail::add_unparallel;

Box box_of(const std::vector<Vec3>& points) {
  Box box;
  for (const Vec3 p : points) box.add(p);
  return box;
}

/// The faces of the hull of a few points: each plane through three of them with all the others on
/// one side. `normals` gets the plane of each face.
std::vector<std::vector<int>> hull_faces(const std::vector<Vec3>& points,
                                         std::vector<Vec3>& normals) {
  constexpr double flat = 1e-9;  // mm off the plane: rounding
  const int n = static_cast<int>(points.size());
  const auto p = [&](int i) { return points[static_cast<std::size_t>(i)]; };
  std::vector<std::vector<int>> faces;
  for (int i = 0; i < n; ++i)
    for (int j = i + 1; j < n; ++j)
      for (int k = j + 1; k < n; ++k) {
        Vec3 normal = cross(p(j) - p(i), p(k) - p(i));
        const double size = length(normal);
        if (size < flat) continue;
        normal = normal * (1.0 / size);
        std::vector<int> corners;
        bool above = false;
        bool below = false;
        for (int m = 0; m < n; ++m) {
          const double height = dot(normal, p(m) - p(i));
          if (std::abs(height) <= flat) corners.push_back(m);
          above = above || height > flat;
          below = below || height < -flat;
        }
        if (above == below) continue;
        // Each face once: by the first triple of its corners that spans the plane.
        if (std::ranges::any_of(faces, [&](const std::vector<int>& face) {
              return std::ranges::includes(face, corners);
            }))
          continue;
        normals.push_back(above ? -normal : normal);
        faces.push_back(std::move(corners));
      }
  for (std::size_t f = 0; f < faces.size(); ++f) {
    Vec3 centre;
    for (const int corner : faces[f]) centre = centre + p(corner);
    centre = centre * (1.0 / static_cast<double>(faces[f].size()));
    const Vec3 u = normalized(p(faces[f].front()) - centre);
    const Vec3 v = cross(normals[f], u);
    const auto angle = [&](int corner) {
      const Vec3 d = p(corner) - centre;
      return std::atan2(dot(d, v), dot(d, u));
    };
    std::ranges::sort(faces[f], [&](int a, int b) { return angle(a) < angle(b); });
  }
  return faces;
}

}  // namespace

Pieces pieces(const Shape& shape, const PieceOptions& options) {
  Pieces result;
  for (const PlacedPrism& placed_prism : shape.prisms)
    for (const detail::ConvexCell& cell : detail::convex_cells(placed_prism.prism, options.chord))
      for (const auto& [from, to] : cell.solid) {
        result.push_back(convex_prism(cell.polygon, from, to, placed_prism.frame));
        result.back().excess = cell.excess;
      }
  if (shape.mesh) std::ranges::copy(shape.mesh->pieces, std::back_inserter(result));
  return result;
}

ConvexPiece placed(const ConvexPiece& piece, const Frame& frame) {
  ConvexPiece moved = piece;
  for (Vec3& p : moved.vertices) p = frame.point(p);
  for (Vec3& d : moved.normals) d = frame.direction(d);
  for (Vec3& d : moved.edges) d = frame.direction(d);
  moved.box = box_of(moved.vertices);
  return moved;
}

ConvexPiece convex_prism(const std::vector<Vec2>& polygon, double z0, double z1,
                         const Frame& frame) {
  ConvexPiece piece;
  const std::size_t n = polygon.size();
  piece.vertices.reserve(2 * n);
  for (const double z : {z0, z1})
    for (const Vec2 p : polygon) piece.vertices.push_back(frame.point({p.x, p.y, z}));

  std::vector<int> ring(n);
  std::iota(ring.begin(), ring.end(), static_cast<int>(n));
  piece.faces.reserve(n + 2);
  piece.faces.push_back(ring);
  std::iota(ring.rbegin(), ring.rend(), 0);
  piece.faces.push_back(std::move(ring));
  piece.normals.push_back(frame.z);
  piece.edges.push_back(frame.z);
  for (std::size_t i = 0; i < n; ++i) {
    const std::size_t next = (i + 1) % n;
    const int a = static_cast<int>(i);
    const int b = static_cast<int>(next);
    const int top = static_cast<int>(n);
    piece.faces.push_back({a, b, b + top, a + top});
    const Vec2 along = normalized(polygon[next] - polygon[i]);
    add_unparallel(piece.normals, frame.direction({along.y, -along.x, 0.0}));
    add_unparallel(piece.edges, frame.direction({along.x, along.y, 0.0}));
  }
  piece.box = box_of(piece.vertices);
  return piece;
}

ConvexPiece wedge(const std::vector<Vec3>& a, const std::vector<Vec3>& b) {
  ConvexPiece piece;
  piece.vertices = a;
  piece.vertices.insert(piece.vertices.end(), b.begin(), b.end());
  std::vector<Vec3> outward;
  piece.faces = hull_faces(piece.vertices, outward);
  for (const Vec3 normal : outward) add_unparallel(piece.normals, normal);
  for (const std::vector<int>& face : piece.faces)
    for (std::size_t i = 0; i < face.size(); ++i) {
      const Vec3 from = piece.vertices[static_cast<std::size_t>(face[i])];
      const Vec3 to = piece.vertices[static_cast<std::size_t>(face[(i + 1) % face.size()])];
      add_unparallel(piece.edges, normalized(to - from));
    }
  piece.box = box_of(piece.vertices);
  return piece;
}

double volume(const ConvexPiece& piece) {
  if (piece.vertices.empty()) return 0.0;
  const Vec3 o = piece.vertices.front();
  const auto spoke = [&](int i) { return piece.vertices[static_cast<std::size_t>(i)] - o; };
  double six = 0.0;
  for (const std::vector<int>& face : piece.faces)
    for (std::size_t i = 2; i < face.size(); ++i)
      six += dot(spoke(face[0]), cross(spoke(face[i - 1]), spoke(face[i])));
  return six / 6.0;
}

}  // namespace ribbay
