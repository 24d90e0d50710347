#include "base/tolerance.hpp"
#include "joints.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

/// The strip of `patch` along the slot of member `b`. Reports a patch that no slot runs through.
std::optional<Patch> strip_over_slot(const Pair& pair, const Patch& patch, double margin) {
  const auto middle = on_slot(pair.b, -patch.out, patch.middle);
  if (!middle) {
    pair.shop.find(fault(pair, "joint.no_slot"));
    return std::nullopt;
  }
  const Vec3 across = cross(patch.out, pair.b.bar()->direction);
  const double beside = dot(*middle - patch.middle, across);
  Patch strip = patch;
  strip.middle = patch.middle + across * beside;
  if (patch.holds(strip.middle, margin)) return strip;
  pair.shop.find(fault(pair, "joint.no_room")
                     .with("measured", patch.length(across) / 2 - std::abs(beside), Unit::mm)
                     .with("length", patch.length(across), Unit::mm)
                     .with("required", margin, Unit::mm));
  return std::nullopt;
}

/// The hole through a panel for a bolt, and the room for a countersunk head.
void bore_for_bolt(Workpiece& panel, const Bolt& bolt, Vec3 at, Vec3 direction, double thickness) {
  Hole hole = clearance_hole(bolt, at, direction, thickness);
  hole.role = BoreRole::bolt;
  panel.holes().push_back(hole);
  if (!bolt.countersunk) return;
  hole.diameter = bolt.head_diameter;
  hole.depth = bolt.head_height;
  hole.through = false;
  panel.holes().push_back(hole);
}

/// Lays the gasket's strip on the face of `b`, bored for the bolts; returns its id.
std::string lay_gasket(const Pair& pair, const Patch& strip, Vec3 along, const Gasket& gasket,
                       const Bolt& bolt, const std::vector<Vec3>& bolts) {
  const Vec3 across = cross(-strip.out, along);
  const double width = std::min(gasket.width, strip.length(across));
  const double length = strip.length(along);
  const Vec3 corner =
      strip.middle + strip.out * gasket.compressed - along * (length / 2) - across * (width / 2);
  const Frame frame = frame_zx(corner, -strip.out, along);
  Shape shape = box_shape({0, 0, 0}, {length, width, gasket.compressed});
  for (const Vec3 at : bolts) {
    const Vec3 p = frame.local_point(at);
    shape.prisms.front().prism.bores.push_back({.at = {p.x, p.y, gasket.compressed},
                                                .direction = {0, 0, -1},
                                                .diameter = bolt.clearance_hole,
                                                .depth = gasket.compressed,
                                                .through = true,
                                                .thread = {},
                                                .role = BoreRole::bolt});
  }
  return pair.shop.add_hardware("gasket." + pair.name, gasket.title, gasket.key, {},
                                std::move(shape), frame, gasket.metre_mass * length,
                                {pair.a.name(), pair.b.name()});
}

/// Where panel `a` lies on member `b`, its face or back on it.
std::optional<Patch> face_meeting(const Pair& pair, double gap) {
  if (!is_panel(pair, pair.a) || !both_members(pair)) return std::nullopt;
  const auto patch = meeting(pair, gap);
  if (!patch || std::abs(dot(patch->out, pair.a.board()->frame.z)) > 0.5) return patch;
  pair.shop.find(fault(pair, "joint.not_on_face"));
  return std::nullopt;
}

bool same_thread(const Pair& pair, const OnFace& how) {
  if (how.bolt->diameter == how.nut->diameter) return true;
  pair.shop.find(fault(pair, "joint.threads_differ")
                     .with("bolt", how.bolt->diameter, Unit::mm)
                     .with("nut", how.nut->diameter, Unit::mm));
  return false;
}

}  // namespace

void panel_on_face(const Pair& pair, const OnFace& how) {
  const double gap = how.gasket ? how.gasket->compressed : 0.0;
  const auto patch = face_meeting(pair, gap);
  if (!patch || !same_thread(pair, how)) return;
  const Bolt& bolt = *how.bolt;
  const double margin = bolt.head_diameter / 2;
  const auto strip = strip_over_slot(pair, *patch, margin);
  if (!strip) return;
  const Vec3 along = patch->side(pair.b.bar()->direction);
  const std::vector<Vec3> at = places(pair, *strip, along, how.row, margin);
  if (at.empty()) return;
  std::vector<std::string> hardware;
  std::vector<std::string> through{pair.a.name()};
  if (how.gasket) {
    hardware.push_back(lay_gasket(pair, *strip, along, *how.gasket, bolt, at));
    through.push_back(hardware.back());
  }
  const double thickness = pair.a.board()->sheet->thickness;
  for (std::size_t i = 0; i < at.size(); ++i) {
    bore_for_bolt(pair.a, bolt, at[i] - patch->out * thickness, patch->out, thickness);
    pair.shop.add(SlotBolt{.bolt_name = numbered("bolt", pair, i, at.size()),
                           .nut_name = numbered("nut", pair, i, at.size()),
                           .bolt = &bolt,
                           .nut = how.nut,
                           .slot = pair.b.slot(),
                           .surface = at[i] + patch->out * gap,
                           .out = -patch->out,
                           .along = along,
                           .clamped = thickness + gap,
                           .member = pair.b.name(),
                           .through = through,
                           .place = pair.place},
                  hardware);
  }
  join(pair, how.gasket ? "panel on gasket" : "panel on face", std::move(hardware));
}

