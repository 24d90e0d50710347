// Ratios measured in one run on one machine: our method against the kernel's, on the Marsh demo.
// Nothing here is a test; the figures of the last run stand in DEVELOPERS.md.

#include "assembly_benchmark.hpp"
#include "base/messages.hpp"
#include "clearance/clearance.hpp"
#include "clearance/separation.hpp"
#include "clearance/sweep.hpp"
#include "drawings_benchmark.hpp"
#include "drawings/visible_lines.hpp"
#include "layout/project.hpp"
#include "mesh_benchmark.hpp"
#include "recompute_benchmark.hpp"
#include "shape/facets.hpp"
#include "shape/pieces.hpp"
#include "solids/solid_set.hpp"
#include "solids_kernel/shape.hpp"
#include "stopwatch.hpp"

#include <BRepAlgoAPI_Common.hxx>
#include <BRepGProp.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRep_Builder.hxx>
#include <GProp_GProps.hxx>
#include <HLRAlgo_Projector.hxx>
#include <HLRBRep_Algo.hxx>
#include <HLRBRep_HLRToShape.hxx>
#include <HLRBRep_PolyAlgo.hxx>
#include <HLRBRep_PolyHLRToShape.hxx>
#include <TopoDS_Compound.hxx>

#include <sys/resource.h>

#include <algorithm>
#include <cstdio>
#include <string>
#include <utility>
#include <vector>

namespace {

using namespace ribbay;

Layout demo(const std::vector<std::string>& changed = {}) {
  const std::string path = std::string(RIBBAY_SOURCE_DIR) + "/params/marsh/marsh.toml";
  const auto inputs = read_inputs(path, changed);
  auto layout = lay_out(*inputs.value);
  return std::move(*layout.value);
}

TopoDS_Shape placed_shape(const Layout& layout, const SolidSet& solids, std::size_t part) {
  const Solid* solid = solids.of(part);
  return solid->kernel().shape.Moved(TopLoc_Location(transformation(layout.parts[part].frame)));
}

void one_changed_value() {
  const std::string path = std::string(RIBBAY_SOURCE_DIR) + "/params/marsh/marsh.toml";
  ClearanceResult result;
  int turn = 0;
  const double read = best_of(7, [&] { (void)read_inputs(path, {"values.spacer=70mm"}); });
  const double all = best_of(7, [&] {
    const Layout layout = demo({"values.spacer=" + std::to_string(62 + turn++) + "mm"});
    result = check_clearance(layout, 1);
  });
  std::printf("one changed value, layout and all checks, one core\n");
  std::printf("  %zu bodies, %zu pieces, %zu pairs: %.1f ms, of which reading the files %.1f ms\n",
              result.bodies, result.pieces, result.pairs, all, read);
}

/// Static clearance against Boolean operations on the same pairs of made parts and equipment.
void clearance_against_booleans() {
  Layout layout = demo();
  std::erase_if(layout.parts, [](const Part& part) { return part.kind == PartKind::hardware; });
  layout.motions.clear();
  layout.zones.clear();
  const auto solids = make_solids(layout, 1);
  std::vector<Box> boxes;
  std::vector<TopoDS_Shape> shapes;
  for (std::size_t i = 0; i < layout.parts.size(); ++i) {
    boxes.push_back(bounds(layout.parts[i]));
    shapes.push_back(placed_shape(layout, solids.value, i));
  }
  const double ours = best_of(5, [&] { (void)check_clearance(layout, 1); });
  std::vector<std::pair<std::size_t, std::size_t>> pairs;
  for (std::size_t i = 0; i < shapes.size(); ++i) {
    for (std::size_t j = i + 1; j < shapes.size(); ++j) {
      if (near(boxes[i], boxes[j], 0.0)) pairs.emplace_back(i, j);
    }
  }
  double common = 0.0;
  const double booleans = best_of(1, [&] {
    for (const auto& [i, j] : pairs) {
      BRepAlgoAPI_Common both(shapes[i], shapes[j]);
      GProp_GProps properties;
      BRepGProp::VolumeProperties(both.Shape(), properties);
      common += std::abs(properties.Mass());
    }
  });
  std::printf("static clearance of %zu bodies without hardware, %zu pairs of bounds that meet\n",
              shapes.size(), pairs.size());
  std::printf(
      "  separating axes %.2f ms, van and room checks included; Boolean operations %.0f ms: 1 to "
      "%.0f\n",
      ours, booleans, booleans / ours);
  std::printf("  volume in common found by Booleans: %.3f mm3\n", common);
#ifdef RIBBAY_MESH_LIBRARIES
  clearance_against_meshes(layout, solids.value, pairs, ours);
#endif
}

struct NamedView {
  const char* name;
  ViewFrame view;
};

void visible_lines_against_kernel() {
  Layout layout = demo();
  std::erase_if(layout.parts, [](const Part& part) {
    return part.module != "rack" || part.kind == PartKind::equipment ||
           (part.kind == PartKind::hardware && part.stock.key != "bracket_40");
  });
  const auto solids = make_solids(layout, 1);
  std::vector<Facets> bodies;
  TopoDS_Compound compound;
  const BRep_Builder builder;
  builder.MakeCompound(compound);
  for (std::size_t i = 0; i < layout.parts.size(); ++i) {
    bodies.push_back(placed(facets(*layout.parts[i].shape, {.chord = 0.2}), layout.parts[i].frame));
    builder.Add(compound, placed_shape(layout, solids.value, i));
  }
  std::size_t edges = 0;
  for (const Facets& f : bodies) edges += f.edges.size();
  std::printf("visible lines of the rack, slots drawn: %zu bodies, %zu edges\n", bodies.size(),
              edges);
  const Vec3 eye = normalized({-1, 1, 1});
  const Vec3 right = normalized(cross({0, 0, 1}, eye));
  const std::vector<NamedView> views = {{"front", {{0, -1, 0}, {0, 0, 1}}},
                                        {"top", {{0, -1, 0}, {1, 0, 0}}},
                                        {"isometric", {right, cross(eye, right)}}};
  BRepMesh_IncrementalMesh(compound, 0.2, Standard_False, 0.3, Standard_False);
  for (const NamedView& v : views) {
    const double ours = best_of(5, [&] { (void)visible_spans(bodies, v.view); });
    const Vec3 e = v.view.towards_eye();
    const HLRAlgo_Projector projector(
        gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(e.x, e.y, e.z),
               gp_Dir(v.view.right.x, v.view.right.y, v.view.right.z)));
    const double tessellated = best_of(1, [&] {
      const Handle(HLRBRep_PolyAlgo) algorithm = new HLRBRep_PolyAlgo;
      algorithm->Load(compound);
      algorithm->Projector(projector);
      algorithm->Update();
      HLRBRep_PolyHLRToShape reader;
      reader.Update(algorithm);
      (void)reader.VCompound();
    });
    const double exact = best_of(1, [&] {
      const Handle(HLRBRep_Algo) algorithm = new HLRBRep_Algo;
      algorithm->Add(compound);
      algorithm->Projector(projector);
      algorithm->Update();
      algorithm->Hide();
      HLRBRep_HLRToShape reader(algorithm);
      (void)reader.VCompound();
    });
    std::printf(
        "  %-9s ours %.2f ms; kernel tessellated %.0f ms, 1 to %.0f; kernel exact %.0f ms, 1 to "
        "%.0f\n",
        v.name, ours, tessellated, tessellated / ours, exact, exact / ours);
    std::fflush(stdout);
  }
}

}  // namespace

