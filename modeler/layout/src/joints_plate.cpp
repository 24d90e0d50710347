#include "base/tolerance.hpp"
#include "joints.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

/// Where the plate's holes lie on each member: their common distance from the plate's sides.
struct HoleLines {
  double on_a = 0.0;  ///< y of those on the member along x
  double on_b = 0.0;  ///< x of those on the member along y
};

bool on_first(Vec2 hole) {
  return hole.y < hole.x - kSame;
}

HoleLines hole_lines(const Plate& plate) {
  HoleLines lines;
  for (const Vec2 hole : plate.holes) {
    if (on_first(hole)) lines.on_a = hole.y;
    if (hole.x < hole.y - kSame) lines.on_b = hole.x;
  }
  return lines;
}

Shape plate_shape(const Plate& plate, double hole) {
  Prism prism;
  const Vec2 s = plate.size;
  prism.section.outer =
      plate.triangle ? Loop{{{0, 0}}, {{s.x, 0}}, {{0, s.y}}} : rectangle({0, 0}, {s.x, s.y});
  prism.height = plate.thickness;
  // Part of the outline, not bored from one side: the plate turned over is the same plate.
  for (const Vec2 at : plate.holes) prism.section.holes.push_back(reversed(circle(at, hole)));
  return Shape{{{std::move(prism), {}}}};
}

/// How far the face of `piece` that looks to `face` is from the origin, along it.
double face_height(const Workpiece& piece, Vec3 face) {
  const Frame frame = piece.frame();
  return dot(frame.point(piece.box().centre()), face) + size_along(piece, face) / 2;
}

/// The way that two flush faces look: as asked, or, where both sides are flush, outwards from the
/// middle of the module. Reports faces that are not flush.
std::optional<Vec3> flush_face(const Pair& pair, const Patch& patch, std::optional<Vec3> asked) {
  Vec3 across = normalized(cross(patch.out, pair.b.bar()->direction));
  if (dot(patch.middle - pair.request.size * 0.5, across) < -kSame) across = -across;
  const auto step = [&](Vec3 face) {
    return face_height(pair.a, face) - face_height(pair.b, face);
  };
  if (!asked) asked = std::abs(step(across)) <= kContact ? across : -across;
  if (std::abs(dot(*asked, across)) < 0.5) {
    pair.shop.find(fault(pair, "joint.side"));
    return std::nullopt;
  }
  if (std::abs(step(*asked)) <= kContact) return asked;
  pair.shop.find(fault(pair, "joint.not_flush")
                     .with("measured", std::abs(step(*asked)), Unit::mm)
                     .with("required", 0.0, Unit::mm));
  return std::nullopt;
}

/// Reports a hole that no slot lies under.
bool over_slot(const Pair& pair, const Workpiece& member, Vec3 face, Vec3 at) {
  const auto middle = on_slot(member, face, at);
  const double z = dot(at - member.bar()->from, member.bar()->direction);
  const bool on = z > -kContact && z < member.bar()->length + kContact;
  if (on && middle && length(*middle - at) <= kContact) return true;
  pair.shop.find(fault(pair, "joint.plate_hole").with("member", pair.shop.id(member.name())));
  return false;
}

/// A way along `b`: as asked, or the roomier one. Reports one that is not along it.
std::optional<Vec3> way_along(const Pair& pair, const Patch& patch, std::optional<Vec3> asked) {
  const Vec3 way = asked.value_or(roomier_side(pair.b, patch));
  if (std::abs(dot(way, pair.b.bar()->direction)) > 0.5) return way;
  pair.shop.find(fault(pair, "joint.towards"));
  return std::nullopt;
}

}  // namespace