void panel_in_slot(const Pair& pair) {
  if (!is_panel(pair, pair.a) || !both_members(pair)) return;
  const Slot* slot = pair.b.slot();
  if (slot == nullptr) return pair.shop.find(fault(pair, "joint.no_slot"));
  const Box in = overlap(pair.b, pair.a);
  if (in.empty()) return pair.shop.find(fault(pair, "joint.not_inside"));
  const Frame frame = pair.b.frame();
  const Vec3 middle = frame.point(in.centre());
  const Vec3 normal = pair.a.board()->frame.z;
  const Vec3 across = cross(pair.b.bar()->direction, normal);
  const Vec3 out = dot(middle - pair.b.bar()->from, across) < 0.0 ? -across : across;
  const auto on = on_slot(pair.b, out, middle);
  if (!on) return pair.shop.find(fault(pair, "joint.no_slot"));
  const double beside = std::abs(dot(*on - middle, normal));
  const double thickest = pair.a.board()->sheet->thickest;
  const double room = slot->opening - 2 * beside;
  if (thickest > room - kContact) {
    return pair.shop.find(fault(pair, "joint.panel_too_thick")
                              .with("measured", thickest, Unit::mm)
                              .with("required", slot->opening, Unit::mm)
                              .with("beside", beside, Unit::mm));
  }
  // From the face of the member to the far end of what is inside it.
  const double deep = 2 * std::abs(dot(*on - middle, out));
  const double deepest = slot->depth - kSlotFloorAir;
  if (deep > deepest + kSame) {
    return pair.shop.find(fault(pair, "joint.panel_too_deep")
                              .with("measured", deep, Unit::mm)
                              .with("required", deepest, Unit::mm));
  }
  join(pair, "panel in slot");
}

namespace {

/// What panel `a` takes of panel `b`, as a cut into one of its faces. Reports what is no such cut.
std::optional<Cut> cut_for(const Pair& pair, CutRole role) {
  if (!is_panel(pair, pair.a) || !is_panel(pair, pair.b)) return std::nullopt;
  const Box in = overlap(pair.b, pair.a);
  if (in.empty()) {
    pair.shop.find(fault(pair, "joint.not_inside"));
    return std::nullopt;
  }
  const double thickness = pair.b.board()->sheet->thickness;
  const bool at_back = in.lo.z <= kContact;
  const bool at_face = in.hi.z >= thickness - kContact;
  if (at_back == at_face) {
    pair.shop.find(fault(pair, "joint.cuts_through")
                       .with("measured", in.size().z, Unit::mm)
                       .with("required", thickness, Unit::mm));
    return std::nullopt;
  }
  return Cut{.outline = rectangle({in.lo.x, in.lo.y}, {in.hi.x, in.hi.y}),
             .from = at_back ? 0.0 : in.lo.z,
             .to = at_back ? in.hi.z : thickness,
             .role = role};
}

}  // namespace

void dado(const Pair& pair) {
  auto cut = cut_for(pair, CutRole::dado);
  if (!cut) return;
  pair.b.board()->cuts.push_back(std::move(*cut));
  join(pair, "dado");
}

void rebate(const Pair& pair) {
  auto cut = cut_for(pair, CutRole::rebate);
  if (!cut) return;
  const Box box = pair.b.box();
  const Vec2 lo = cut->outline.front().at;
  const Vec2 hi = cut->outline[2].at;
  const bool at_edge = lo.x - box.lo.x <= kContact || lo.y - box.lo.y <= kContact ||
                       box.hi.x - hi.x <= kContact || box.hi.y - hi.y <= kContact;
  if (!at_edge) return pair.shop.find(fault(pair, "joint.not_at_edge"));
  pair.b.board()->cuts.push_back(std::move(*cut));
  join(pair, "rebate");
}

}  // namespace ribbay::detail
