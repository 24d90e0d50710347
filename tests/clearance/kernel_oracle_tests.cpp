// The common volume of convex pieces, and the verdicts on panels with cut-outs, against the Boolean
// operations of OpenCASCADE, on B-reps that are built here from the faces of the pieces and from
// plain blocks.
#include "base/tolerance.hpp"
#include "clearance/clearance.hpp"
#include "clearance/separation.hpp"
#include "clearance/sweep.hpp"
#include "scenes.hpp"
#include "solids_kernel/shape.hpp"

#include <BRepAlgoAPI_Common.hxx>
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepBuilderAPI_MakeSolid.hxx>
#include <BRepBuilderAPI_Sewing.hxx>
#include <BRepGProp.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <GProp_GProps.hxx>
#include <TopExp_Explorer.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Shell.hxx>
#include <TopoDS_Solid.hxx>
#include <TopoDS_Wire.hxx>
#include <gp_Ax2.hxx>
#include <gp_Pnt.hxx>

#include <numbers>

using namespace ribbay;
using scenes::Dice;

namespace {

gp_Pnt point(Vec3 p) {
  return {p.x, p.y, p.z};
}

TopoDS_Solid solid(const ConvexPiece& piece) {
  BRepBuilderAPI_Sewing sewing(1e-7);
  for (const std::vector<int>& face : piece.faces) {
    BRepBuilderAPI_MakePolygon outline;
    for (const int i : face) outline.Add(point(piece.vertices[static_cast<std::size_t>(i)]));
    outline.Close();
    sewing.Add(BRepBuilderAPI_MakeFace(outline.Wire(), true).Face());
  }
  sewing.Perform();
  TopExp_Explorer shells(sewing.SewedShape(), TopAbs_SHELL);
  REQUIRE(shells.More());
  return BRepBuilderAPI_MakeSolid(TopoDS::Shell(shells.Current())).Solid();
}

GProp_GProps properties(const TopoDS_Shape& shape) {
  GProp_GProps found;
  BRepGProp::VolumeProperties(shape, found);
  return found;
}

GProp_GProps common(const TopoDS_Shape& a, const TopoDS_Shape& b) {
  BRepAlgoAPI_Common both(a, b);
  REQUIRE(both.IsDone());
  return properties(both.Shape());
}

/// Volume in common by the kernel, compared with ours; returned for a verdict.
double compare(const ConvexPiece& a, const ConvexPiece& b) {
  const GProp_GProps truth = common(solid(a), solid(b));
  const double volume = std::abs(truth.Mass());
  const Overlap found = overlap(a, b);
  CHECK(found.volume == Approx(volume).epsilon(1e-6).margin(1e-3));
  if (volume > 1.0) {
    CHECK(found.centre.x == Approx(truth.CentreOfMass().X()).margin(1e-4));
    CHECK(found.centre.y == Approx(truth.CentreOfMass().Y()).margin(1e-4));
    CHECK(found.centre.z == Approx(truth.CentreOfMass().Z()).margin(1e-4));
  }
  return volume;
}

ConvexPiece random_hull(Dice& dice) {
  std::vector<Vec3> points;
  for (int k = dice.whole(4, 8); k > 0; --k) points.push_back(dice.point(80));
  return scenes::hull(points);
}

ConvexPiece random_block(Dice& dice) {
  const Vec3 half{dice.real(5, 60), dice.real(5, 60), dice.real(5, 60)};
  return scenes::block(half * -1.0, half);
}

}  // namespace

TEST_CASE("common volumes agree with Boolean operations on solids", "[separation][kernel]") {
  Dice dice(20260103);
  int compared = 0;
  int apart = 0;
  for (int i = 0; compared < 700; ++i) {
    CAPTURE(i);
    const ConvexPiece a = i % 4 == 0 ? random_block(dice) : random_hull(dice);
    const ConvexPiece b = moved(random_hull(dice), dice.point(45) + Vec3{20, 10, 0});
    const double distance = separation(a, b).distance;
    if (distance > 0.0 && ++apart % 4 != 0) continue;  // some that are apart are enough
    const double volume = compare(a, b);
    CHECK((volume > 1e-3) == (distance < -1e-3));
    ++compared;
  }
  WARN("convex pairs compared with the kernel: " << compared);
}

