#include "base/tolerance.hpp"
#include "convex.hpp"
#include "polygon.hpp"

#include <CGAL/Constrained_Delaunay_triangulation_2.h>
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Triangulation_face_base_with_info_2.h>
#include <CGAL/Triangulation_vertex_base_with_info_2.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <set>

namespace ribbay::detail {
namespace {

using Intervals = std::vector<std::pair<double, double>>;

/// A straight-sided outline: the section's outer loop, one of its holes, or a cut.
struct Polygon {
  std::vector<CoverPoint> points;
  int cut = -1;  ///< index of the cut, or -1 for a loop of the section
};

Vec2 at(const Polygon& polygon, std::size_t i) {
  return polygon.points[i % polygon.points.size()].at;
}

bool inside(const Polygon& polygon, Vec2 p) {
  bool in = false;
  for (std::size_t i = 0; i < polygon.points.size(); ++i) {
    const Vec2 a = at(polygon, i);
    const Vec2 b = at(polygon, i + 1);
    if ((a.y <= p.y) == (b.y <= p.y)) continue;
    const double c = cross(b - a, p - a);
    if (b.y > a.y ? c > 0.0 : c < 0.0) in = !in;
  }
  return in;
}

/// The material lies left of a loop of the section, but right of a cut.
std::vector<Polygon> outlines_of(const Prism& prism, double chord) {
  std::vector<Polygon> outlines{{covering_polygon(prism.section.outer, chord)}};
  for (const Loop& hole : prism.section.holes) outlines.push_back({covering_polygon(hole, chord)});
  for (std::size_t i = 0; i < prism.cuts.size(); ++i) {
    const Cut& cut = prism.cuts[i];
    if (std::min(cut.to, prism.height) - std::max(cut.from, 0.0) <= kSame) continue;
    outlines.push_back({covering_polygon(reversed(cut.outline), chord), static_cast<int>(i)});
  }
  std::erase_if(outlines, [](const Polygon& p) { return p.points.size() < 3; });
  return outlines;
}

bool convex(const std::vector<CoverPoint>& points) {
  const std::size_t n = points.size();
  double turned = 0.0;
  for (std::size_t i = 0; i < n; ++i) {
    const Vec2 in = points[(i + 1) % n].at - points[i].at;
    const Vec2 out = points[(i + 2) % n].at - points[(i + 1) % n].at;
    if (cross(in, out) <= 0.0) return false;
    turned += std::atan2(cross(in, out), dot(in, out));
  }
  return turned < 7.0;  // once around, not twice
}

/// What of 0..height is left by the cuts around `p`; nothing outside the section.
Intervals solid_at(Vec2 p, const std::vector<Polygon>& outlines, const Prism& prism) {
  Intervals solid{{0.0, prism.height}};
  for (std::size_t i = 0; i < outlines.size(); ++i) {
    const bool in = inside(outlines[i], p);
    const int cut = outlines[i].cut;
    if (cut < 0 && in != (i == 0)) return {};
    if (cut < 0 || !in) continue;
    const Cut& taken = prism.cuts[static_cast<std::size_t>(cut)];
    Intervals rest;
    for (const auto& [from, to] : solid) {
      if (std::min(to, taken.from) - from > kSame)
        rest.emplace_back(from, std::min(to, taken.from));
      if (to - std::max(from, taken.to) > kSame) rest.emplace_back(std::max(from, taken.to), to);
    }
    solid = std::move(rest);
  }
  return solid;
}

/// Triangles by their corners, counter-clockwise, and the edges between triangles of the same
/// material.
struct Mesh {
  std::vector<Vec2> points;
  std::vector<double> excess;  ///< of each point
  std::vector<std::array<int, 3>> triangles;
  std::vector<int>
      material;  ///< of each triangle: index into `materials`, or -1 where there is none
  std::vector<Intervals> materials;
};

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using VertexBase = CGAL::Triangulation_vertex_base_with_info_2<int, Kernel>;
using FaceBase =
    CGAL::Triangulation_face_base_with_info_2<int, Kernel,
                                              CGAL::Constrained_triangulation_face_base_2<Kernel>>;
using Structure = CGAL::Triangulation_data_structure_2<VertexBase, FaceBase>;
using Triangulation =
    CGAL::Constrained_Delaunay_triangulation_2<Kernel, Structure, CGAL::Exact_predicates_tag>;

Triangulation triangulate(const std::vector<Polygon>& outlines) {
  Triangulation triangulation;
  std::set<std::vector<std::pair<double, double>>> known;
  for (const Polygon& outline : outlines) {
    // Cuts from both faces of a board often share an outline. Where it crosses others, rounding
    // moves the crossings, and inserted once more it would cross itself.
    std::vector<std::pair<double, double>> points;
    for (const CoverPoint& p : outline.points) points.emplace_back(p.at.x, p.at.y);
    if (!known.insert(std::move(points)).second) continue;
    std::vector<Triangulation::Vertex_handle> corners;
    for (const CoverPoint& p : outline.points) {
      const auto near_by = corners.empty() ? Triangulation::Face_handle() : corners.back()->face();
      corners.push_back(triangulation.insert({p.at.x, p.at.y}, near_by));
    }
    for (std::size_t i = 0; i < corners.size(); ++i) {
      const auto next = corners[(i + 1) % corners.size()];
      if (corners[i] != next) triangulation.insert_constraint(corners[i], next);
    }
  }
  return triangulation;
}

/// Numbers the vertices and looks up their excess. Where outlines cross, the worst of all is
/// assumed.
void number_points(Triangulation& triangulation, const std::vector<Polygon>& outlines, Mesh& mesh) {
  std::map<std::pair<double, double>, double> known;
  double worst = 0.0;
  for (const Polygon& outline : outlines)
    for (const CoverPoint& p : outline.points) {
      double& excess = known[{p.at.x, p.at.y}];
      excess = std::max(excess, p.excess);
      worst = std::max(worst, p.excess);
    }
  for (const auto vertex : triangulation.finite_vertex_handles()) {
    vertex->info() = static_cast<int>(mesh.points.size());
    const Vec2 p{vertex->point().x(), vertex->point().y()};
    const auto found = known.find({p.x, p.y});
    mesh.points.push_back(p);
    mesh.excess.push_back(found == known.end() ? worst : found->second);
  }
}

/// Floods the patches between constraints; the middle of the largest triangle of a patch decides
/// what it is, being furthest from rounding.
void find_materials(const Triangulation& triangulation, const std::vector<Polygon>& outlines,
                    const Prism& prism, Mesh& mesh) {
  using Face = Triangulation::Face_handle;
  std::vector<Face> faces;
  for (const Face face : triangulation.finite_face_handles()) {
    face->info() = static_cast<int>(faces.size());
    faces.push_back(face);
    mesh.triangles.push_back(
        {face->vertex(0)->info(), face->vertex(1)->info(), face->vertex(2)->info()});
  }
  mesh.material.assign(faces.size(), -1);
  std::map<Intervals, int> numbers;
  std::vector<bool> seen(faces.size(), false);
  for (const Face start : faces) {
    if (seen[static_cast<std::size_t>(start->info())]) continue;
    std::vector<Face> patch{start};
    seen[static_cast<std::size_t>(start->info())] = true;
    double largest = -1.0;
    Vec2 middle;
    for (std::size_t i = 0; i < patch.size(); ++i) {
      const auto& t = mesh.triangles[static_cast<std::size_t>(patch[i]->info())];
      const Vec2 a = mesh.points[static_cast<std::size_t>(t[0])];
      const Vec2 b = mesh.points[static_cast<std::size_t>(t[1])];
      const Vec2 c = mesh.points[static_cast<std::size_t>(t[2])];
      if (const double size = cross(b - a, c - a); size > largest) {
        largest = size;
        middle = (a + b + c) * (1.0 / 3.0);
      }
      for (int k = 0; k < 3; ++k) {
        const Face next = patch[i]->neighbor(k);
        if (patch[i]->is_constrained(k) || triangulation.is_infinite(next)) continue;
        if (seen[static_cast<std::size_t>(next->info())]) continue;
        seen[static_cast<std::size_t>(next->info())] = true;
        patch.push_back(next);
      }
    }
    Intervals solid = solid_at(middle, outlines, prism);
    if (solid.empty()) continue;
    const auto [found, fresh] = numbers.try_emplace(solid, static_cast<int>(mesh.materials.size()));
    if (fresh) mesh.materials.push_back(std::move(solid));
    for (const Face face : patch)
      mesh.material[static_cast<std::size_t>(face->info())] = found->second;
  }
}

Mesh mesh_of(const std::vector<Polygon>& outlines, const Prism& prism) {
  Triangulation triangulation = triangulate(outlines);
  Mesh mesh;
  number_points(triangulation, outlines, mesh);
  find_materials(triangulation, outlines, prism, mesh);
  return mesh;
}

using Ring = std::vector<int>;  ///< corners of a polygon, counter-clockwise

/// Joins triangles into convex polygons, longest common edge first.
class Merger {
 public:
  explicit Merger(const Mesh& mesh) : mesh_(mesh), owner_(mesh.triangles.size()) {
    std::iota(owner_.begin(), owner_.end(), 0);
    for (const auto& t : mesh.triangles) rings_.push_back({t[0], t[1], t[2]});
  }

