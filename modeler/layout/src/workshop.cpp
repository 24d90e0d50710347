#include "workshop.hpp"

#include "base/tolerance.hpp"
#include "mirror.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace ribbay::detail {

namespace {

/// The lower corner of `box` in the axes of `frame`, whose axes are parallel to those of the box.
Box in_frame(const Box& box, const Frame& frame) {
  Box local;
  local.add(frame.local_point(box.lo));
  local.add(frame.local_point(box.hi));
  return local;
}

/// Local coordinates of a board: x along its length, z to its face, origin at the lowest corner.
Frame board_frame(const Board& board) {
  Frame frame = frame_zx({}, board.normal, board.along);
  frame.origin = frame.point(in_frame(board.box, frame).lo);
  return frame;
}

Bore to_bore(const Hole& hole, const Frame& frame) {
  return {.at = frame.local_point(hole.at),
          .direction = frame.local_direction(hole.direction),
          .diameter = hole.diameter,
          .depth = hole.depth,
          .through = hole.through,
          .thread = hole.thread,
          .role = hole.role};
}

Prism box_prism(Vec3 lo, Vec3 hi) {
  return {.section = {rectangle({lo.x, lo.y}, {hi.x, hi.y}), {}},
          .height = hi.z - lo.z,
          .cuts = {},
          .bores = {},
          .coarse = {}};
}

PlacedPrism placed_box(Vec3 lo, Vec3 hi) {
  return {box_prism(lo, hi), Frame{.origin = {0, 0, lo.z}}};
}

}  // namespace

Part& Workshop::start(std::string name, std::string title, PartKind kind) {
  Part part;
  part.id = id(name);
  part.module = request_.name;
  part.title = std::move(title);
  part.kind = kind;
  made_.parts.push_back(std::move(part));
  return made_.parts.back();
}

/// The axes across which a mirrored part may be reflected in its own coordinates. A member keeps
/// its section and is turned end for end if need be; a panel keeps its face and its grain. What is
/// bought is not made over: it stands turned, or, if it is no image of itself, as it is.
void Workshop::stand(Part& part, Shape shape, const Frame& frame) {
  if (!request_.mirrored) {
    part.frame = request_.frame * frame;
    part.shape = std::make_shared<const Shape>(std::move(shape));
    return;
  }
  const Reflection middle{0, request_.size.x / 2};
  constexpr std::array<int, 3> member{2, 0, 1};
  constexpr std::array<int, 2> panel{1, 0};
  constexpr std::array<int, 3> any{0, 1, 2};
  const bool made = part.kind == PartKind::member || part.kind == PartKind::panel;
  const std::span<const int> axes = part.kind == PartKind::member  ? std::span<const int>(member)
                                    : part.kind == PartKind::panel ? std::span<const int>(panel)
                                                                   : std::span<const int>(any);
  StandingShape image = mirror_image(shape, frame, middle, axes);
  part.frame = request_.frame * image.frame;
  part.shape = std::make_shared<const Shape>(made ? std::move(image.shape) : std::move(shape));
}

Box Workshop::to_van(const Box& box) const {
  Box result;
  result.add(to_van(box.lo));
  result.add(to_van(box.hi));
  return result;
}

namespace {

void cover_with_material(Part& part, const Catalogue& catalogue, const std::string& material) {
  const Material& entry_of = entry(catalogue.materials, material);
  part.material = material;
  part.colour = entry_of.colour;
  part.mass_kg = volume(*part.shape) * entry_of.density;
}

}  // namespace

std::string Workshop::add(const Board& board) {
  const Frame frame = board_frame(board);
  const Box local = in_frame(board.box, frame);
  ShapedBoard shaped{.name = board.name,
                     .title = board.title,
                     .sheet = board.sheet,
                     .frame = frame,
                     .outline = {rectangle({0, 0}, {local.hi.x, local.hi.y}), {}},
                     .cuts = {},
                     .holes = board.holes};
  for (const BoxCut& cut : board.cuts) {
    const Box c = in_frame(cut.box, frame);
    shaped.cuts.push_back({.outline = rectangle({c.lo.x, c.lo.y}, {c.hi.x, c.hi.y}),
                           .from = std::max(c.lo.z, 0.0),
                           .to = std::min(c.hi.z, board.sheet->thickness),
                           .role = cut.role});
  }
  return add(shaped);
}

