#include "scan/clean.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <numeric>
#include <utility>

namespace ribbay {

namespace {

using Triangle = ScanMesh::Triangle;

/// Gives every point the number of its first equal, in file order.
std::vector<std::uint32_t> first_equals(const std::vector<Vec3>& points) {
  constexpr std::uint32_t kEmpty = 0xFFFFFFFFU;
  std::vector<std::uint32_t> table(std::bit_ceil(points.size() * 2 + 1), kEmpty);
  const std::size_t mask = table.size() - 1;
  std::vector<std::uint32_t> first(points.size());
  for (std::uint32_t i = 0; i < points.size(); ++i) {
    const Vec3 p = points[i] + Vec3{0.0, 0.0, 0.0};  // -0 and 0 are one point
    std::uint64_t hash = 0;
    for (const double c : {p.x, p.y, p.z}) {
      hash = (std::rotl(hash, 21) ^ std::bit_cast<std::uint64_t>(c)) * 0x9E3779B97F4A7C15U;
    }
    std::size_t slot = (hash ^ (hash >> 32U)) & mask;
    while (table[slot] != kEmpty && points[table[slot]] != points[i]) slot = (slot + 1) & mask;
    if (table[slot] == kEmpty) table[slot] = i;
    first[i] = table[slot];
  }
  return first;
}

/// Drops points that no triangle uses and renumbers; the order stays.
void drop_unused(ScanMesh& mesh) {
  std::vector<std::uint32_t> number(mesh.points.size(), 0);
  for (const Triangle& t : mesh.triangles) {
    for (const std::uint32_t i : t) number[i] = 1;
  }
  std::uint32_t next = 0;
  for (std::size_t i = 0; i < number.size(); ++i) {
    if (number[i] == 0) continue;
    mesh.points[next] = mesh.points[i];
    number[i] = next++;
  }
  mesh.points.resize(next);
  for (Triangle& t : mesh.triangles) {
    for (std::uint32_t& i : t) i = number[i];
  }
}

bool has_area(const ScanMesh& mesh, const Triangle& t) {
  if (t[0] == t[1] || t[1] == t[2] || t[2] == t[0]) return false;
  return length(area_vector(mesh.corners(t))) > 1e-6;  // mm2: nothing a scanner can see
}

std::size_t drop_duplicates(std::vector<Triangle>& triangles) {
  std::vector<std::uint32_t> order(triangles.size());
  std::iota(order.begin(), order.end(), 0U);
  std::vector<Triangle> keys = triangles;
  for (Triangle& key : keys) std::ranges::sort(key);
  std::ranges::sort(order, [&](std::uint32_t a, std::uint32_t b) {
    return keys[a] != keys[b] ? keys[a] < keys[b] : a < b;
  });
  std::vector<bool> repeated(triangles.size(), false);
  for (std::size_t i = 1; i < order.size(); ++i) {
    repeated[order[i]] = keys[order[i]] == keys[order[i - 1]];
  }
  std::size_t i = 0;
  return std::erase_if(triangles, [&](const Triangle&) { return repeated[i++]; });
}

/// Which points hang together.
class Groups {
 public:
  explicit Groups(std::size_t count) : parent_(count) {
    std::iota(parent_.begin(), parent_.end(), 0U);
  }
  std::uint32_t of(std::uint32_t i) {
    while (parent_[i] != i) i = parent_[i] = parent_[parent_[i]];
    return i;
  }
  void join(std::uint32_t a, std::uint32_t b) {
    a = of(a);
    b = of(b);
    if (a != b) parent_[std::max(a, b)] = std::min(a, b);
  }

 private:
  std::vector<std::uint32_t> parent_;
};

void drop_strays(CleanedScan& cleaned, const StrayLimits& limits) {
  ScanMesh& mesh = cleaned.mesh;
  Groups groups(mesh.points.size());
  for (const Triangle& t : mesh.triangles) {
    groups.join(t[0], t[1]);
    groups.join(t[1], t[2]);
  }
  struct Piece {
    double area = 0.0;
    Box box;
  };
  std::vector<Piece> pieces(mesh.points.size());  // at the number of its first point
  double whole = 0.0;
  for (const Triangle& t : mesh.triangles) {
    const auto corners = mesh.corners(t);
    const double area = length(area_vector(corners));
    Piece& piece = pieces[groups.of(t[0])];
    piece.area += area;
    for (const Vec3& p : corners) piece.box.add(p);
    whole += area;
  }
  const auto stray = [&](const Piece& piece) {
    return piece.area > 0.0 && piece.area < limits.share * whole &&
           length(piece.box.size()) < limits.size;
  };
  cleaned.strays = static_cast<std::size_t>(std::ranges::count_if(pieces, stray));
  cleaned.stray_triangles = std::erase_if(
      mesh.triangles, [&](const Triangle& t) { return stray(pieces[groups.of(t[0])]); });
}

}  // namespace

CleanedScan clean(ScanMesh mesh, const StrayLimits& limits) {
  CleanedScan cleaned;
  cleaned.mesh = std::move(mesh);
  ScanMesh& m = cleaned.mesh;
  const std::vector<std::uint32_t> first = first_equals(m.points);
  for (std::uint32_t i = 0; i < first.size(); ++i) cleaned.welded += first[i] != i;
  for (Triangle& t : m.triangles) {
    for (std::uint32_t& i : t) i = first[i];
  }
  cleaned.degenerate =
      std::erase_if(m.triangles, [&](const Triangle& t) { return !has_area(m, t); });
  cleaned.duplicate = drop_duplicates(m.triangles);
  drop_strays(cleaned, limits);
  drop_unused(m);
  return cleaned;
}

}  // namespace ribbay
