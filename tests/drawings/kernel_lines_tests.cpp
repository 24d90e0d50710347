// Visible lines against the two hidden-line algorithms of OpenCASCADE: HLRBRep_Algo, exact, and
// HLRBRep_PolyAlgo, on a tessellation. Compared is the length of all that is drawn.
#include "drawings/visible_lines.hpp"
#include "scenes.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepLib.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRep_Builder.hxx>
#include <GCPnts_AbscissaPoint.hxx>
#include <HLRAlgo_Projector.hxx>
#include <HLRBRep_Algo.hxx>
#include <HLRBRep_HLRToShape.hxx>
#include <HLRBRep_PolyAlgo.hxx>
#include <HLRBRep_PolyHLRToShape.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Compound.hxx>

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace scenes;

namespace {

/// The same bodies for us and for the kernel.
struct Scene {
  std::vector<Facets> ours;
  TopoDS_Compound kernel;
  Scene() { BRep_Builder().MakeCompound(kernel); }

  void add(const Solid& solid) {
    ours.push_back(facets_of(solid));
    const gp_Ax3 axes(gp_Pnt(solid.frame.origin.x, solid.frame.origin.y, solid.frame.origin.z),
                      gp_Dir(solid.frame.z.x, solid.frame.z.y, solid.frame.z.z),
                      gp_Dir(solid.frame.x.x, solid.frame.x.y, solid.frame.x.z));
    const TopoDS_Shape made =
        solid.round > 0.0
            ? BRepPrimAPI_MakeCylinder(axes.Ax2(), solid.round, solid.height).Shape()
            : BRepPrimAPI_MakeBox(axes.Ax2(), solid.polygon[2].x, solid.polygon[2].y, solid.height)
                  .Shape();
    BRep_Builder().Add(kernel, made);
  }
};

double length_of(const TopoDS_Shape& lines) {
  if (lines.IsNull()) return 0.0;
  BRepLib::BuildCurves3d(lines);
  double sum = 0.0;
  for (TopExp_Explorer e(lines, TopAbs_EDGE); e.More(); e.Next())
    sum += GCPnts_AbscissaPoint::Length(BRepAdaptor_Curve(TopoDS::Edge(e.Current())));
  return sum;
}

HLRAlgo_Projector projector(const ViewFrame& view) {
  const Vec3 eye = view.towards_eye();
  return HLRAlgo_Projector(gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(eye.x, eye.y, eye.z),
                                  gp_Dir(view.right.x, view.right.y, view.right.z)));
}

/// Edges and outlines in sight; seams of round faces are not drawn.
double exact_length(const Scene& scene, const ViewFrame& view) {
  const Handle(HLRBRep_Algo) algorithm = new HLRBRep_Algo;
  algorithm->Add(scene.kernel);
  algorithm->Projector(projector(view));
  algorithm->Update();
  algorithm->Hide();
  HLRBRep_HLRToShape reader(algorithm);
  return length_of(reader.VCompound()) + length_of(reader.OutLineVCompound());
}

double tessellated_length(const Scene& scene, const ViewFrame& view) {
  BRepMesh_IncrementalMesh(scene.kernel, 0.02, Standard_False, 0.1, Standard_False);
  const Handle(HLRBRep_PolyAlgo) algorithm = new HLRBRep_PolyAlgo;
  algorithm->Load(scene.kernel);
  algorithm->Projector(projector(view));
  algorithm->Update();
  HLRBRep_PolyHLRToShape reader;
  reader.Update(algorithm);
  return length_of(reader.VCompound()) + length_of(reader.OutLineVCompound());
}

double our_length(const Scene& scene, const ViewFrame& view) {
  const Drawn drawn = visible_lines(scene.ours, view);
  double sum = 0.0;
  for (const DrawnLine& l : drawn.lines) sum += length(l.b - l.a);
  for (const DrawnArc& a : drawn.arcs) {
    constexpr int kSteps = 2000;
    for (int i = 0; i < kSteps; ++i) {
      const auto at = [&](int k) { return a.point(a.from + (a.to - a.from) * k / kSteps); };
      sum += length(at(i + 1) - at(i));
    }
  }
  return sum;
}

/// A view along no axis of anything.
ViewFrame oblique() {
  const Vec3 eye = normalized({0.62, -0.71, 0.43});
  const Vec3 right = normalized(cross({0, 0, 1}, eye));
  return {right, cross(eye, right)};
}
const ViewFrame kFront{{1, 0, 0}, {0, 0, 1}};

}  // namespace

TEST_CASE("boxes that hide each other show as much as the kernel says", "[drawings][visible][kernel]") {
  Random random(41);
  for (int turn = 0; turn < 4; ++turn) {
    Scene scene;
    for (int i = 0; i < 6; ++i) {
      Solid solid = box({}, {random.between(20, 90), random.between(20, 90), random.between(20, 90)});
      // Apart along the line of sight, so that they hide and do not enter each other.
      solid.frame = random.frame(oblique().towards_eye() * (200.0 * i) +
                                 oblique().right * random.between(-40, 40));
      scene.add(solid);
    }
    const double ours = our_length(scene, oblique());
    CAPTURE(turn, ours);
    CHECK(exact_length(scene, oblique()) == Approx(ours).epsilon(1e-5));
    CHECK(tessellated_length(scene, oblique()) == Approx(ours).epsilon(1e-5));
  }
}

TEST_CASE("round bodies show as much as the kernel says", "[drawings][visible][kernel]") {
  Random random(43);
  for (int turn = 0; turn < 4; ++turn) {
    Scene scene;
    for (int i = 0; i < 5; ++i) {
      Solid solid = i % 2 == 0 ? cylinder({}, random.between(15, 50), random.between(20, 90), 360)
                               : box({}, {random.between(20, 90), 40, random.between(20, 90)});
      solid.frame = random.frame(oblique().towards_eye() * (250.0 * i) +
                                 oblique().right * random.between(-40, 40));
      scene.add(solid);
    }
    const double ours = our_length(scene, oblique());
    CAPTURE(turn, ours);
    // 360 chords lie within 0.002 mm of these circles, and an outline stands up to half a chord beside
    // its true place. The kernel's own triangles lie within 0.02 mm.
    CHECK(exact_length(scene, oblique()) == Approx(ours).epsilon(5e-4));
    CHECK(tessellated_length(scene, oblique()) == Approx(ours).epsilon(5e-3));
  }
}

TEST_CASE("where we draw less than the kernel, it draws a line twice", "[drawings][visible][kernel]") {
  // Two boards flush with each other: their joint is an edge of both.
  Scene flush;
  flush.add(box({0, 0, 0}, {100, 10, 50}));
  flush.add(box({0, 0, 50}, {100, 10, 90}));
  const double ours = our_length(flush, kFront);
  CHECK(ours == Approx(2 * 90 + 3 * 100));
  CHECK(exact_length(flush, kFront) == Approx(ours + 100));
  CHECK(tessellated_length(flush, kFront) == Approx(ours + 100));
}