  std::vector<Ring> run() {
    const std::vector<Seam> seams = find_seams();
    for (bool merged = true; merged;) {
      merged = false;
      for (const Seam& seam : seams) merged = merge(seam) || merged;
    }
    return rings_;
  }

 private:
  struct Seam {
    double length2 = 0.0;
    int a = 0;
    int b = 0;
    int left = 0;  ///< triangle in which the seam runs from a to b
    int right = 0;
  };

  Vec2 point(int i) const { return mesh_.points[static_cast<std::size_t>(i)]; }

  std::vector<Seam> find_seams() const {
    std::map<std::pair<int, int>, int> triangle_at;
    for (std::size_t t = 0; t < mesh_.triangles.size(); ++t)
      for (std::size_t k = 0; k < 3; ++k)
        triangle_at[{mesh_.triangles[t][k], mesh_.triangles[t][(k + 1) % 3]}] = static_cast<int>(t);
    std::vector<Seam> seams;
    for (const auto& [edge, left] : triangle_at) {
      const auto [a, b] = edge;
      const auto other = triangle_at.find({b, a});
      if (a > b || other == triangle_at.end()) continue;
      const int material = mesh_.material[static_cast<std::size_t>(left)];
      if (material < 0 || material != mesh_.material[static_cast<std::size_t>(other->second)])
        continue;
      const Vec2 d = point(b) - point(a);
      seams.push_back({dot(d, d), a, b, left, other->second});
    }
    std::ranges::stable_sort(
        seams, [](const Seam& s, const Seam& t) { return s.length2 > t.length2 + kSame; });
    return seams;
  }