std::string Workshop::add(const ShapedBoard& board) {
  Shape shape;
  shape.prisms.push_back({{.section = board.outline,
                           .height = board.sheet->thickness,
                           .cuts = board.cuts,
                           .bores = {},
                           .coarse = {}},
                          {}});
  Prism& prism = shape.prisms.front().prism;
  for (const Hole& hole : board.holes) prism.bores.push_back(to_bore(hole, board.frame));

  Part& part = start(board.name, board.title, PartKind::panel);
  const Vec3 size = bounds(shape).size();
  stand(part, std::move(shape), board.frame);
  part.stock = {.key = board.sheet->key,
                .length = size.x,
                .width = size.y,
                .thickness = board.sheet->thickness,
                .grain = board.sheet->grain};
  cover_with_material(part, request_.catalogue, board.sheet->material);
  stock_limits(part);
  return part.id;
}

std::string Workshop::add(const Bar& piece) {
  const Frame frame = frame_zx(piece.from, piece.direction, piece.across);
  Shape shape;
  shape.prisms.push_back({{.section = piece.profile->section,
                           .height = piece.length,
                           .cuts = {},
                           .bores = {},
                           .coarse = piece.profile->coarse},
                          {}});
  for (const Hole& hole : piece.holes)
    shape.prisms.front().prism.bores.push_back(to_bore(hole, frame));

  Part& part = start(piece.name, piece.title, PartKind::member);
  stand(part, std::move(shape), frame);
  part.stock = {.key = piece.profile->key, .length = piece.length};
  cover_with_material(part, request_.catalogue, piece.profile->material);
  stock_limits(part);
  return part.id;
}

std::string Workshop::add(const Fastener& fastener) {
  const Bolt& bolt = *fastener.bolt;
  const Vec3 any = std::abs(fastener.direction.z) < 0.5 ? Vec3{0, 0, 1} : Vec3{1, 0, 0};
  const Frame frame = frame_zx(fastener.at, fastener.direction, any);
  // A countersunk head ends flush, and its length is over all; any other stands on the surface.
  const double sunk = bolt.countersunk ? bolt.head_height : 0.0;
  Shape shape;
  shape.prisms.push_back(
      cylinder(bolt.diameter, bolt.length - sunk, Frame{.origin = {0, 0, sunk}}));
  shape.prisms.push_back(cylinder(bolt.head_diameter, bolt.head_height,
                                  Frame{.origin = {0, 0, sunk - bolt.head_height}}));
  return add_hardware(fastener.name, bolt.title, bolt.key, {}, std::move(shape), frame,
                      bolt.mass_kg, fastener.hosts);
}

double pilot_diameter(const Bolt& screw) {
  return screw.pilot_hole > 0.0 ? screw.pilot_hole : kPilot * screw.diameter;
}

Hole clearance_hole(const Bolt& screw, Vec3 at, Vec3 direction, double thickness) {
  return {.at = at,
          .direction = direction,
          .diameter = screw.clearance_hole,
          .depth = thickness,
          .through = true,
          .role = BoreRole::screw,
          .thread = {}};
}

Hole pilot_hole(const Bolt& screw, Vec3 at, Vec3 direction, double thickness) {
  return {.at = at + direction * thickness,
          .direction = direction,
          .diameter = pilot_diameter(screw),
          .depth = std::max(screw.length - thickness, kCut),
          .through = false,
          .role = BoreRole::pilot,
          .thread = {}};
}

