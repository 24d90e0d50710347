#include "clip.hpp"

#include "base/tolerance.hpp"

#include <algorithm>
#include <map>

namespace ribbay::detail {

namespace {

/// Cuts one piece. Corners of the cut are made once for each edge, so neighbouring faces share
/// them and the result is closed.
class Cutter {
 public:
  Cutter(const ConvexPiece& piece, Vec3 normal, double offset) : piece_(piece) {
    for (const Vec3& p : piece.vertices) heights_.push_back(dot(normal, p) - offset);
    renumbered_.assign(piece.vertices.size(), -1);
  }

  ConvexPiece run() {
    const auto [lowest, highest] = std::ranges::minmax(heights_);
    if (highest <= kSame) return piece_;
    if (lowest >= -kSame) return {};
    for (const auto& face : piece_.faces) cut_face(face);
    add_cap();
    result_.excess = piece_.excess;
    return std::move(result_);
  }

 private:
  double height(int vertex) const { return heights_[static_cast<std::size_t>(vertex)]; }
  bool on(int vertex) const { return std::abs(height(vertex)) <= kSame; }
  bool out(int vertex) const { return height(vertex) > kSame; }

  int kept(int vertex) {
    int& index = renumbered_[static_cast<std::size_t>(vertex)];
    if (index < 0) {
      index = static_cast<int>(result_.vertices.size());
      result_.vertices.push_back(piece_.vertices[static_cast<std::size_t>(vertex)]);
    }
    return index;
  }

  int crossing(int a, int b) {
    const auto key = std::minmax(a, b);
    const auto [found, fresh] = crossings_.try_emplace(key, 0);
    if (fresh) {
      const Vec3 p = piece_.vertices[static_cast<std::size_t>(key.first)];
      const Vec3 q = piece_.vertices[static_cast<std::size_t>(key.second)];
      const double share = height(key.first) / (height(key.first) - height(key.second));
      found->second = static_cast<int>(result_.vertices.size());
      result_.vertices.push_back(p + (q - p) * share);
    }
    return found->second;
  }

  void cut_face(const std::vector<int>& face) {
    // A face that lies in the plane comes back as the cap.
    if (std::ranges::all_of(face, [&](int v) { return on(v); })) return;
    std::vector<int> cut;
    std::vector<bool> in_plane;
    for (std::size_t i = 0; i < face.size(); ++i) {
      const int a = face[i];
      const int b = face[(i + 1) % face.size()];
      if (!out(a)) {
        cut.push_back(kept(a));
        in_plane.push_back(on(a));
      }
      if ((out(a) && !out(b) && !on(b)) || (out(b) && !out(a) && !on(a))) {
        cut.push_back(crossing(a, b));
        in_plane.push_back(true);
      }
    }
    if (cut.size() < 3) return;
    for (std::size_t i = 0; i < cut.size(); ++i) {
      const std::size_t next = (i + 1) % cut.size();
      // The cap walks this edge the other way.
      if (in_plane[i] && in_plane[next]) cap_[cut[next]] = cut[i];
    }
    result_.faces.push_back(std::move(cut));
  }

  void add_cap() {
    if (cap_.empty()) return;
    std::vector<int> loop{cap_.begin()->first};
    for (int at = cap_.begin()->second; at != loop.front() && loop.size() <= cap_.size();
         at = cap_.at(at)) {
      loop.push_back(at);
    }
    result_.faces.push_back(std::move(loop));
  }

  const ConvexPiece& piece_;
  std::vector<double> heights_;
  std::vector<int> renumbered_;
  std::map<std::pair<int, int>, int> crossings_;
  std::map<int, int> cap_;  ///< edges of the new face, from and to
  ConvexPiece result_;
};

}  // namespace

void add_direction(std::vector<Vec3>& directions, Vec3 v) {
  const double size = length(v);
  if (size < kSame) return;
  const Vec3 unit = v * (1.0 / size);
  const bool known = std::ranges::any_of(directions, [&](Vec3 other) {
    return length(cross(unit, other)) < 1e-9;  // sine of the angle: far below any real facet
  });
  if (!known) directions.push_back(unit);
}

void finish(ConvexPiece& piece) {
  piece.normals.clear();
  piece.edges.clear();
  piece.box = {};
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
}

ConvexPiece cut_by(const ConvexPiece& piece, Vec3 normal, double offset) {
  return Cutter(piece, normal, offset).run();
}

}  // namespace ribbay::detail
