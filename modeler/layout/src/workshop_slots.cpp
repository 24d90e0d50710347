#include "base/tolerance.hpp"
#include "workshop.hpp"

#include <algorithm>

/// Brackets and plates on slotted profile: bolts into slot nuts.
namespace ribbay::detail {

namespace {

/// The angle of a bracket, legs along x and y, its width along z, holes drilled.
Prism bracket_prism(const Bracket& bracket, double hole) {
  const double t = bracket.thickness;
  const double leg = bracket.leg;
  Prism angle;
  angle.section.outer = {{{0, 0}}, {{leg, 0}}, {{leg, t}}, {{t, t}}, {{t, leg}}, {{0, leg}}};
  angle.height = bracket.width;
  const double h = bracket.hole_from_corner;
  angle.bores.push_back({.at = {h, t, bracket.width / 2},
                         .direction = {0, -1, 0},
                         .diameter = hole,
                         .depth = t,
                         .through = true,
                         .thread = {},
                         .role = BoreRole::bolt});
  angle.bores.push_back({.at = {t, h, bracket.width / 2},
                         .direction = {-1, 0, 0},
                         .diameter = hole,
                         .depth = t,
                         .through = true,
                         .thread = {},
                         .role = BoreRole::bolt});
  return angle;
}

Shape nut_shape(const Nut& nut) {
  Shape shape =
      box_shape({-nut.length / 2, -nut.width / 2, 0}, {nut.length / 2, nut.width / 2, nut.height});
  shape.prisms.front().prism.bores.push_back({.at = {0, 0, nut.height},
                                              .direction = {0, 0, -1},
                                              .diameter = nut.diameter,
                                              .depth = nut.height,
                                              .through = true,
                                              .thread = "M" + rounded_text(nut.diameter, 1),
                                              .role = BoreRole::bolt});
  return shape;
}

}  // namespace

void Workshop::add(const CornerJoint& joint) {
  const Bracket& bracket = *joint.bracket;
  const Bolt& bolt = entry(request_.catalogue.bolts, bracket.bolt);
  const Vec3 across = cross(joint.leg_a, joint.leg_b);
  const Frame frame = frame_zx(joint.corner - across * (bracket.width / 2), across, joint.leg_a);
  Shape shape{{{bracket_prism(bracket, bolt.clearance_hole), {}}}};
  const double mass = volume(shape) * entry(request_.catalogue.materials, bracket.material).density;
  std::vector<std::string> hardware{add_hardware(
      joint.name, bracket.title, bracket.key, bracket.material, std::move(shape), frame, mass, {})};
  bolt_leg(joint, "a", joint.leg_a, joint.leg_b, joint.host_a, bolt, hardware);
  bolt_leg(joint, "b", joint.leg_b, joint.leg_a, joint.host_b, joint.bolt_b ? *joint.bolt_b : bolt,
           hardware);
  join("joint." + joint.name, "inside-corner bracket", {joint.host_a, joint.host_b},
       std::move(hardware));
}

void Workshop::bolt_leg(const CornerJoint& joint, const char* leg, Vec3 on, Vec3 out,
                        const std::string& host, const Bolt& bolt,
                        std::vector<std::string>& hardware) {
  const Bracket& bracket = *joint.bracket;
  const Vec3 surface =
      joint.corner + on * bracket.hole_from_corner;  // on the host's face, under the leg
  const Slot* slot = slot_of(host);
  const bool nut = slot != nullptr && !bracket.nut.empty();
  add(SlotBolt{.bolt_name = joint.name + ".bolt_" + leg,
               .nut_name = joint.name + ".nut_" + leg,
               .bolt = &bolt,
               .nut = nut ? &entry(request_.catalogue.nuts, bracket.nut) : nullptr,
               .slot = slot,
               .surface = surface,
               .out = out,
               .along = on,
               .clamped = bracket.thickness,
               .member = host,
               .through = {hardware.front()}},
      hardware);
}

void Workshop::add(const SlotBolt& joint, std::vector<std::string>& hardware) {
  std::vector<std::string> hosts = joint.through;
  hosts.push_back(joint.member);
  if (joint.nut != nullptr) {
    const Nut& nut = *joint.nut;
    hosts.push_back(
        add_hardware(joint.nut_name, nut.title, nut.key, {}, nut_shape(nut),
                     frame_zx(joint.surface - joint.out * joint.slot->lip, -joint.out, joint.along),
                     nut.mass_kg, {joint.member}));
    hardware.push_back(hosts.back());
    check_reach(joint);
  }
  hardware.push_back(add(Fastener{.name = joint.bolt_name,
                                  .bolt = joint.bolt,
                                  .at = joint.surface + joint.out * joint.clamped,
                                  .direction = -joint.out,
                                  .hosts = std::move(hosts)}));
}

const Slot* Workshop::slot_of(const std::string& part_id) const {
  const auto part = std::ranges::find(made_.parts, part_id, &Part::id);
  if (part == made_.parts.end()) return nullptr;  // the floor, or another module's part
  const auto profile = request_.catalogue.profiles.find(part->stock.key);
  if (profile == request_.catalogue.profiles.end() || !profile->second.slot) return nullptr;
  return &*profile->second.slot;
}

void Workshop::check_reach(const SlotBolt& joint) {
  // The thread must fill the nut, and the tip must stay above the slot's floor.
  const double shortest = joint.clamped + joint.slot->lip + joint.nut->height;
  const double longest = joint.clamped + joint.slot->depth;
  const double length = joint.bolt->length;
  if (length >= shortest - kContact && length <= longest + kContact) return;
  Finding finding;
  finding.code = length < shortest ? "layout.bolt_too_short" : "layout.bolt_too_long";
  finding.severity = Severity::warning;
  finding.subjects = {id(joint.bolt_name)};
  finding.place = joint.place;
  finding.with("stock", joint.bolt->key)
      .with("measured", length, Unit::mm)
      .with("shortest", shortest, Unit::mm)
      .with("longest", longest, Unit::mm);
  find(std::move(finding));
}

}  // namespace ribbay::detail
