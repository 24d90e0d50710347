#include "hull_faces.hpp"

#include "base/tolerance.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace ribbay::detail {

namespace {

/// Newell's normal, which is the best fit for a face whose corners are a little off one plane. Zero
/// when the face has no area.
Vec3 face_normal(const ConvexPiece& piece, const std::vector<int>& face) {
  const Vec3 base = piece.vertices[static_cast<std::size_t>(face[0])];
  Vec3 sum;
  for (std::size_t i = 1; i + 1 < face.size(); ++i) {
    sum = sum + cross(piece.vertices[static_cast<std::size_t>(face[i])] - base,
                      piece.vertices[static_cast<std::size_t>(face[i + 1])] - base);
  }
  const double size = length(sum);
  return size > 0.0 ? sum * (1.0 / size) : Vec3{};
}

/// All vertices in the face's plane, in order around it.
std::vector<int> corners_in_plane(const ConvexPiece& piece, Vec3 normal, double offset) {
  std::vector<int> found;
  Vec3 middle;
  for (std::size_t i = 0; i < piece.vertices.size(); ++i) {
    if (std::abs(dot(piece.vertices[i], normal) - offset) > kSame) continue;
    found.push_back(static_cast<int>(i));
    middle = middle + piece.vertices[i];
  }
  middle = middle * (1.0 / static_cast<double>(found.size()));
  const Vec3 u = normalized(std::abs(normal.x) < 0.7 ? cross(normal, Vec3{1, 0, 0})
                                                     : cross(normal, Vec3{0, 1, 0}));
  const Vec3 v = cross(normal, u);
  std::vector<std::pair<double, int>> by_angle;
  by_angle.reserve(found.size());
  for (const int i : found) {
    const Vec3 d = piece.vertices[static_cast<std::size_t>(i)] - middle;
    by_angle.emplace_back(std::atan2(dot(d, v), dot(d, u)), i);
  }
  std::ranges::sort(by_angle);
  std::ranges::transform(by_angle, found.begin(), &std::pair<double, int>::second);
  return found;
}

bool is_part_of(const std::vector<int>& some, const std::vector<int>& all) {
  return std::ranges::all_of(some, [&](int i) { return std::ranges::find(all, i) != all.end(); });
}

}  // namespace

std::vector<HullFace> hull_faces(const ConvexPiece& piece) {
  std::vector<HullFace> faces;
  for (const std::vector<int>& face : piece.faces) {
    if (face.size() < 3) continue;
    HullFace hull{face_normal(piece, face), 0.0, {}};
    if (hull.normal == Vec3{}) continue;
    hull.offset = dot(hull.normal, piece.vertices[static_cast<std::size_t>(face[0])]);
    const bool outermost = std::ranges::all_of(
        piece.vertices, [&](const Vec3& p) { return dot(p, hull.normal) <= hull.offset + kSame; });
    if (!outermost) continue;
    hull.corners = corners_in_plane(piece, hull.normal, hull.offset);
    if (std::ranges::any_of(faces, [&](const HullFace& other) {
          return is_part_of(hull.corners, other.corners);
        })) {
      continue;
    }
    std::erase_if(faces,
                  [&](const HullFace& other) { return is_part_of(other.corners, hull.corners); });
    faces.push_back(std::move(hull));
  }
  return faces;
}

}  // namespace ribbay::detail
