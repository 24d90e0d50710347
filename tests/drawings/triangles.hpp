#pragma once

#include "shape/facets.hpp"

#include <CGAL/Constrained_Delaunay_triangulation_2.h>
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Triangulation_face_base_with_info_2.h>

#include <array>
#include <cmath>
#include <vector>

/// Facets as triangles, by a library that knows nothing of the drawings.
namespace triangles {

using namespace ribbay;
using Triangle = std::array<Vec3, 3>;

struct Depth {
  int level = -1;  ///< borders crossed from outside; odd: within the face
};

/// The triangles of a planar face with holes: seen along the axis of space that its normal leans to
/// most.
inline void add_face(const FacetFace& face, std::vector<Triangle>& out) {
  using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
  using Vertices = CGAL::Triangulation_vertex_base_2<Kernel>;
  using Faces = CGAL::Constrained_triangulation_face_base_2<
      Kernel, CGAL::Triangulation_face_base_with_info_2<Depth, Kernel>>;
  using Mesh = CGAL::Constrained_Delaunay_triangulation_2<
      Kernel, CGAL::Triangulation_data_structure_2<Vertices, Faces>, CGAL::Exact_predicates_tag>;
  const Vec3 n = face.normal;
  const Vec3 origin = face.loops.front().front();
  const int drop = std::abs(n.x) > std::abs(n.y) ? (std::abs(n.x) > std::abs(n.z) ? 0 : 2)
                                                 : (std::abs(n.y) > std::abs(n.z) ? 1 : 2);
  const auto flat = [&](Vec3 p) {
    return drop == 0   ? Kernel::Point_2(p.y, p.z)
           : drop == 1 ? Kernel::Point_2(p.z, p.x)
                       : Kernel::Point_2(p.x, p.y);
  };
  const auto lifted = [&](const Kernel::Point_2& q) {
    const double u = q.x();
    const double v = q.y();
    const double whole = dot(n, origin);
    if (drop == 0) return Vec3{(whole - n.y * u - n.z * v) / n.x, u, v};
    if (drop == 1) return Vec3{v, (whole - n.z * u - n.x * v) / n.y, u};
    return Vec3{u, v, (whole - n.x * u - n.y * v) / n.z};
  };
  Mesh mesh;
  for (const auto& loop : face.loops) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const auto a = flat(loop[i]);
      const auto b = flat(loop[(i + 1) % loop.size()]);
      if (a != b) mesh.insert_constraint(a, b);
    }
  }
  if (mesh.dimension() < 2) return;
  // From the outside in: each border changes the level by one.
  std::vector<Mesh::Face_handle> now{mesh.infinite_face()};
  for (int level = 0; !now.empty(); ++level) {
    std::vector<Mesh::Face_handle> next;
    while (!now.empty()) {
      const Mesh::Face_handle f = now.back();
      now.pop_back();
      if (f->info().level >= 0) continue;
      f->info().level = level;
      for (int i = 0; i < 3; ++i) {
        const Mesh::Face_handle other = f->neighbor(i);
        if (other->info().level < 0) (f->is_constrained(i) ? next : now).push_back(other);
      }
    }
    now = std::move(next);
  }
  for (auto f = mesh.finite_faces_begin(); f != mesh.finite_faces_end(); ++f) {
    if (f->info().level % 2 == 0) continue;
    out.push_back({lifted(f->vertex(0)->point()), lifted(f->vertex(1)->point()),
                   lifted(f->vertex(2)->point())});
  }
}

inline std::vector<Triangle> of(const std::vector<Facets>& bodies) {
  std::vector<Triangle> out;
  for (const Facets& body : bodies) {
    for (const FacetFace& face : body.faces) add_face(face, out);
  }
  return out;
}

}  // namespace triangles
