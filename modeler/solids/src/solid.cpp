#include "solids/solid.hpp"

#include "mesh_body.hpp"
#include "section.hpp"
#include "solids_kernel/guarded.hpp"
#include "solids_kernel/shape.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepBndLib.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRepGProp.hxx>
#include <BRepLib.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <BRep_Tool.hxx>
#include <Bnd_Box.hxx>
#include <GProp_GProps.hxx>
#include <ShapeUpgrade_UnifySameDomain.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_ListOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Solid.hxx>
#include <gp_Ax3.hxx>

#include <cmath>

namespace ribbay {

gp_Trsf transformation(const Frame& frame) {
  const auto direction = [](Vec3 v) { return gp_Dir(v.x, v.y, v.z); };
  const gp_Pnt origin(frame.origin.x, frame.origin.y, frame.origin.z);
  gp_Trsf result;
  result.SetTransformation(gp_Ax3(origin, direction(frame.z), direction(frame.x)), gp_Ax3());
  return result;
}

namespace {

/// A drill comes from outside and, when it goes through, leaves on the other side.
constexpr double kPastBore = 1.0;

bool finite(Vec3 v) {
  return std::isfinite(v.x) && std::isfinite(v.y) && std::isfinite(v.z);
}

/// What a builder could have got wrong, before the kernel trips over it.
Findings faults(const Shape& shape, const std::string& part_id) {
  Findings findings;
  const auto check_region = [&](const Region& region) {
    const std::string reason = fault(region);
    if (!reason.empty()) {
      findings.push_back(solid_error("solid.bad_section", part_id).with("reason", reason));
    }
  };
  if (shape.prisms.empty() && !shape.mesh) {
    findings.push_back(solid_error("solid.nothing_left", part_id));
  }
  for (const auto& [prism, frame] : shape.prisms) {
    check_region(prism.section);
    for (const Cut& cut : prism.cuts) check_region({cut.outline, {}});
    if (!(prism.height > 0.0) || !std::isfinite(prism.height)) {
      findings.push_back(
          solid_error("solid.no_height", part_id).with("height", prism.height, Unit::mm));
    }
    for (const Bore& bore : prism.bores) {
      if (bore.diameter > 0.0 && bore.depth > 0.0 && std::isfinite(bore.diameter + bore.depth) &&
          finite(bore.at) && length(bore.direction) > 0.5) {
        continue;
      }
      findings.push_back(solid_error("solid.bad_bore", part_id)
                             .with("diameter", bore.diameter, Unit::mm)
                             .with("depth", bore.depth, Unit::mm));
    }
  }
  return findings;
}

TopoDS_Shape extruded(const Region& section, double from, double to) {
  // A copied top face: a shared one would carry a location and its points would round differently.
  return BRepPrimAPI_MakePrism(detail::face_of(section, from), gp_Vec(0, 0, to - from), true);
}

TopoDS_Shape drill(const Bore& bore) {
  const Vec3 way = normalized(bore.direction);
  const Vec3 start = bore.at - way * kPastBore;
  const double depth = bore.depth + kPastBore + (bore.through ? kPastBore : 0.0);
  return BRepPrimAPI_MakeCylinder(
             gp_Ax2(gp_Pnt(start.x, start.y, start.z), gp_Dir(way.x, way.y, way.z)),
             bore.diameter / 2.0, depth)
      .Solid();
}

/// Faces and edges that continue each other made one.
TopoDS_Shape unified(const TopoDS_Shape& shape) {
  ShapeUpgrade_UnifySameDomain unify(shape, true, true, false);
  unify.Build();
  return unify.Shape();
}

TopoDS_Shape boolean(BRepAlgoAPI_BooleanOperation& operation, const TopoDS_Shape& body,
                     const TopTools_ListOfShape& tools) {
  TopTools_ListOfShape arguments;
  arguments.Append(body);
  operation.SetArguments(arguments);
  operation.SetTools(tools);
  operation.SetRunParallel(false);
  operation.Build();
  if (operation.HasErrors()) throw Standard_Failure("the Boolean operation gave no result");
  return unified(operation.Shape());
}

TopoDS_Shape prism_body(const Prism& prism, bool bores) {
  const TopoDS_Shape blank = extruded(prism.section, 0.0, prism.height);
  TopTools_ListOfShape tools;
  for (const Cut& cut : prism.cuts) {
    const Cut wider = detail::widened(cut, prism);
    tools.Append(extruded({wider.outline, {}}, wider.from, wider.to));
  }
  if (bores) {
    for (const Bore& bore : prism.bores) tools.Append(drill(bore));
  }
  if (tools.IsEmpty()) return blank;
  BRepAlgoAPI_Cut cut;
  return boolean(cut, blank, tools);
}

TopoDS_Shape joined(const Shape& shape, bool bores) {
  TopoDS_Shape body;
  TopTools_ListOfShape others;
  if (shape.mesh) body = unified(detail::mesh_body(*shape.mesh));
  for (const auto& [prism, frame] : shape.prisms) {
    TopoDS_Shape placed = prism_body(prism, bores);
    if (!(frame == Frame{})) {
      placed = BRepBuilderAPI_Transform(placed, transformation(frame), true).Shape();
    }
    if (body.IsNull()) {
      body = placed;
    } else {
      others.Append(placed);
    }
  }
  if (others.IsEmpty()) return body;
  BRepAlgoAPI_Fuse fuse;
  return boolean(fuse, body, others);
}

bool is_sound(const TopoDS_Solid& solid) {
  if (!BRepCheck_Analyzer(solid).IsValid()) return false;
  for (TopExp_Explorer shell(solid, TopAbs_SHELL); shell.More(); shell.Next()) {
    if (!BRep_Tool::IsClosed(shell.Current())) return false;
  }
  return true;
}

Box tight_bounds(const TopoDS_Shape& shape) {
  Bnd_Box box;
  BRepBndLib::AddOptimal(shape, box, false, false);
  box.SetGap(0.0);
  Box result;
  box.Get(result.lo.x, result.lo.y, result.lo.z, result.hi.x, result.hi.y, result.hi.z);
  return result;
}

/// Volume and centre. Where all edges are lines and circles the kernel's quick rule is good to
/// rounding; where bores cross curved faces it was 3e-7 off, so there the one that refines until it
/// agrees takes over.
GProp_GProps mass_properties(const TopoDS_Shape& body) {
  bool simple = true;
  for (TopExp_Explorer edge(body, TopAbs_EDGE); edge.More() && simple; edge.Next()) {
    simple = BRepAdaptor_Curve(TopoDS::Edge(edge.Current())).GetType() <= GeomAbs_Circle;
  }
  GProp_GProps properties;
  if (simple) {
    BRepGProp::VolumeProperties(body, properties);
  } else {
    BRepGProp::VolumeProperties(body, properties, 1e-9);
  }
  return properties;
}

Result<Solid> measured(const TopoDS_Shape& body, const std::string& part_id) {
  std::vector<TopoDS_Solid> solids;
  for (TopExp_Explorer at(body, TopAbs_SOLID); at.More(); at.Next()) {
    solids.push_back(TopoDS::Solid(at.Current()));
  }
  if (solids.empty()) return fail(solid_error("solid.nothing_left", part_id));
  if (solids.size() > 1) {
    return fail(solid_error("solid.not_one_body", part_id)
                    .with("bodies", static_cast<double>(solids.size()), Unit::count));
  }
  const GProp_GProps properties = mass_properties(solids.front());
  if (!is_sound(solids.front()) || !(properties.Mass() > 0.0)) {
    return fail(solid_error("solid.invalid", part_id).with("volume", properties.Mass(), Unit::mm3));
  }
  const gp_Pnt centre = properties.CentreOfMass();
  return Solid(std::make_shared<Solid::Kernel>(
      Solid::Kernel{.shape = solids.front(),
                    .volume_mm3 = properties.Mass(),
                    .centroid = {centre.X(), centre.Y(), centre.Z()},
                    .bounds = tight_bounds(solids.front())}));
}

}  // namespace

Result<Solid> make_solid(const Shape& shape, const std::string& part_id,
                         const SolidOptions& options) {
  if (Findings findings = faults(shape, part_id); !findings.empty()) {
    return fail(std::move(findings));
  }
  return guarded("solid.kernel", part_id,
                 [&] { return measured(joined(shape, options.bores), part_id); });
}

double volume_mm3(const Solid& solid) {
  return solid.kernel().volume_mm3;
}
Vec3 centroid(const Solid& solid) {
  return solid.kernel().centroid;
}
Box bounds(const Solid& solid) {
  return solid.kernel().bounds;
}

}  // namespace ribbay