/// Boxes in rows, each touching the next, every tenth a drawer: time and memory of all checks.
void growth() {
  std::printf("all checks as bodies become more, one core\n");
  for (const int count : {50, 100, 200, 500, 1000, 2000, 5000}) {
    Layout layout;
    const auto shape = std::make_shared<const Shape>(box_shape({}, {100, 100, 50}));
    for (int i = 0; i < count; ++i) {
      char id[24];
      std::snprintf(id, sizeof id, "m%04d/box", i);
      Part part;
      part.id = id;
      part.module = part.id.substr(0, 5);
      part.shape = shape;
      part.frame.origin = {100.0 * (i % 20), 100.0 * (i / 20 % 10), 50.0 * (i / 200)};
      if (i % 10 == 0) {
        Motion motion;
        motion.id = part.module + "/out";
        motion.parts = {part.id};
        motion.travel = 300;
        layout.motions.push_back(motion);
      }
      layout.parts.push_back(std::move(part));
    }
    ClearanceResult result;
    const double taken = best_of(3, [&] { result = check_clearance(layout, 1); });
    rusage used{};
    getrusage(RUSAGE_SELF, &used);
    std::printf("  %5d bodies, %4zu motions, %6zu pairs: %8.1f ms, %ld MB at most so far\n", count,
                layout.motions.size(), result.pairs, taken, used.ru_maxrss / 1024);
  }
}

/// The first contact of two turned boxes on a way of 400 mm, and of a door over a quarter turn,
/// against setting it every mm of the way.
void sweeps_against_sampling() {
  const auto box = [](Vec3 at, Vec3 size) {
    Pieces made = pieces(box_shape(at, at + size));
    return made.front();
  };
  const ConvexPiece front = box({0, 0, 0}, {18, 400, 200});
  const ConvexPiece post = box({330, 100, 0}, {40, 40, 600});
  const ConvexPiece leaf = box({0, -18, 0}, {450, 18, 700});
  const Turn hinge{{}, {0, 0, 1}};
  const double quarter = 1.5707963267948966;
  const ConvexPiece corner = box({200, 300, 0}, {50, 90, 600});
  constexpr int kTimes = 2000;
  int found = 0;
  const double closed = best_of(5, [&] {
    for (int i = 0; i < kTimes; ++i) {
      found += contact_stretch(front, post, {1, 0, 0}, 400).has_value() ? 1 : 0;
      found += contact_angle(leaf, corner, hinge, quarter).has_value() ? 1 : 0;
    }
  });
  const double stepped = best_of(1, [&] {
    for (int i = 0; i < kTimes; ++i) {
      for (double t = 0; t <= 400; t += 1)
        found += separation(moved(front, {t, 0, 0}), post, 0.0).distance < 0 ? 1 : 0;
      for (double t = 0; t <= quarter; t += 1 / 450.0)
        found += separation(turned(leaf, hinge, t), corner, 0.0).distance < 0 ? 1 : 0;
    }
  });
  std::printf("a drawer and a door against one obstacle each, in closed form and every mm of the way\n");
  std::printf("  %.2f us, %.0f us: 1 to %.0f (%d)\n", closed / kTimes * 1000, stepped / kTimes * 1000,
              stepped / closed, found);
}

int main() {
  one_changed_value();
  std::fflush(stdout);
  one_change_after_another();
  std::fflush(stdout);
  clearance_against_booleans();
  std::fflush(stdout);
  visible_lines_against_kernel();
  std::fflush(stdout);
  views_and_drawings(demo());
  std::fflush(stdout);
  sweeps_against_sampling();
  order_of_a_large_frame();
  growth();
  return 0;
}
