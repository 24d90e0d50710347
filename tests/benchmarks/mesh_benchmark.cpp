// Built only where the libraries stand; see tests/CMakeLists.txt. FCL is under the BSD licence with
// three clauses, CGAL's mesh package under GPL 3 or later; both are linked to the benchmarks alone.
#include "mesh_benchmark.hpp"

#include "base/tolerance.hpp"
#include "clearance/separation.hpp"
#include "shape/pieces.hpp"
#include "solids/tri_mesh.hpp"
#include "stopwatch.hpp"

#include <CGAL/AABB_face_graph_triangle_primitive.h>
#include <CGAL/AABB_traits.h>
#include <CGAL/AABB_tree.h>
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Polygon_mesh_processing/intersection.h>
#include <CGAL/Surface_mesh.h>
#include <fcl/fcl.h>

#include <cstdio>
#include <memory>

namespace {

using namespace ribbay;

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Mesh = CGAL::Surface_mesh<Kernel::Point_3>;
using Tree =
    CGAL::AABB_tree<CGAL::AABB_traits<Kernel, CGAL::AABB_face_graph_triangle_primitive<Mesh>>>;
using Bvh = fcl::BVHModel<fcl::OBBRSSd>;
using Convex = fcl::Convexd;
using Pairs = std::vector<std::pair<std::size_t, std::size_t>>;

/// Triangles of each part in van axes.
std::vector<TriMesh> triangles_of(const Layout& layout, const SolidSet& solids) {
  std::vector<TriMesh> all;
  for (std::size_t i = 0; i < layout.parts.size(); ++i) {
    TriMesh mesh = *tessellate(*solids.of(i), 0.05, 0.3);
    for (Vec3& p : mesh.points) p = layout.parts[i].frame.point(p);
    all.push_back(std::move(mesh));
  }
  return all;
}

Mesh surface_mesh(const TriMesh& from) {
  Mesh mesh;
  std::vector<Mesh::Vertex_index> corners;
  for (const Vec3& p : from.points) corners.push_back(mesh.add_vertex({p.x, p.y, p.z}));
  const auto corner = [&](int i) { return corners[static_cast<std::size_t>(i)]; };
  for (const auto& [a, b, c] : from.triangles) mesh.add_face(corner(a), corner(b), corner(c));
  return mesh;
}

std::shared_ptr<Bvh> bvh(const TriMesh& from) {
  auto model = std::make_shared<Bvh>();
  std::vector<fcl::Vector3d> points;
  for (const Vec3& p : from.points) points.emplace_back(p.x, p.y, p.z);
  std::vector<fcl::Triangle> triangles;
  for (const auto& [a, b, c] : from.triangles) {
    triangles.emplace_back(static_cast<std::size_t>(a), static_cast<std::size_t>(b),
                           static_cast<std::size_t>(c));
  }
  model->beginModel();
  model->addSubModel(points, triangles);
  model->endModel();
  return model;
}

std::unique_ptr<Convex> convex(const ConvexPiece& piece) {
  auto points = std::make_shared<std::vector<fcl::Vector3d>>();
  for (const Vec3& p : piece.vertices) points->emplace_back(p.x, p.y, p.z);
  auto faces = std::make_shared<std::vector<int>>();
  for (const auto& face : piece.faces) {
    faces->push_back(static_cast<int>(face.size()));
    faces->insert(faces->end(), face.begin(), face.end());
  }
  return std::make_unique<Convex>(points, static_cast<int>(piece.faces.size()), faces);
}

const fcl::Transform3d kInPlace = fcl::Transform3d::Identity();

void cgal_meshes(const std::vector<TriMesh>& triangles, const Pairs& pairs, double ours) {
  std::vector<Mesh> meshes;
  for (const TriMesh& each : triangles) meshes.push_back(surface_mesh(each));
  int met = 0;
  const double meeting = best_of(1, [&] {
    for (const auto& [a, b] : pairs)
      met += CGAL::Polygon_mesh_processing::do_intersect(meshes[a], meshes[b]) ? 1 : 0;
  });
  std::printf(
      "  CGAL, whether two meshes meet: %.0f ms, 1 to %.0f; %d of %zu pairs meet, touching ones "
      "among them\n",
      meeting, meeting / ours, met, pairs.size());
  // Corners of one to the faces of the other, both ways: never less than the true distance.
  std::vector<std::unique_ptr<Tree>> trees;
  for (const Mesh& mesh : meshes) {
    trees.push_back(std::make_unique<Tree>(faces(mesh).begin(), faces(mesh).end(), mesh));
    trees.back()->accelerate_distance_queries();
  }
  double sum = 0.0;
  const double distances = best_of(1, [&] {
    for (const auto& [a, b] : pairs) {
      double least = 1e300;
      for (const auto& [from, to] : {std::pair(a, b), std::pair(b, a)}) {
        for (const auto v : meshes[from].vertices())
          least = std::min(least, trees[to]->squared_distance(meshes[from].point(v)));
      }
      sum += least;
    }
  });
  std::printf("  CGAL, tree of boxes, distance of corners to faces: %.0f ms, 1 to %.0f\n",
              distances, distances / ours);
}

void fcl_meshes(const std::vector<TriMesh>& triangles, const Pairs& pairs, double ours) {
  std::vector<std::shared_ptr<Bvh>> models;
  for (const TriMesh& each : triangles) models.push_back(bvh(each));
  int met = 0;
  const double meeting = best_of(3, [&] {
    met = 0;
    for (const auto& [a, b] : pairs) {
      fcl::CollisionResultd result;
      met += fcl::collide<double>(models[a].get(), kInPlace, models[b].get(), kInPlace,
                                  fcl::CollisionRequestd(1), result) > 0
                 ? 1
                 : 0;
    }
  });
  std::printf(
      "  FCL, triangles in trees, whether they meet: %.1f ms, 1 to %.1f; %d of %zu pairs meet\n",
      meeting, meeting / ours, met, pairs.size());
  const double distances = best_of(1, [&] {
    for (const auto& [a, b] : pairs) {
      fcl::DistanceResultd result;
      fcl::distance<double>(models[a].get(), kInPlace, models[b].get(), kInPlace,
                            fcl::DistanceRequestd(), result);
    }
  });
  std::printf("  FCL, the same, least distance: %.0f ms, 1 to %.0f\n", distances, distances / ours);
}

/// Pairs of our convex pieces that are nearer than 1 mm by their boxes.
void convex_pieces(const Layout& layout, const Pairs& pairs) {
  std::vector<Pieces> pieces_of;
  std::vector<std::vector<std::unique_ptr<Convex>>> convex_of;
  for (const Part& part : layout.parts) {
    pieces_of.emplace_back();
    convex_of.emplace_back();
    for (const ConvexPiece& piece : pieces(part.body())) {
      pieces_of.back().push_back(placed(piece, part.frame));
      convex_of.back().push_back(convex(pieces_of.back().back()));
    }
  }
  struct Two {
    const ConvexPiece *a, *b;
    const Convex *fcl_a, *fcl_b;
  };
  std::vector<Two> all;
  for (const auto& [a, b] : pairs) {
    for (std::size_t i = 0; i < pieces_of[a].size(); ++i) {
      for (std::size_t k = 0; k < pieces_of[b].size(); ++k) {
        if (near(pieces_of[a][i].box, pieces_of[b][k].box, 1.0))
          all.push_back(
              {&pieces_of[a][i], &pieces_of[b][k], convex_of[a][i].get(), convex_of[b][k].get()});
      }
    }
  }
  std::vector<double> exact(all.size());
  const double ours = best_of(5, [&] {
    for (std::size_t i = 0; i < all.size(); ++i) {
      const Separation found = separation(*all[i].a, *all[i].b);
      exact[i] = found.distance;
      if (found.distance <= 0.0) continue;
      const auto closest = closest_points(*all[i].a, *all[i].b, found, 1e9);
      if (closest) exact[i] = closest->distance;
    }
  });
  // Its depths are not asked for: on pieces that touch, its search for them ends the program by an
  // assertion. Its distances say 0 or less where it takes two pieces to overlap.
  int apart = 0;
  int off = 0;
  int touching = 0;
  int called_overlap = 0;
  const double theirs = best_of(1, [&] {
    fcl::DistanceRequestd request;
    request.gjk_solver_type = fcl::GJKSolverType::GST_LIBCCD;
    for (std::size_t i = 0; i < all.size(); ++i) {
      fcl::DistanceResultd result;
      fcl::distance<double>(all[i].fcl_a, kInPlace, all[i].fcl_b, kInPlace, request, result);
      if (exact[i] > kContact) {
        ++apart;
        off += std::abs(result.min_distance - exact[i]) > kContact ? 1 : 0;
      } else if (exact[i] >= -kContact) {
        ++touching;
        called_overlap += result.min_distance <= 0.0 ? 1 : 0;
      }
    }
  });
  std::printf("gap, and for ours depth, of %zu pairs of convex pieces\n", all.size());
  std::printf("  separating axes and nearest points %.2f ms; FCL's distances %.1f ms: 1 to %.1f\n",
              ours, theirs, theirs / ours);
  std::printf(
      "  FCL is off by more than %.2f mm on %d of %d that are apart; it takes %d of %d that touch "
      "to overlap\n",
      kContact, off, apart, called_overlap, touching);
}

}  // namespace

void clearance_against_meshes(const Layout& layout, const SolidSet& solids, const Pairs& pairs,
                              double ours) {
  const std::vector<TriMesh> triangles = triangles_of(layout, solids);
  std::size_t count = 0;
  for (const TriMesh& each : triangles) count += each.triangles.size();
  std::printf("the same pairs on %zu triangles, made beforehand\n", count);
  cgal_meshes(triangles, pairs, ours);
  fcl_meshes(triangles, pairs, ours);
  convex_pieces(layout, pairs);
}
