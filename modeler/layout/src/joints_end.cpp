#include "base/tolerance.hpp"
#include "joints.hpp"
#include "threads.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ribbay::detail {

namespace {

/// Thread that is cut deeper than the bolt reaches, for the tap's lead (common practice, no
/// source).
constexpr double kTapLead = 5.0;
/// Added to what a driver or a head measures, for the hole it goes through (common practice, no
/// source).
constexpr double kToolPlay = 1.0;
/// How far a core bore may differ from the tapping drill of its thread (common practice, no
/// source).
constexpr double kDrillPlay = 0.3;

/// The core bores of `a` that meet `b`. Reports a member that has none there.
std::vector<Vec3> meeting_cores(const Pair& pair, const Patch& patch) {
  std::vector<Vec3> all = core_bores(*pair.a.bar(), patch.out);
  if (all.empty()) {
    pair.shop.find(fault(pair, "joint.no_core_bore").with("stock", pair.a.bar()->profile->key));
    return {};
  }
  std::erase_if(all, [&](Vec3 p) { return !patch.holds(p); });
  if (all.empty()) pair.shop.find(fault(pair, "joint.core_misses"));
  return all;
}

/// Reports a thread that the core bore is no tapping drill of.
bool thread_fits(const Pair& pair, const Bolt& bolt) {
  const double drill = tapping_drill(bolt.diameter);
  const double bore = pair.a.bar()->profile->core_bore;
  if (std::abs(drill - bore) <= kDrillPlay) return true;
  pair.shop.find(fault(pair, "joint.wrong_thread")
                     .with("stock", pair.a.bar()->profile->key)
                     .with("bolt", bolt.key)
                     .with("measured", bore, Unit::mm)
                     .with("required", drill, Unit::mm)
                     .with("thread", thread_of(bore)));
  return false;
}

/// Reports a bolt that holds too little, and returns how deep its thread goes in.
double held(const Pair& pair, const Bolt& bolt, double grip) {
  const double depth = bolt.length - grip;
  const double wanted = kThreadHold * bolt.diameter;
  if (depth < wanted - kSame) {
    Finding finding = fault(pair, "joint.bolt_too_short");
    finding.source = "common practice, no source";
    if (depth > 0.0) finding.severity = Severity::warning;
    pair.shop.find(std::move(finding)
                       .with("bolt", bolt.key)
                       .with("length", bolt.length, Unit::mm)
                       .with("measured", std::max(depth, 0.0), Unit::mm)
                       .with("required", wanted, Unit::mm)
                       .with("shortest", grip + wanted, Unit::mm));
  }
  return std::max(depth, kCut);
}

/// Width of a slot's cavity `behind` its lips.
double cavity_width(const Slot& slot, double behind) {
  const double deep = slot.depth - slot.lip;
  return slot.cavity_width + (slot.floor_width - slot.cavity_width) * std::min(behind / deep, 1.0);
}

/// Reports a head that finds no room behind the lips.
bool head_fits(const Pair& pair, const Bolt& bolt, const Slot& slot) {
  const double deep = slot.depth - slot.lip;
  const double wide = cavity_width(slot, bolt.head_height);
  if (bolt.head_height <= deep + kSame && bolt.head_diameter <= wide + kSame) return true;
  const bool high = bolt.head_height > deep + kSame;
  pair.shop.find(fault(pair, "joint.head_in_slot")
                     .with("bolt", bolt.key)
                     .with("measured", high ? bolt.head_height : bolt.head_diameter, Unit::mm)
                     .with("size", high ? "high" : "wide")
                     .with("required", high ? deep : wide, Unit::mm));
  return false;
}

/// The slot of `b` that faces `a`, in line with `at`. Reports one that is not there.
const Slot* slot_at(const Pair& pair, Vec3 out, Vec3 at) {
  const auto middle = on_slot(pair.b, -out, at);
  if (middle && length(*middle - at) <= kContact) return pair.b.slot();
  pair.shop.find(fault(pair, "joint.no_slot"));
  return nullptr;
}

/// The hole through which the driver reaches the head behind the far wall of `b`.
Hole driver_hole(const Bolt& bolt, const Slot& slot, Vec3 far, Vec3 direction, double thickness) {
  // Across the corners of a hexagon drive.
  const double drive =
      bolt.spanner > 0.0 ? bolt.spanner * 2.0 / std::numbers::sqrt3 : bolt.head_diameter;
  return {.at = far,
          .direction = direction,
          .diameter = drive + kToolPlay,
          .depth = thickness - slot.lip,
          .through = false,
          .role = BoreRole::access,
          .thread = {}};
}

/// One bolt of an end bolt joint on the axis through `core`; false when it does not fit.
bool drive_end_bolt(const Pair& pair, const EndBolt& how, Vec3 core, Vec3 out,
                    const std::string& name, std::vector<std::string>& hardware) {
  const Bolt& bolt = *how.bolt;
  const double thickness = size_along(pair.b, out);
  const Vec3 far = core + out * thickness;
  double grip = thickness - how.sunk;
  if (how.in_slot) {
    const Slot* slot = slot_at(pair, out, core);
    if (slot == nullptr || !head_fits(pair, bolt, *slot)) return false;
    grip = slot->lip;
    pair.b.holes().push_back(driver_hole(bolt, *slot, far, -out, thickness));
  } else {
    if (grip <= kContact) {
      pair.shop.find(fault(pair, "joint.sunk_too_deep")
                         .with("measured", how.sunk, Unit::mm)
                         .with("required", thickness, Unit::mm));
      return false;
    }
    Hole clearance = clearance_hole(bolt, far, -out, thickness);
    clearance.role = BoreRole::bolt;
    pair.b.holes().push_back(clearance);
    if (how.sunk > 0.0) {
      pair.b.holes().push_back({.at = far,
                                .direction = -out,
                                .diameter = bolt.head_diameter + kToolPlay,
                                .depth = how.sunk,
                                .through = false,
                                .role = BoreRole::bolt,
                                .thread = {}});
    }
  }
  const double deep = held(pair, bolt, grip) + kTapLead;
  if (deep > pair.a.bar()->length + kSame) {
    pair.shop.find(fault(pair, "joint.tap_too_deep")
                       .with("measured", deep, Unit::mm)
                       .with("required", pair.a.bar()->length, Unit::mm));
    return false;
  }
  pair.a.holes().push_back(end_tap(*pair.a.bar(), core, -out, deep));
  hardware.push_back(pair.shop.add(Fastener{.name = name,
                                            .bolt = &bolt,
                                            .at = core + out * grip,
                                            .direction = -out,
                                            .hosts = {pair.a.name(), pair.b.name()}}));
  return true;
}

}  // namespace

