/// Every description of geometry is lowered twice: to convex pieces for the clearance engine and to
/// a solid for the shop. Both must be the same body, to within what the pieces say they reach
/// beyond it.
#include "base/tolerance.hpp"
#include "sample_shapes.hpp"
#include "shape/pieces.hpp"
#include "solids/solid.hpp"
#include "solids_kernel/shape.hpp"

#include <BRepBuilderAPI_MakeVertex.hxx>
#include <BRepClass3d_SolidClassifier.hxx>
#include <BRepExtrema_DistShapeShape.hxx>
#include <catch2/catch.hpp>

#include <algorithm>
#include <random>

using namespace ribbay;

namespace {

struct Both {
  Solid solid;
  Pieces pieces;
  double excess = 0.0;
};

Both lower(const Shape& shape) {
  const Result<Solid> solid = make_solid(shape, "test/part", {.bores = false});
  if (!solid) FAIL(solid.error().front().code);
  Both both{*solid, pieces(shape)};
  for (const ConvexPiece& piece : both.pieces) both.excess = std::max(both.excess, piece.excess);
  return both;
}

/// How far `point` is inside the piece (positive) or outside one of its faces (negative).
double depth_in(const ConvexPiece& piece, Vec3 point) {
  double depth = std::numeric_limits<double>::infinity();
  for (const std::vector<int>& face : piece.faces) {
    const auto at = [&](std::size_t i) {
      return piece.vertices[static_cast<std::size_t>(face[i])];
    };
    Vec3 normal;
    for (std::size_t i = 1; i + 1 < face.size(); ++i) {
      normal = normal + cross(at(i) - at(0), at(i + 1) - at(0));
    }
    depth = std::min(depth, dot(normalized(normal), at(0) - point));
  }
  return depth;
}

double depth_in(const Pieces& pieces, Vec3 point) {
  double depth = -std::numeric_limits<double>::infinity();
  for (const ConvexPiece& piece : pieces) depth = std::max(depth, depth_in(piece, point));
  return depth;
}

TopAbs_State state_in(const Solid& solid, Vec3 p) {
  BRepClass3d_SolidClassifier classifier(solid.kernel().shape);
  classifier.Perform(gp_Pnt(p.x, p.y, p.z), 1e-7);
  return classifier.State();
}

double distance_to(const Solid& solid, Vec3 p) {
  BRepBuilderAPI_MakeVertex vertex(gp_Pnt(p.x, p.y, p.z));
  return BRepExtrema_DistShapeShape(vertex.Vertex(), solid.kernel().shape).Value();
}

}  // namespace

TEST_CASE("pieces and solid of a prism have the same volume", "[solids][agreement]") {
  for (const samples::Named& sample : samples::single_prisms()) {
    CAPTURE(sample.name);
    const auto [solid, parts, excess] = lower(sample.shape);
    double covered = 0.0;
    for (const ConvexPiece& piece : parts) covered += volume(piece);
    // Where every face is flat they agree to the grid; arcs are covered from outside.
    const Vec3 size = bounds(solid).size();
    const double surface = 4.0 * (size.x * size.y + size.y * size.z + size.z * size.x);
    CHECK(covered >= volume_mm3(solid) - surface * kGrid);
    CHECK(covered <= volume_mm3(solid) + surface * (kGrid + excess));
  }
}

TEST_CASE("pieces and solid have the same bounds", "[solids][agreement]") {
  for (const samples::Named& sample : samples::all()) {
    CAPTURE(sample.name);
    const auto [solid, parts, excess] = lower(sample.shape);
    Box covered;
    for (const ConvexPiece& piece : parts) covered.add(piece.box);
    const Box box = bounds(solid);
    for (int axis = 0; axis < 3; ++axis) {
      CHECK(covered.lo[axis] <= box.lo[axis] + kGrid);
      CHECK(covered.hi[axis] >= box.hi[axis] - kGrid);
      CHECK(covered.lo[axis] >= box.lo[axis] - excess - kGrid);
      CHECK(covered.hi[axis] <= box.hi[axis] + excess + kGrid);
    }
  }
}

TEST_CASE("random points are inside both or outside both", "[solids][agreement]") {
  constexpr unsigned seed = 20261124;
  std::mt19937 random(seed);
  for (const samples::Named& sample : samples::all()) {
    CAPTURE(sample.name, seed);
    const auto [solid, parts, excess] = lower(sample.shape);
    const Box box = grown(bounds(solid), 2.0);
    int inside = 0;
    for (int i = 0; i < 1500; ++i) {
      const auto between = [&](double lo, double hi) {
        return lo + (hi - lo) * static_cast<double>(random()) / 4294967295.0;
      };
      // A third of the points hug the corners of the pieces, where mistakes hide.
      Vec3 p{between(box.lo.x, box.hi.x), between(box.lo.y, box.hi.y), between(box.lo.z, box.hi.z)};
      if (i % 3 == 0) {
        const ConvexPiece& piece = parts[random() % parts.size()];
        const Vec3 corner = piece.vertices[random() % piece.vertices.size()];
        p = corner + Vec3{between(-1, 1), between(-1, 1), between(-1, 1)};
      }
      const double depth = depth_in(parts, p);
      const bool in_solid = state_in(solid, p) == TopAbs_IN;
      inside += in_solid ? 1 : 0;
      CAPTURE(p.x, p.y, p.z, depth);
      if (in_solid) CHECK(depth > -kGrid);
      if (!in_solid && depth > kGrid) CHECK(distance_to(solid, p) <= excess + kGrid);
    }
    CHECK(inside > 20);
  }
}