  int root(int triangle) {
    while (owner_[static_cast<std::size_t>(triangle)] != triangle)
      triangle = owner_[static_cast<std::size_t>(triangle)] =
          owner_[static_cast<std::size_t>(owner_[static_cast<std::size_t>(triangle)])];
    return triangle;
  }

  /// No corner may stand behind the line between its neighbours, and none may turn back.
  bool is_convex(const Ring& ring) const {
    const std::size_t n = ring.size();
    for (std::size_t i = 0; i < n; ++i) {
      const Vec2 in = point(ring[(i + 1) % n]) - point(ring[i]);
      const Vec2 out = point(ring[(i + 2) % n]) - point(ring[(i + 1) % n]);
      const double c = cross(in, out);
      if (c < -kFlat * length(in + out)) return false;
      if (c <= 0.0 && dot(in, out) <= 0.0) return false;
    }
    return true;
  }

  static Ring rotated(Ring ring, int first) {
    std::ranges::rotate(ring, std::ranges::find(ring, first));
    return ring;
  }

  /// The ring around both, without the corners that end up inside.
  static Ring joined(const Ring& left, const Ring& right, int a, int b) {
    Ring ring = rotated(left, b);          // b ... a
    const Ring other = rotated(right, a);  // a ... b
    ring.insert(ring.end(), other.begin() + 1, other.end() - 1);
    // The two may share more than the seam: take out the way there and back again.
    for (std::size_t i = 0; i < ring.size() && ring.size() > 3;) {
      const std::size_t n = ring.size();
      if (ring[(i + n - 1) % n] != ring[(i + 1) % n]) {
        ++i;
        continue;
      }
      const std::size_t low = std::min(i, (i + 1) % n);
      const std::size_t high = std::max(i, (i + 1) % n);
      ring.erase(ring.begin() + static_cast<std::ptrdiff_t>(high));
      ring.erase(ring.begin() + static_cast<std::ptrdiff_t>(low));
      i = 0;
    }
    return ring;
  }

