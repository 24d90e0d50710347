#include "rounded_mesh.hpp"

#include <algorithm>
#include <optional>
#include <tuple>

namespace ribbay::detail {

namespace {

using Triangle = std::array<int, 3>;

Vec3 rounded(Vec3 p) {
  const auto single = [](double x) { return static_cast<double>(static_cast<float>(x)); };
  return {single(p.x), single(p.y), single(p.z)};
}

bool before(const Vec3& a, const Vec3& b) {
  return std::tie(a.x, a.y, a.z) < std::tie(b.x, b.y, b.z);
}

TriMesh joined(const TriMesh& mesh) {
  TriMesh result;
  std::vector<Vec3> all;
  for (const Vec3& p : mesh.points) all.push_back(rounded(p));
  result.points = all;
  std::ranges::sort(result.points, before);
  result.points.erase(std::unique(result.points.begin(), result.points.end()), result.points.end());
  for (Triangle triangle : mesh.triangles) {
    for (int& corner : triangle) {
      corner = static_cast<int>(
          std::ranges::lower_bound(result.points, all[static_cast<std::size_t>(corner)], before) -
          result.points.begin());
    }
    const auto [a, b, c] = triangle;
    if (a != b && b != c && c != a) result.triangles.push_back(triangle);
  }
  return result;
}

/// Turns `triangle` until its first two corners are its longest edge.
Triangle longest_edge_first(const TriMesh& mesh, Triangle triangle) {
  const auto edge = [&](std::size_t i) {
    const Vec3 a = mesh.points[static_cast<std::size_t>(triangle[i])];
    const Vec3 b = mesh.points[static_cast<std::size_t>(triangle[(i + 1) % 3])];
    return dot(b - a, b - a);
  };
  const std::size_t longest = edge(0) >= edge(1) && edge(0) >= edge(2) ? 0
                              : edge(1) >= edge(2)                     ? 1
                                                                       : 2;
  std::rotate(triangle.begin(), triangle.begin() + static_cast<std::ptrdiff_t>(longest),
              triangle.end());
  return triangle;
}

bool has_no_area(const TriMesh& mesh, const Triangle& triangle) {
  const auto at = [&](std::size_t i) { return mesh.points[static_cast<std::size_t>(triangle[i])]; };
  return length(cross(at(1) - at(0), at(2) - at(0))) == 0.0;
}

/// The triangle that runs the edge from a to b, turned to begin with it.
std::optional<std::size_t> find_edge(TriMesh& mesh, int a, int b) {
  for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
    Triangle& t = mesh.triangles[i];
    for (int turn = 0; turn < 3; ++turn) {
      if (t[0] == a && t[1] == b) return i;
      std::ranges::rotate(t, t.begin() + 1);
    }
  }
  return std::nullopt;
}

/// Flat triangle (p, q, m) and its neighbour (q, p, o) become (m, p, o) and (q, m, o): m lies on
/// the edge from p to q, so the surface stays where it is.
void turn_edge(TriMesh& mesh, std::size_t flat) {
  const auto [p, q, m] = longest_edge_first(mesh, mesh.triangles[flat]);
  const std::optional<std::size_t> neighbour = find_edge(mesh, q, p);
  if (!neighbour) return;
  const int o = mesh.triangles[*neighbour][2];
  if (o == m || find_edge(mesh, m, o) || find_edge(mesh, o, m)) return;
  mesh.triangles[flat] = {m, p, o};
  mesh.triangles[*neighbour] = {q, m, o};
}

}  // namespace

TriMesh rounded_mesh(const TriMesh& mesh) {
  TriMesh result = joined(mesh);
  // Turning an edge can leave its neighbour flat, so go round again, but not for ever.
  for (int round = 0; round < 8; ++round) {
    bool changed = false;
    for (std::size_t i = 0; i < result.triangles.size(); ++i) {
      if (!has_no_area(result, result.triangles[i])) continue;
      turn_edge(result, i);
      changed = true;
    }
    if (!changed) break;
  }
  for (Triangle& triangle : result.triangles) {
    std::ranges::rotate(triangle, std::ranges::min_element(triangle));
  }
  std::ranges::sort(result.triangles);
  return result;
}

}  // namespace ribbay::detail