std::vector<Vec3> core_bores(const Bar& bar, Vec3 out) {
  const Frame frame = frame_zx(bar.from, bar.direction, bar.across);
  const double z = dot(out, bar.direction) > 0.0 ? bar.length : 0.0;
  std::vector<Vec3> all;
  for (const Vec2 c : bar.profile->core_bores) all.push_back(frame.point({c.x, c.y, z}));
  return all;
}

Hole end_tap(const Bar& bar, Vec3 at, Vec3 into, double depth) {
  return {.at = at,
          .direction = into,
          .diameter = bar.profile->core_bore,
          .depth = depth,
          .through = false,
          .role = BoreRole::end_tap,
          .thread = thread_of(bar.profile->core_bore)};
}

void end_bolt(const Pair& pair, const EndBolt& how) {
  const auto patch = end_meeting(pair);
  if (!patch) return;
  const std::vector<Vec3> axes = meeting_cores(pair, *patch);
  if (axes.empty() || !thread_fits(pair, *how.bolt)) return;
  std::vector<std::string> hardware;
  for (std::size_t i = 0; i < axes.size(); ++i) {
    const std::string name = numbered("bolt", pair, i, axes.size());
    if (!drive_end_bolt(pair, how, axes[i], patch->out, name, hardware)) return;
  }
  join(pair, "end bolt", std::move(hardware));
}