TEST_CASE("pairs that nearly touch have the volume in common that Booleans find",
          "[separation][kernel]") {
  // Pushed along the shortest way out until they touch, or are 0.009 or 0.011 mm deep in each
  // other: faces, edges and corners meet. Then slivers through blocks, and blocks inside blocks.
  Dice dice(20260105);
  int compared = 0;
  int clashes = 0;
  for (int i = 0; compared < 600; ++i) {
    CAPTURE(i);
    const ConvexPiece b = i % 2 == 0 ? random_block(dice) : random_hull(dice);
    ConvexPiece a = moved(i % 3 == 0 ? random_block(dice) : random_hull(dice), dice.point(40));
    const Separation start = separation(a, b);
    if (start.distance > -1.0) continue;
    const double depths[] = {0.0, 0.009, 0.011, -0.05};
    const double depth = depths[compared % 4];
    a = moved(a, start.axis * (-start.distance - depth));
    CHECK(separation(a, b).distance == Approx(-depth).margin(1e-9));
    const double volume = compare(a, b);
    // A corner 0.009 mm deep has less in common than the kernel can tell from nothing.
    if (volume > 1e-6) CHECK(depth > 0.0);
    ++compared;
  }
  for (int i = 0; i < 200; ++i) {
    CAPTURE(i);
    const ConvexPiece block = random_block(dice);
    const double thin = dice.real(0.015, 0.05) / 2;
    const ConvexPiece sliver = scenes::block({-100, -thin, -100}, {100, thin, 100},
                                             scenes::turned_frame({0, 0, 1}, dice.real(0, 3)));
    const double volume = compare(block, sliver);
    CHECK(volume > 0.0);
    const ConvexPiece inner = scenes::block(block.box.lo * 0.5, block.box.hi * dice.real(0.2, 0.9));
    CHECK(compare(block, inner) == Approx(properties(solid(inner)).Mass()).epsilon(1e-9));
    clashes += separation(block, sliver).distance < -kContact ? 1 : 0;
    compared += 2;
  }
  CHECK(clashes == 200);
  WARN("near-degenerate pairs compared with the kernel: " << compared);
}

namespace {

/// A board with openings, told twice: as a shape of the program, and as blocks and cylinders of the
/// kernel cut out of each other.
struct Board {
  Shape shape;
  TopoDS_Shape solid;
};

Board random_board(Dice& dice, Vec3 size) {
  Board board{box_shape({}, size), BRepPrimAPI_MakeBox(size.x, size.y, size.z).Shape()};
  auto& cuts = board.shape.prisms[0].prism.cuts;
  const int count = dice.whole(1, 3);
  for (int k = 0; k < count; ++k) {
    // Each in its own third of the length; some break the edge, some are blind, some are round.
    const double x = size.x / 3 * k + dice.real(5, 15);
    const double wide = size.x / 3 - 20 - dice.real(0, 15);
    const double y = dice.whole(0, 2) == 0 ? -1.0 : dice.real(5, 20);
    const double deep = dice.whole(0, 2) == 0 ? size.z / 2 : -1.0;
    const double high = size.y - 40;
    TopoDS_Shape hole;
    if (dice.whole(0, 2) == 0) {
      const double radius = std::min(wide, high) / 2;
      const Vec2 centre{x + radius, size.y / 2};
      cuts.push_back({circle(centre, 2 * radius), deep, size.z + 1});
      hole = BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(centre.x, centre.y, deep), gp_Dir(0, 0, 1)),
                                      radius, size.z + 1 - deep)
                 .Shape();
    } else {
      cuts.push_back({rectangle({x, y}, {x + wide, y + high}), deep, size.z + 1});
      hole =
          BRepPrimAPI_MakeBox(gp_Pnt(x, y, deep), gp_Pnt(x + wide, y + high, size.z + 1)).Shape();
    }
    board.solid = BRepAlgoAPI_Cut(board.solid, hole).Shape();
  }
  return board;
}

}  // namespace

TEST_CASE("boards with cut-outs clash where Booleans find wood in common", "[clearance][kernel]") {
  // Two boards, one put through the other at right angles or askew, so that arms, tongues and
  // openings meet each other.
  Dice dice(20260106);
  int clashes = 0;
  int free = 0;
  for (int i = 0; i < 300; ++i) {
    CAPTURE(i);
    const Board a = random_board(dice, {dice.real(150, 400), dice.real(100, 300), 18});
    const Board b = random_board(dice, {dice.real(150, 400), dice.real(60, 200), 12});
    Frame frame;
    if (i % 3 == 0) {
      frame = scenes::turned_frame(dice.direction(), dice.real(0, 3));
    } else if (i % 3 == 1) {
      frame = scenes::turned_frame({1, 0, 0}, std::numbers::pi / 2);
    }
    frame.origin = {dice.real(-100, 300), dice.real(-60, 200), dice.real(-30, 30)};
    const ClearanceResult result = check_clearance(scenes::layout_of(
        {scenes::part("a/board", a.shape), scenes::part("b/board", b.shape, frame)}));
    const double volume =
        std::abs(common(a.solid, b.solid.Moved(TopLoc_Location(transformation(frame)))).Mass());
    const bool found = !result.contacts.empty() && result.contacts[0].verdict == Verdict::clash;
    CAPTURE(volume);
    // A clash is deeper than kContact; an overlap of a mm3 is, with the sizes used here.
    if (volume > 1.0) CHECK(found);
    if (volume < 1e-6) CHECK_FALSE(found);
    if (found) {
      // Arcs are covered from outside: by at most 0.05 mm over their length and the thickness.
      CHECK(result.contacts[0].volume == Approx(volume).epsilon(0.01).margin(60.0));
    }
    ++(found ? clashes : free);
  }
  WARN("boards with cut-outs: " << clashes << " clash, " << free << " are free of each other");
  CHECK(clashes > 80);
  CHECK(free > 40);
}
