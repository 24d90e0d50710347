#include "convex_parts.hpp"

#include "cell.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

/// A piece of one of the triangles.
struct Patch {
  std::vector<Vec3> corners;
  Plane plane;  ///< of the whole triangle
};
using Patches = std::vector<Patch>;

struct Extremes {
  double least = 0.0;
  double most = 0.0;
  bool in_front() const { return most > kFlat; }
  bool behind() const { return least < -kFlat; }
};

Extremes heights(const Patch& patch, const Plane& plane) {
  Extremes found;
  for (const Vec3 p : patch.corners) {
    const double height = plane.height(p);
    found.least = std::min(found.least, height);
    found.most = std::max(found.most, height);
  }
  return found;
}

/// What of a patch lies on one side of a plane: in front where `sign` is 1, behind where it is -1.
Patch half(const Patch& patch, const Plane& plane, double sign) {
  Patch kept{{}, patch.plane};
  const std::vector<Vec3>& corners = patch.corners;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const Vec3 p = corners[i];
    const Vec3 q = corners[(i + 1) % corners.size()];
    const double over_p = plane.height(p);
    const double over_q = plane.height(q);
    if (sign * over_p >= 0.0) kept.corners.push_back(p);
    if (over_p * over_q < 0.0) kept.corners.push_back(p + (q - p) * (over_p / (over_p - over_q)));
  }
  return kept;
}

/// Divides space by planes of the patches; what is inside comes out as cells.
class Divider {
 public:
  explicit Divider(std::size_t most) : most_{most} {}

  /// False when there would be too many pieces.
  bool divide(Patches patches, Cell cell, Pieces& pieces) {
    while (true) {
      const Plane plane = patches[best_of(patches)].plane;
      Patches front;
      Patches back;
      const bool faced = sort_out(patches, plane, front, back);
      if (!front.empty() || faced) {
        Cell before = cell;
        before.clip({-plane.normal, -plane.offset});
        const bool few = before.empty()  ? true
                         : front.empty() ? add(before, pieces)
                                         : divide(std::move(front), std::move(before), pieces);
        if (!few) return false;
      }
      cell.clip(plane);
      if (cell.empty()) return true;
      if (back.empty()) return add(cell, pieces);
      patches = std::move(back);
    }
  }

 private:
  /// Patches that a plane is chosen among: enough for a good choice.
  static constexpr std::size_t kTried = 24;

  /// The patch whose plane cuts the fewest others; of those, one that has nothing in front, or else
  /// the one that divides the rest most evenly.
  static std::size_t best_of(const Patches& patches) {
    const std::size_t step = std::max<std::size_t>(1, patches.size() / kTried);
    std::size_t best = 0;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < patches.size(); i += step) {
      const double cost = cost_of(patches[i].plane, patches);
      if (cost >= least) continue;
      least = cost;
      best = i;
    }
    return best;
  }

  static double cost_of(const Plane& plane, const Patches& patches) {
    double cut = 0.0;
    double front = 0.0;
    double back = 0.0;
    for (const Patch& patch : patches) {
      const Extremes at = heights(patch, plane);
      if (at.in_front() && at.behind()) ++cut;
      if (at.in_front()) ++front;
      if (at.behind()) ++back;
    }
    if (front == 0.0) return -1.0;
    return cut + std::max(front, back) / static_cast<double>(2 * patches.size());
  }

  /// True when a patch lies in the plane and looks the other way: another body touches there, and
  /// with nothing else in front all of that is inside.
  static bool sort_out(Patches& patches, const Plane& plane, Patches& front, Patches& back) {
    bool faced = false;
    for (Patch& patch : patches) {
      const Extremes at = heights(patch, plane);
      if (at.in_front() && at.behind()) {
        front.push_back(half(patch, plane, 1.0));
        back.push_back(half(patch, plane, -1.0));
      } else if (at.in_front()) {
        front.push_back(std::move(patch));
      } else if (at.behind()) {
        back.push_back(std::move(patch));
      } else {
        faced = faced || dot(patch.plane.normal, plane.normal) < 0.0;
      }
    }
    return faced;
  }

  /// Cells thinner than kFlat are what rounding leaves between planes that are one.
  bool add(const Cell& cell, Pieces& pieces) const {
    ConvexPiece piece = cell.piece();
    const Vec3 size = piece.box.size();
    const double across = std::max({size.x * size.y, size.y * size.z, size.z * size.x});
    if (piece.faces.size() < 4 || ribbay::volume(piece) <= kFlat * across) return true;
    pieces.push_back(std::move(piece));
    return pieces.size() <= most_;
  }

  std::size_t most_;
};

}  // namespace

std::optional<Pieces> convex_parts(const ClosedMesh& mesh, std::size_t most) {
  Patches patches;
  for (const ClosedMesh::Triangle& t : mesh.triangles) {
    const auto normal = mesh.normal(t);
    if (!normal) continue;
    const auto [a, b, c] = mesh.corners(t);
    patches.push_back({{a, b, c}, {*normal, dot(*normal, a)}});
  }
  Pieces pieces;
  if (!Divider(most).divide(std::move(patches), Cell(grown(mesh.box, 1.0)), pieces)) {
    return std::nullopt;
  }
  return pieces;
}

}  // namespace ribbay::detail
