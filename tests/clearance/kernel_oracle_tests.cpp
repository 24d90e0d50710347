// The common volume of convex pieces against the Boolean operations of OpenCASCADE, on B-reps that
// are built here from the faces of the pieces.
#include "clearance/separation.hpp"
#include "scenes.hpp"

#include <BRepAlgoAPI_Common.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepBuilderAPI_MakeSolid.hxx>
#include <BRepBuilderAPI_Sewing.hxx>
#include <BRepGProp.hxx>
#include <GProp_GProps.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Shell.hxx>
#include <TopoDS_Solid.hxx>
#include <TopoDS_Wire.hxx>
#include <gp_Pnt.hxx>

using namespace ribbay;

namespace {

TopoDS_Solid solid(const ConvexPiece& piece) {
  BRepBuilderAPI_Sewing sewing(1e-7);
  for (const std::vector<int>& face : piece.faces) {
    BRepBuilderAPI_MakePolygon outline;
    for (const int i : face) {
      const Vec3 p = piece.vertices[static_cast<std::size_t>(i)];
      outline.Add(gp_Pnt(p.x, p.y, p.z));
    }
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

}  // namespace

TEST_CASE("common volumes agree with Boolean operations on solids", "[separation][kernel]") {
  scenes::Dice dice(20260103);
  int compared = 0;
  for (int i = 0; compared < 200; ++i) {
    CAPTURE(i);
    std::vector<Vec3> a, b;
    for (int k = dice.whole(4, 8); k > 0; --k) a.push_back(dice.point(80));
    for (int k = dice.whole(4, 8); k > 0; --k) b.push_back(dice.point(80) + Vec3{30, 20, 0});
    const ConvexPiece pa =
        i % 4 == 0 ? scenes::block({-40, -30, -20}, {50, 40, 30}) : scenes::hull(a);
    const ConvexPiece pb = scenes::hull(b);
    if (separation(pa, pb).distance > -1.0) continue;
    BRepAlgoAPI_Common common(solid(pa), solid(pb));
    REQUIRE(common.IsDone());
    const GProp_GProps truth = properties(common.Shape());
    const Overlap found = overlap(pa, pb);
    CHECK(found.volume == Approx(std::abs(truth.Mass())).epsilon(1e-6).margin(1e-3));
    if (std::abs(truth.Mass()) > 1.0) {
      CHECK(found.centre.x == Approx(truth.CentreOfMass().X()).margin(1e-4));
      CHECK(found.centre.y == Approx(truth.CentreOfMass().Y()).margin(1e-4));
      CHECK(found.centre.z == Approx(truth.CentreOfMass().Z()).margin(1e-4));
    }
    ++compared;
  }
}
