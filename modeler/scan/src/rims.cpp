#include "scan/clean.hpp"

#include <algorithm>
#include <utility>

namespace ribbay {

namespace {

using Edge = std::pair<std::uint32_t, std::uint32_t>;

/// Edges that one triangle has and no other, in its direction, sorted.
std::vector<Edge> lonely_edges(const ScanMesh& mesh) {
  struct Side {
    std::uint64_t key;  // both ends, the lower first
    bool turned;
    bool operator<(const Side& other) const { return key < other.key; }
  };
  std::vector<Side> sides;
  sides.reserve(mesh.triangles.size() * 3);
  for (const ScanMesh::Triangle& t : mesh.triangles) {
    for (std::size_t i = 0; i < 3; ++i) {
      const auto [low, high] = std::minmax(t[i], t[(i + 1) % 3]);
      sides.push_back({static_cast<std::uint64_t>(low) << 32U | high, t[i] != low});
    }
  }
  std::ranges::sort(sides, {}, &Side::key);
  std::vector<Edge> edges;
  for (auto i = sides.begin(); i != sides.end();) {
    const auto end = std::find_if(i, sides.end(), [&](const Side& s) { return s.key != i->key; });
    if (end - i == 1) {
      const Edge edge{static_cast<std::uint32_t>(i->key >> 32U),
                      static_cast<std::uint32_t>(i->key)};
      edges.push_back(i->turned ? Edge{edge.second, edge.first} : edge);
    }
    i = end;
  }
  std::ranges::sort(edges);
  return edges;
}

}  // namespace

std::vector<Hole> rims(const ScanMesh& mesh) {
  const std::vector<Edge> edges = lonely_edges(mesh);
  std::vector<bool> used(edges.size(), false);
  const auto next_from = [&](std::uint32_t point) {
    auto at = std::ranges::lower_bound(edges, Edge{point, 0});
    while (at != edges.end() && at->first == point &&
           used[static_cast<std::size_t>(at - edges.begin())]) {
      ++at;
    }
    return at != edges.end() && at->first == point ? at - edges.begin() : -1;
  };
  std::vector<Hole> holes;
  for (std::size_t i = 0; i < edges.size(); ++i) {
    if (used[i]) continue;
    Hole hole;
    for (auto k = static_cast<std::ptrdiff_t>(i); k >= 0;
         k = next_from(edges[static_cast<std::size_t>(k)].second)) {
      const Edge& edge = edges[static_cast<std::size_t>(k)];
      used[static_cast<std::size_t>(k)] = true;
      hole.box.add(mesh.points[edge.first]);
      hole.rim += length(mesh.points[edge.second] - mesh.points[edge.first]);
    }
    holes.push_back(hole);
  }
  std::ranges::stable_sort(holes, std::ranges::greater{}, &Hole::rim);
  return holes;
}

}  // namespace ribbay
