// Every distinct part of the Marsh demo, as convex pieces and as a solid.
#include "base/tolerance.hpp"
#include "projects.hpp"
#include "shape/pieces.hpp"
#include "solids/solid_set.hpp"

#include <catch2/catch.hpp>

#include <set>

using namespace ribbay;

TEST_CASE("every part of the demo is the same body in pieces and as a solid",
          "[solids][pieces][demo]") {
  const Layout layout = testing::demo();
  const auto blanks = make_solids(layout, 2, {.bores = false});
  const auto drilled = make_solids(layout, 2);
  REQUIRE(blanks.findings.empty());
  REQUIRE(drilled.findings.empty());
  std::set<const Shape*> seen;
  for (std::size_t i = 0; i < layout.parts.size(); ++i) {
    const Part& part = layout.parts[i];
    if (!seen.insert(part.shape.get()).second) continue;
    CAPTURE(part.id);
    const Solid& blank = *blanks.value.of(i);
    const double exact = volume(*part.shape);
    CHECK(volume_mm3(blank) == Approx(exact).epsilon(1e-9));
    // Bores take at most what their cylinders hold.
    CHECK(volume_mm3(*drilled.value.of(i)) <= exact * (1 + 1e-9));
    CHECK(volume_mm3(*drilled.value.of(i)) >= exact - bores_volume(*part.shape) - exact * 1e-9);

    // But for the grid that outlines are snapped to, pieces never under-cover, and they over-cover
    // by at most their excess over the whole surface.
    const Pieces cover = pieces(*part.shape, {.chord = 0.005});
    double covered = 0.0;
    double surface = 0.0;
    double excess = 0.0;
    Box box;
    for (const ConvexPiece& piece : cover) {
      covered += volume(piece);
      box.add(piece.box);
      excess = std::max(excess, piece.excess);
      const Vec3 s = piece.box.size();
      surface += 2 * (s.x * s.y + s.y * s.z + s.z * s.x);
    }
    CHECK(covered >= exact - kGrid * surface);
    CHECK(covered <= exact + (excess + kGrid) * surface);
    const Box truth = bounds(blank);
    for (int axis = 0; axis < 3; ++axis) {
      CHECK(box.lo[axis] <= truth.lo[axis] + kGrid);
      CHECK(box.lo[axis] >= truth.lo[axis] - excess - kGrid);
      CHECK(box.hi[axis] >= truth.hi[axis] - kGrid);
      CHECK(box.hi[axis] <= truth.hi[axis] + excess + kGrid);
    }
  }
  CHECK(seen.size() > 50);
}