std::string Workshop::add_hardware(std::string name, std::string title, std::string stock,
                                   std::string material, Shape shape, const Frame& frame,
                                   double mass_kg, std::vector<std::string> hosts) {
  Part& part = start(std::move(name), std::move(title), PartKind::hardware);
  stand(part, std::move(shape), frame);
  part.stock = {.key = std::move(stock)};
  part.colour = "#8a9096";
  if (!material.empty()) {
    part.material = material;
    part.colour = entry(request_.catalogue.materials, material).colour;
  }
  part.mass_kg = mass_kg;
  for (std::string& host : hosts) {
    part.hosts.push_back(host.find('/') == std::string::npos ? id(host) : std::move(host));
  }
  return part.id;
}

std::string Workshop::add_equipment(const std::string& name, const Equipment& item, Vec3 at,
                                    int quarter_turns) {
  // A quarter turn about z moves the first box's corner; the frame's origin makes up for it, so
  // that the turned bounds start at `at`.
  Frame frame;
  for (int i = 0; i < quarter_turns; ++i)
    frame = Frame{{}, {0, 1, 0}, {-1, 0, 0}, {0, 0, 1}} * frame;
  const EquipmentBox& body = item.boxes.front();
  Box turned;
  turned.add(frame.point(body.at));
  turned.add(frame.point(body.at + body.size));
  frame.origin = at - turned.lo;

  Shape shape;
  for (const EquipmentBox& box : item.boxes)
    shape.prisms.push_back(placed_box(box.at, box.at + box.size));
  Part& part = start(name, item.title, PartKind::equipment);
  // The image of something bought looks and comes out the other way, but is not made over: its
  // left stays its left.
  const Reflection module_middle{0, request_.size.x / 2};
  const Reflection own_middle{0, body.at.x + body.size.x / 2};
  part.frame =
      request_.frame * (request_.mirrored ? reflected(frame, module_middle, own_middle) : frame);
  part.shape = std::make_shared<const Shape>(std::move(shape));
  part.stock = {.key = item.key};
  part.colour = item.colour;
  part.mass_kg = item.mass_kg;

  const auto van_box = [&](Vec3 lo, Vec3 hi) {
    Box box;
    box.add(part.frame.point(lo));
    box.add(part.frame.point(hi));
    return box;
  };
  made_.ports[name] = van_box(item.bounds().lo, item.bounds().hi);
  for (const EquipmentBox& box : item.boxes) {
    made_.ports[name + "_" + box.name] = van_box(box.at, box.at + box.size);
  }

  std::vector<Vec3> feet = item.feet;
  if (feet.empty()) {
    const Vec3 s = body.size;
    feet = {body.at, body.at + Vec3{s.x, 0, 0}, body.at + Vec3{0, s.y, 0},
            body.at + Vec3{s.x, s.y, 0}};
  }
  for (std::size_t i = 0; i < feet.size(); ++i) {
    made_.supports.push_back({.id = part.id + ".foot_" + std::to_string(i + 1),
                              .owner = part.id,
                              .at = part.frame.point(feet[i]),
                              .load_kg = item.mass_kg / static_cast<double>(feet.size())});
  }
  constexpr Vec3 outward[] = {{0, -1, 0}, {0, 1, 0}, {-1, 0, 0}, {1, 0, 0}, {0, 0, 1}, {0, 0, -1}};
  constexpr const char* face_names[] = {"front", "back", "left", "right", "top", "bottom"};
  for (const auto& [face, gap] : item.air) {
    if (gap <= 0.0) continue;
    const auto index = static_cast<std::size_t>(face);
    Vec3 lo = body.at;
    Vec3 hi = body.at + body.size;
    for (int axis = 0; axis < 3; ++axis) {
      if (outward[index][axis] > 0) {
        lo[axis] = hi[axis];
        hi[axis] += gap;
      }
      if (outward[index][axis] < 0) {
        hi[axis] = lo[axis];
        lo[axis] -= gap;
      }
    }
    // What the equipment stands on, and the frame that carries it, may reach into its air from
    // below.
    Shape air;
    air.prisms.push_back(placed_box(lo, hi));
    made_.zones.push_back(
        {.id = part.id + ".air_" + face_names[index],
         .title = "air at the " + std::string(face_names[index]) + " of " + part.title,
         .kind = ZoneKind::air,
         .shape = std::move(air),
         .frame = part.frame,
         .owner = part.id,
         .allowed = {}});
  }
  return part.id;
}

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
  Shape shape;
  shape.prisms.push_back(placed_box({-nut.length / 2, -nut.width / 2, 0},
                                    {nut.length / 2, nut.width / 2, nut.height}));
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
  std::vector<std::string> hosts{hardware.front(), host};
  const Slot* slot = slot_of(host);
  if (slot != nullptr && !bracket.nut.empty()) {
    const Nut& nut = entry(request_.catalogue.nuts, bracket.nut);
    const std::string name = joint.name + ".nut_" + leg;
    hosts.push_back(add_hardware(name, nut.title, nut.key, {}, nut_shape(nut),
                                 frame_zx(surface - out * slot->lip, -out, on), nut.mass_kg,
                                 {host}));
    hardware.push_back(hosts.back());
    check_reach(id(joint.name + ".bolt_" + leg), bolt, bracket.thickness, *slot, nut);
  }
  hardware.push_back(add(Fastener{.name = joint.name + ".bolt_" + leg,
                                  .bolt = &bolt,
                                  .at = surface + out * bracket.thickness,
                                  .direction = -out,
                                  .hosts = std::move(hosts)}));
}