  bool merge(const Seam& seam) {
    const int left = root(seam.left);
    const int right = root(seam.right);
    if (left == right) return false;
    Ring& into = rings_[static_cast<std::size_t>(left)];
    Ring& from = rings_[static_cast<std::size_t>(right)];
    Ring ring = joined(into, from, seam.a, seam.b);
    if (!is_convex(ring)) return false;
    into = std::move(ring);
    from.clear();
    owner_[static_cast<std::size_t>(right)] = left;
    return true;
  }

  /// A corner this little behind the line between its neighbours is rounding.
  static constexpr double kFlat = 1e-7;

  const Mesh& mesh_;
  std::vector<int> owner_;
  std::vector<Ring> rings_;
};

/// Leaves out corners that lie on a straight line.
std::vector<Vec2> outline(const Mesh& mesh, const Ring& ring) {
  std::vector<Vec2> all;
  for (const int i : ring) all.push_back(mesh.points[static_cast<std::size_t>(i)]);
  for (std::size_t i = 0; i < all.size() && all.size() > 3;) {
    const std::size_t n = all.size();
    const Vec2 before = all[(i + n - 1) % n];
    const Vec2 line = all[(i + 1) % n] - before;
    if (cross(all[i] - before, line) > 1e-9 * length(line)) {
      ++i;
    } else {
      all.erase(all.begin() + static_cast<std::ptrdiff_t>(i));
      i = i == 0 ? 0 : i - 1;
    }
  }
  return all;
}

double area_of(const std::vector<Vec2>& polygon) {
  double twice = 0.0;
  for (std::size_t i = 0; i < polygon.size(); ++i)
    twice += cross(polygon[i], polygon[(i + 1) % polygon.size()]);
  return twice / 2.0;
}

}  // namespace

std::vector<ConvexCell> convex_cells(const Prism& prism, double chord) {
  const std::vector<Polygon> outlines = outlines_of(prism, chord);
  if (outlines.empty() || outlines[0].cut >= 0 || !(prism.height > kSame)) return {};

  std::vector<ConvexCell> cells;
  if (outlines.size() == 1 && convex(outlines[0].points)) {
    ConvexCell& cell = cells.emplace_back();
    for (const CoverPoint& p : outlines[0].points) {
      cell.polygon.push_back(p.at);
      cell.excess = std::max(cell.excess, p.excess);
    }
    cell.solid = {{0.0, prism.height}};
    return cells;
  }

  const Mesh mesh = mesh_of(outlines, prism);
  const std::vector<Ring> rings = Merger(mesh).run();
  for (std::size_t i = 0; i < rings.size(); ++i) {
    if (rings[i].empty() || mesh.material[i] < 0) continue;
    ConvexCell cell{outline(mesh, rings[i]),
                    mesh.materials[static_cast<std::size_t>(mesh.material[i])]};
    // Slivers between outlines that should coincide have no thickness.
    if (area_of(cell.polygon) < kSame * kSame) continue;
    for (const int corner : rings[i])
      cell.excess = std::max(cell.excess, mesh.excess[static_cast<std::size_t>(corner)]);
    cells.push_back(std::move(cell));
  }
  return cells;
}

}  // namespace ribbay::detail