namespace {

/// Barrel in the cross hole, shank in the core bore, foot behind the lips, in axes whose origin is
/// the core bore's end: z out of the member, y to where the cross hole is drilled. `along_y`: so
/// runs the slot.
Shape connector_shape(const Connector& connector, const Slot& slot, double core_bore,
                      double from_face, bool along_y) {
  Vec3 half{connector.foot_length / 2, std::min(slot.floor_width, connector.bore) / 2, 0};
  if (along_y) std::swap(half.x, half.y);
  const Vec3 lip{0, 0, slot.lip};
  Shape shape = box_shape(lip - half, lip + half + Vec3{0, 0, connector.foot_height});
  shape.prisms.push_back(
      cylinder(connector.bore, connector.depth,
               frame_zx({0, from_face, -connector.from_end}, {0, -1, 0}, {1, 0, 0})));
  shape.prisms.push_back(cylinder(std::min(core_bore, slot.opening), connector.from_end + slot.lip,
                                  Frame{.origin = {0, 0, -connector.from_end}}));
  return shape;
}

/// Reports a connector that is larger than what it hides in.
bool connector_fits(const Pair& pair, const Connector& connector, const Slot& slot, Vec3 side) {
  struct Limit {
    const char* what;
    double measured;
    double required;
  };
  const Bar& a = *pair.a.bar();
  for (const auto& [what, measured, required] :
       {Limit{"cross hole", connector.depth, size_along(pair.a, side)},
        Limit{"foot", connector.foot_height, slot.depth - slot.lip},
        Limit{"distance from the end", connector.from_end + connector.bore / 2, a.length}}) {
    if (measured <= required + kSame) continue;
    pair.shop.find(fault(pair, "joint.connector_too_large")
                       .with("connector", connector.key)
                       .with("what", what)
                       .with("measured", measured, Unit::mm)
                       .with("required", required, Unit::mm));
    return false;
  }
  return true;
}

/// From the face that looks to `from` to the axis of a core bore.
double below_face(const Pair& pair, Vec3 core, Vec3 from) {
  return size_along(pair.a, from) / 2 - dot(core - pair.a.bar()->from, from);
}

/// The core bores that a cross hole from `from` reaches: not those behind another one. Reports
/// when there is none.
std::vector<Vec3> reached_cores(const Pair& pair, const Patch& patch, const Connector& connector,
                                Vec3 from) {
  std::vector<Vec3> all = meeting_cores(pair, patch);
  if (all.empty()) return all;
  std::erase_if(all,
                [&](Vec3 core) { return below_face(pair, core, from) > connector.depth + kSame; });
  if (all.empty()) {
    pair.shop.find(fault(pair, "joint.connector_short")
                       .with("connector", connector.key)
                       .with("measured", connector.depth, Unit::mm));
  }
  return all;
}

/// Drills the cross hole and adds the connector; returns its id.
std::string set_connector(const Pair& pair, const Connector& connector, const Slot& slot, Vec3 core,
                          Vec3 out, Vec3 from, const std::string& name) {
  const double deep = below_face(pair, core, from);
  pair.a.holes().push_back({.at = core - out * connector.from_end + from * deep,
                            .direction = -from,
                            .diameter = connector.bore,
                            .depth = connector.depth,
                            .through = false,
                            .role = BoreRole::bolt,
                            .thread = {}});
  const bool along = std::abs(dot(pair.b.bar()->direction, from)) > 0.5;
  return pair.shop.add_hardware(
      name, connector.title, connector.key, {},
      connector_shape(connector, slot, pair.a.bar()->profile->core_bore, deep, along),
      frame_zx(core, out, cross(from, out)), connector.mass_kg, {pair.a.name(), pair.b.name()});
}

}  // namespace

void hidden_connector(const Pair& pair, const Connector& connector, std::optional<Vec3> side) {
  const auto patch = end_meeting(pair);
  if (!patch || !both_members(pair)) return;
  const Vec3 out = patch->out;
  const Vec3 from = side.value_or(roomier_side(pair.b, *patch));
  if (std::abs(dot(from, out)) > 0.5) return pair.shop.find(fault(pair, "joint.side"));
  std::vector<std::string> hardware;
  const std::vector<Vec3> axes = reached_cores(pair, *patch, connector, from);
  for (std::size_t i = 0; i < axes.size(); ++i) {
    const Slot* slot = slot_at(pair, out, axes[i]);
    if (slot == nullptr || !connector_fits(pair, connector, *slot, from)) return;
    hardware.push_back(set_connector(pair, connector, *slot, axes[i], out, from,
                                     numbered("connector", pair, i, axes.size())));
  }
  if (!axes.empty()) join(pair, "hidden connector", std::move(hardware));
}

}  // namespace ribbay::detail