const Slot* Workshop::slot_of(const std::string& part_id) const {
  const auto part = std::ranges::find(made_.parts, part_id, &Part::id);
  if (part == made_.parts.end()) return nullptr;  // the floor, or another module's part
  const auto profile = request_.catalogue.profiles.find(part->stock.key);
  if (profile == request_.catalogue.profiles.end() || !profile->second.slot) return nullptr;
  return &*profile->second.slot;
}

void Workshop::check_reach(const std::string& bolt_id, const Bolt& bolt, double clamped,
                           const Slot& slot, const Nut& nut) {
  // The thread must fill the nut, and the tip must stay above the slot's floor.
  const double shortest = clamped + slot.lip + nut.height;
  const double longest = clamped + slot.depth;
  if (bolt.length >= shortest - kContact && bolt.length <= longest + kContact) return;
  Finding finding;
  finding.code = bolt.length < shortest ? "layout.bolt_too_short" : "layout.bolt_too_long";
  finding.severity = Severity::warning;
  finding.subjects = {bolt_id};
  finding.with("stock", bolt.key)
      .with("measured", bolt.length, Unit::mm)
      .with("shortest", shortest, Unit::mm)
      .with("longest", longest, Unit::mm);
  find(std::move(finding));
}

void Workshop::join(std::string name, std::string kind, std::vector<std::string> parts,
                    std::vector<std::string> hardware) {
  made_.joints.push_back({.id = id(name),
                          .kind = std::move(kind),
                          .parts = std::move(parts),
                          .hardware = std::move(hardware)});
}

void Workshop::stock_limits(const Part& part) {
  const auto report = [&](double needed, double available) {
    Finding finding;
    finding.code = "layout.larger_than_stock";
    finding.subjects = {part.id};
    finding.with("stock", part.stock.key)
        .with("measured", needed, Unit::mm)
        .with("required", available, Unit::mm);
    find(std::move(finding));
  };
  if (part.kind == PartKind::member) {
    const Profile& profile = entry(request_.catalogue.profiles, part.stock.key);
    if (profile.stock_lengths.empty()) return;
    const double longest = *std::ranges::max_element(profile.stock_lengths);
    if (part.stock.length > longest + kSame) report(part.stock.length, longest);
    return;
  }
  const Sheet& sheet = entry(request_.catalogue.sheets, part.stock.key);
  double longer = sheet.length;
  double shorter = sheet.width;
  double along = part.stock.length;
  double across = part.stock.width;
  if (!part.stock.grain) {  // may be turned
    if (longer < shorter) std::swap(longer, shorter);
    if (along < across) std::swap(along, across);
  }
  if (along > longer + kSame) report(along, longer);
  if (across > shorter + kSame) report(across, shorter);
}

}  // namespace ribbay::detail
