#include "retold.hpp"

#include "vehicle/vehicle_scan.hpp"

#include <algorithm>
#include <utility>

namespace ribbay::planted {

namespace {

Vec3 across(Vec3 v) {
  return {v.x, -v.y, v.z};
}

/// The image, told by a right-handed frame: what has the frame is mirrored in its own y as well.
Frame across(const Frame& frame) {
  return {across(frame.origin), across(frame.x), across(frame.y) * -1.0, across(frame.z)};
}

Loop across(Loop loop) {
  for (Corner& corner : loop) corner.at.y = -corner.at.y;
  return reversed(std::move(loop));
}

ShapePtr across(const ShapePtr& shape) {
  if (!shape) return nullptr;
  Shape image = *shape;
  for (PlacedPrism& placed : image.prisms) {
    placed.frame = across(placed.frame);
    placed.prism.section.outer = across(placed.prism.section.outer);
    for (Loop& hole : placed.prism.section.holes) hole = across(hole);
    for (Cut& cut : placed.prism.cuts) cut.outline = across(cut.outline);
    for (Bore& bore : placed.prism.bores) {
      bore.at = across(bore.at);
      bore.direction = across(bore.direction);
    }
  }
  return std::make_shared<const Shape>(std::move(image));
}

/// The van, with its scan, after `change` of a copy of both.
template <class ChangeVan, class ChangeScan>
std::shared_ptr<const Vehicle> changed(const std::shared_ptr<const Vehicle>& van,
                                       ChangeVan change_van, ChangeScan change_scan) {
  if (!van) return nullptr;
  Vehicle copy = *van;
  change_van(copy);
  if (copy.scan) {
    VehicleScan scan = *copy.scan;
    change_scan(scan.mesh);
    copy.scan = std::make_shared<const VehicleScan>(std::move(scan));
  }
  return std::make_shared<const Vehicle>(std::move(copy));
}

}  // namespace

Layout shifted(Layout layout) {
  const Vec3 by = layout.vehicle ? Vec3{10000, 0, 0} : Vec3{10000, -10000, 10000};
  for (Part& part : layout.parts) part.frame.origin = part.frame.origin + by;
  for (Motion& motion : layout.motions) motion.origin = motion.origin + by;
  for (Zone& zone : layout.zones) zone.frame.origin = zone.frame.origin + by;
  for (Bed& bed : layout.beds) bed.mattress = {bed.mattress.lo + by, bed.mattress.hi + by};
  layout.vehicle = changed(
      layout.vehicle,
      [&](Vehicle& van) {
        for (Station& station : van.stations) station.x += by.x;
        for (Joist& joist : van.joists) (joist.across ? joist.at : joist.from) += by.x;
      },
      [&](ScanMesh& mesh) {
        for (auto& p : mesh.points) p = p + by;
      });
  return layout;
}

Layout mirrored(Layout layout) {
  for (Part& part : layout.parts) {
    part.frame = across(part.frame);
    part.shape = across(part.shape);
    part.finished = across(part.finished);
  }
  for (Motion& motion : layout.motions) {
    motion.axis = across(motion.axis) * (motion.kind == MotionKind::rotation ? -1.0 : 1.0);
    motion.origin = across(motion.origin);
  }
  for (Zone& zone : layout.zones) {
    zone.shape = *across(std::make_shared<const Shape>(zone.shape));
    zone.frame = across(zone.frame);
  }
  for (Bed& bed : layout.beds) {
    Box image;
    image.add(across(bed.mattress.lo));
    image.add(across(bed.mattress.hi));
    bed.mattress = image;
  }
  layout.vehicle = changed(
      layout.vehicle,
      [](Vehicle& van) {
        for (Station& station : van.stations) std::swap(station.left, station.right);
        for (Joist& joist : van.joists) {
          if (joist.across) joist.from = -std::exchange(joist.to, -joist.from);
        }
      },
      [](ScanMesh& mesh) {
        for (auto& p : mesh.points) p = across(p);
        for (auto& triangle : mesh.triangles) std::swap(triangle[1], triangle[2]);
      });
  return layout;
}

Layout renamed(Layout layout) {
  const auto rename = [](std::string& id) {
    if (!id.empty() && !id.starts_with("vehicle"))
      id.insert(id.begin(), static_cast<char>('a' + 'z' - id[0]));
  };
  const auto rename_all = [&](std::vector<std::string>& ids) {
    std::ranges::for_each(ids, rename);
  };
  for (Module& module : layout.modules) rename(module.name);
  for (Part& part : layout.parts) {
    rename(part.id);
    rename(part.module);
    rename_all(part.hosts);
  }
  for (Joint& joint : layout.joints) {
    rename(joint.id);
    rename_all(joint.parts);
    rename_all(joint.hardware);
    std::ranges::reverse(joint.parts);
  }
  for (Motion& motion : layout.motions) {
    rename(motion.id);
    rename(motion.after);
    rename_all(motion.parts);
  }
  for (Zone& zone : layout.zones) {
    rename(zone.id);
    rename(zone.owner);
    rename_all(zone.allowed);
  }
  for (Bed& bed : layout.beds) rename(bed.module);
  for (Gap& gap : layout.gaps) {
    rename(gap.a);
    rename(gap.b);
    std::swap(gap.a, gap.b);
  }
  std::ranges::reverse(layout.modules);
  std::ranges::sort(layout.parts, {}, &Part::id);
  std::ranges::sort(layout.motions, {}, &Motion::id);
  return layout;
}

}  // namespace ribbay::planted
