#include "shape/closed_mesh.hpp"

#include "base/text.hpp"
#include "convex_parts.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

namespace ribbay {

namespace {

Finding fault(std::string code) {
  return input_error(std::move(code), {});
}

/// Makes points at the same place one and leaves out triangles that are no more than an edge then.
void weld(ClosedMesh& mesh) {
  std::map<std::tuple<double, double, double>, std::uint32_t> known;
  std::vector<Vec3> points;
  std::vector<std::uint32_t> now(mesh.points.size());
  for (std::size_t i = 0; i < mesh.points.size(); ++i) {
    const Vec3 p = mesh.points[i];
    const auto [at, fresh] = known.try_emplace({p.x, p.y, p.z}, points.size());
    if (fresh) points.push_back(p);
    now[i] = at->second;
  }
  mesh.points = std::move(points);
  for (ClosedMesh::Triangle& t : mesh.triangles) {
    for (std::uint32_t& corner : t) corner = now[corner];
  }
  std::erase_if(mesh.triangles, [](const ClosedMesh::Triangle& t) {
    return t[0] == t[1] || t[1] == t[2] || t[2] == t[0];
  });
}

/// Edges that do not have as many triangles on their left as on their right.
std::size_t open_edges(const ClosedMesh& mesh) {
  std::map<std::pair<std::uint32_t, std::uint32_t>, int> balance;
  for (const ClosedMesh::Triangle& t : mesh.triangles) {
    for (std::size_t i = 0; i < 3; ++i) {
      const std::uint32_t from = t[i];
      const std::uint32_t to = t[(i + 1) % 3];
      balance[std::minmax(from, to)] += from < to ? 1 : -1;
    }
  }
  return static_cast<std::size_t>(
      std::ranges::count_if(balance, [](const auto& edge) { return edge.second != 0; }));
}

/// Volume and centroid as sums of tetrahedra from one of the corners.
void measure(ClosedMesh& mesh) {
  const Vec3 o = mesh.points.front();
  double six = 0.0;
  Vec3 weighted;
  for (const ClosedMesh::Triangle& t : mesh.triangles) {
    const auto [a, b, c] = mesh.corners(t);
    const double here = dot(a - o, cross(b - o, c - o));
    six += here;
    weighted = weighted + ((a - o) + (b - o) + (c - o)) * here;
  }
  mesh.volume = six / 6.0;
  mesh.centroid = six == 0.0 ? o : o + weighted * (1.0 / (4.0 * six));
}

void turn_inside_out(ClosedMesh& mesh) {
  for (ClosedMesh::Triangle& t : mesh.triangles) std::swap(t[1], t[2]);
  mesh.volume = -mesh.volume;
}

std::string digest_of(const ClosedMesh& mesh) {
  std::string bytes;
  const auto add = [&](const auto& value) {
    bytes.append(reinterpret_cast<const char*>(&value), sizeof value);  // NOLINT: plain numbers
  };
  for (const Vec3 p : mesh.points) {
    for (const double value : {p.x, p.y, p.z}) add(value);
  }
  for (const ClosedMesh::Triangle& t : mesh.triangles) {
    for (const std::uint32_t corner : t) add(corner);
  }
  return fingerprint(bytes) + " " + std::to_string(mesh.points.size());
}

/// Whether the pieces fill what the surface encloses, counted as often as it is enclosed.
bool fill(const ClosedMesh& mesh) {
  double sum = 0.0;
  for (const ConvexPiece& piece : mesh.pieces) sum += volume(piece);
  double area = 0.0;
  for (const ClosedMesh::Triangle& t : mesh.triangles) {
    const auto [a, b, c] = mesh.corners(t);
    area += length(cross(b - a, c - a)) / 2.0;
  }
  return std::abs(sum - mesh.volume) <= kFlat * area;
}

}  // namespace

std::optional<Vec3> ClosedMesh::normal(const Triangle& t) const {
  const auto [a, b, c] = corners(t);
  const Vec3 area = cross(b - a, c - a);
  // As high as kFlat over its longest side, or it has no plane of its own.
  const double longest = std::max({length(b - a), length(c - b), length(a - c)});
  if (length(area) <= kFlat * longest) return std::nullopt;
  return normalized(area);
}

Result<std::shared_ptr<const ClosedMesh>> close_mesh(std::vector<Vec3> points,
                                                     std::vector<ClosedMesh::Triangle> triangles,
                                                     const ClosedMeshLimits& limits) {
  if (triangles.size() > limits.triangles) {
    return fail(fault("import.too_many")
                    .with("count", static_cast<double>(triangles.size()), Unit::count)
                    .with("limit", static_cast<double>(limits.triangles), Unit::count));
  }
  auto mesh = std::make_shared<ClosedMesh>();
  mesh->points = std::move(points);
  mesh->triangles = std::move(triangles);
  weld(*mesh);
  if (const std::size_t open = open_edges(*mesh); open > 0) {
    return fail(fault("import.not_closed").with("count", static_cast<double>(open), Unit::count));
  }
  if (mesh->triangles.empty()) return fail(fault("import.no_volume"));
  for (const Vec3 p : mesh->points) mesh->box.add(p);
  measure(*mesh);
  if (mesh->volume < 0.0) turn_inside_out(*mesh);
  const Vec3 size = mesh->box.size();
  if (mesh->volume <= kFlat * std::max({size.x * size.y, size.y * size.z, size.z * size.x})) {
    return fail(fault("import.no_volume"));
  }
  auto pieces = detail::convex_parts(*mesh, limits.pieces);
  if (!pieces) {
    return fail(fault("import.too_intricate")
                    .with("limit", static_cast<double>(limits.pieces), Unit::count));
  }
  mesh->pieces = std::move(*pieces);
  if (!fill(*mesh)) return fail(fault("import.overlaps"));
  mesh->digest = digest_of(*mesh);
  return mesh;
}

}  // namespace ribbay