void gusset_plate(const Pair& pair, const Gusset& how) {
  const auto patch = end_meeting(pair);
  if (!patch || !both_members(pair)) return;
  const Plate& plate = *how.plate;
  const auto face = flush_face(pair, *patch, how.face);
  if (!face) return;
  const Vec3 x = -patch->out;
  const auto way = way_along(pair, *patch, how.towards);
  if (!way) return;
  const Vec3 y = *way;
  const auto line_a = on_slot(pair.a, *face, patch->middle);
  const auto line_b = on_slot(pair.b, *face, patch->middle + patch->out);
  if (!line_a || !line_b || plate.nut.empty()) {
    pair.shop.find(fault(pair, "joint.no_slot"));
    return;
  }
  // The corner of the plate lies so that its holes come to lie over both slots.
  const HoleLines lines = hole_lines(plate);
  const Vec3 crossing = *line_a + x * dot(*line_b - *line_a, x);
  const Vec3 corner = crossing - x * lines.on_b - y * lines.on_a;
  const auto at = [&](Vec2 hole) { return corner + x * hole.x + y * hole.y; };
  for (const Vec2 hole : plate.holes) {
    if (!over_slot(pair, on_first(hole) ? pair.a : pair.b, *face, at(hole))) return;
  }
  const Catalogue& catalogue = pair.request.catalogue;
  const Bolt& bolt = entry(catalogue.bolts, plate.bolt);
  const Nut& nut = entry(catalogue.nuts, plate.nut);
  Shape shape = plate_shape(plate, bolt.clearance_hole);
  const double mass = volume(shape) * entry(catalogue.materials, plate.material).density;
  const Vec3 z = cross(x, y);
  const bool turned = dot(z, *face) < 0.0;
  std::vector<std::string> hardware{pair.shop.add_hardware(
      "plate." + pair.name, plate.title, plate.key, plate.material, std::move(shape),
      frame_zx(turned ? corner + *face * plate.thickness : corner, z, x), mass, {})};
  const std::string plate_id = hardware.front();
  for (std::size_t i = 0; i < plate.holes.size(); ++i) {
    const Workpiece& member = on_first(plate.holes[i]) ? pair.a : pair.b;
    pair.shop.add(SlotBolt{.bolt_name = numbered("bolt", pair, i, plate.holes.size()),
                           .nut_name = numbered("nut", pair, i, plate.holes.size()),
                           .bolt = &bolt,
                           .nut = &nut,
                           .slot = member.slot(),
                           .surface = at(plate.holes[i]),
                           .out = *face,
                           .along = member.bar()->direction,
                           .clamped = plate.thickness,
                           .member = member.name(),
                           .through = {plate_id},
                           .place = pair.place},
                  hardware);
  }
  join(pair, "gusset plate", std::move(hardware));
}

void corner_bracket(const Pair& pair, const Bracket& bracket, std::optional<Vec3> towards) {
  const auto patch = end_meeting(pair);
  if (!patch || !both_members(pair)) return;
  const auto way = way_along(pair, *patch, towards);
  if (!way) return;
  const Vec3 side = *way;
  const auto on_b = on_slot(pair.b, -patch->out, patch->middle);
  const auto on_a = on_slot(pair.a, side, patch->middle);
  const Vec3 third = cross(side, patch->out);
  if (!on_a || !on_b || std::abs(dot(*on_a - *on_b, third)) > kContact) {
    pair.shop.find(fault(pair, "joint.no_slot"));
    return;
  }
  const Bar& b = *pair.b.bar();
  const double beyond = face_height(pair.a, side);
  const double end = std::max(dot(b.from, side), dot(b.from + b.direction * b.length, side));
  const double room = std::min(end - beyond, pair.a.bar()->length);
  if (room < bracket.leg - kContact) {
    pair.shop.find(fault(pair, "joint.no_room_for_bracket")
                       .with("measured", room, Unit::mm)
                       .with("required", bracket.leg, Unit::mm));
    return;
  }
  pair.shop.add(CornerJoint{.name = "bracket." + pair.name,
                            .bracket = &bracket,
                            .corner = *on_b + side * (beyond - dot(*on_b, side)),
                            .leg_a = side,
                            .leg_b = -patch->out,
                            .host_a = pair.shop.id(b.name),
                            .host_b = pair.shop.id(pair.a.name())});
}

}  // namespace ribbay::detail
