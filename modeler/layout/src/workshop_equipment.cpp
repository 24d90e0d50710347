#include "base/text.hpp"
#include "mirror.hpp"
#include "workshop.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

/// Turned by quarter turns about z so that the main body's bounds then start at `at`.
Frame standing(const Box& body, Vec3 at, int quarter_turns) {
  Frame frame;
  for (int i = 0; i < quarter_turns; ++i) {
    frame = Frame{{}, {0, 1, 0}, {-1, 0, 0}, {0, 0, 1}} * frame;
  }
  Box turned;
  turned.add(frame.point(body.lo));
  turned.add(frame.point(body.hi));
  frame.origin = at - turned.lo;
  return frame;
}

bool is_leaf(const Equipment& item, const std::string& box) {
  return std::ranges::find(item.opens, box, &OpensFront::leaf) != item.opens.end();
}

/// What of the equipment does not move by itself.
Shape still_body(const Equipment& item) {
  if (item.imported) return *item.imported;
  std::vector<EquipmentBox> still = item.boxes;
  std::erase_if(still, [&](const EquipmentBox& box) { return is_leaf(item, box.name); });
  return body_shape(still, item.rounds);
}

/// Equipment that has its place in the van; `frame` maps its own coordinates there.
struct Placed {
  const Equipment& item;
  const Part& part;
  Frame frame;

  Box to_van(const Box& box) const {
    Box result;
    result.add(frame.point(box.lo));
    result.add(frame.point(box.hi));
    return result;
  }
};

/// The space beside a face of the main body, `deep` out of it.
Shape space_beside(const Placed& placed, Face face, double deep) {
  Box space = placed.item.body();
  const Vec3 out = outward(face);
  for (int axis = 0; axis < 3; ++axis) {
    if (out[axis] > 0) {
      space.lo[axis] = space.hi[axis];
      space.hi[axis] += deep;
    }
    if (out[axis] < 0) {
      space.hi[axis] = space.lo[axis];
      space.lo[axis] -= deep;
    }
  }
  return box_shape(space.lo, space.hi);
}

Zone zone_beside(const Placed& placed, ZoneKind kind, Face face, double deep, std::string role,
                 std::string title) {
  return {.id = placed.part.id + "." + role,
          .title = std::move(title),
          .kind = kind,
          .shape = space_beside(placed, face, deep),
          .frame = placed.frame,
          .owner = placed.part.id,
          .allowed = {}};
}

/// What the equipment stands on, and the frame that carries it, may reach into these from below:
/// the module says so in `allowed`.
void add_zones(const Placed& placed, std::vector<Zone>& zones) {
  for (const auto& [face, gap] : placed.item.air) {
    if (gap <= 0.0) continue;
    zones.push_back(zone_beside(placed, ZoneKind::air, face, gap, "air_" + name(face),
                                "air at the " + name(face) + " of " + placed.part.title));
  }
  for (const auto& [face, hot] : placed.item.hot) {
    zones.push_back(zone_beside(placed, ZoneKind::heat, face, hot.gap, "heat_" + name(face),
                                "heat at the " + name(face) + " of " + placed.part.title));
  }
}

void add_supports(const Placed& placed, std::vector<Support>& supports) {
  std::vector<Vec3> feet = placed.item.feet;
  if (feet.empty()) {
    const auto [lo, hi] = placed.item.body();
    feet = {lo, {hi.x, lo.y, lo.z}, {lo.x, hi.y, lo.z}, {hi.x, hi.y, lo.z}};
  }
  for (std::size_t i = 0; i < feet.size(); ++i) {
    supports.push_back({.id = placed.part.id + ".foot_" + std::to_string(i + 1),
                        .owner = placed.part.id,
                        .at = placed.frame.point(feet[i]),
                        .load_kg = placed.item.mass_kg / static_cast<double>(feet.size())});
  }
}

/// The edge that a leaf turns about: of its outer side, so that it swings clear of its body.
Vec3 hinge_edge(const OpensFront& front, const EquipmentBox& leaf) {
  Vec3 at = leaf.at;
  for (const Face side : {front.face, front.hinge}) {
    for (int axis = 0; axis < 3; ++axis) {
      if (outward(side)[axis] > 0) at[axis] = leaf.at[axis] + leaf.size[axis];
    }
  }
  return at;
}

Motion motion_of(const Placed& placed, const OpensFront& front, const EquipmentBox& leaf,
                 std::string part) {
  const Vec3 out = outward(front.face);
  const bool pulled = front.way == OpensWay::pull;
  const double travel = pulled ? front.reach : front.angle;
  return {.id = placed.part.id + "." + front.name,
          .title = placed.part.title + ", " + front.name,
          .kind = pulled ? MotionKind::translation : MotionKind::rotation,
          .parts = {std::move(part)},
          .axis = placed.frame.direction(pulled ? out : cross(out, outward(front.hinge))),
          .origin = placed.frame.point(hinge_edge(front, leaf)),
          .travel = travel,
          .required = travel,
          .gives_way = {}};
}

/// A leaf comes with its equipment: it is not bought, weighs nothing of its own and rides along.
Part leaf_part(const Placed& placed, const OpensFront& front, const EquipmentBox& leaf) {
  Part part = placed.part;
  part.id += "." + front.name;
  part.title += ", " + front.name;
  part.kind = PartKind::hardware;
  part.stock = {};
  part.mass_kg = 0.0;
  part.shape = std::make_shared<const Shape>(box_shape(leaf.at, leaf.at + leaf.size));
  part.hosts = {placed.part.id};
  return part;
}

/// A front opens for good where it has a leaf; else the room that it needs is kept clear.
void add_fronts(const Placed& placed, ModuleParts& made, std::vector<Part>& leaves) {
  for (const OpensFront& front : placed.item.opens) {
    const auto leaf = std::ranges::find(placed.item.boxes, front.leaf, &EquipmentBox::name);
    if (leaf == placed.item.boxes.end()) {
      made.zones.push_back(zone_beside(placed, ZoneKind::keep_clear, front.face, front.reach,
                                       "opens_" + front.name,
                                       "room of the " + front.name + " of " + placed.part.title));
      continue;
    }
    leaves.push_back(leaf_part(placed, front, *leaf));
    made.motions.push_back(motion_of(placed, front, *leaf, leaves.back().id));
  }
}

/// How far along `direction` a box travels until it has left another.
double travel_out_of(const Box& inside, const Box& around, Vec3 direction) {
  double travel = 0.0;
  for (int axis = 0; axis < 3; ++axis) {
    if (direction[axis] > 0.5) travel = around.hi[axis] - inside.lo[axis];
    if (direction[axis] < -0.5) travel = inside.hi[axis] - around.lo[axis];
  }
  return std::max(travel, 0.0);
}

}  // namespace

std::string Workshop::add_equipment(const std::string& name, const Equipment& item, Vec3 at,
                                    int quarter_turns) {
  const Box body = item.body();
  const Frame frame = standing(body, at, quarter_turns);
  Part& part = start(name, item.title, PartKind::equipment);
  // The image of something bought looks and comes out the other way, but is not made over: its
  // left stays its left.
  const Reflection module_middle{0, request_.size.x / 2};
  const Reflection own_middle{0, body.centre().x};
  part.frame =
      request_.frame * (request_.mirrored ? reflected(frame, module_middle, own_middle) : frame);
  part.shape = std::make_shared<const Shape>(still_body(item));
  part.stock = {.key = item.key};
  part.colour = item.colour;
  part.mass_kg = item.mass_kg;

  const std::string id = part.id;
  const Placed placed{item, part, part.frame};
  const Box bounds = placed.to_van(item.bounds());
  made_.ports[name] = bounds;
  for (const EquipmentBox& box : item.boxes) {
    made_.ports[name + "_" + box.name] = placed.to_van({box.at, box.at + box.size});
  }
  add_supports(placed, made_.supports);
  add_zones(placed, made_.zones);
  if (item.comes_out) {
    const Vec3 way = placed.frame.direction(outward(item.comes_out->towards));
    made_.removals.push_back({.id = id,
                              .direction = way,
                              .travel = travel_out_of(bounds, to_van(Box{{}, request_.size}), way),
                              .fasteners = item.comes_out->fasteners,
                              .along = {},
                              .life_years = item.life_years,
                              .tool = item.comes_out->tool});
  }
  std::vector<Part> leaves;
  add_fronts(placed, made_, leaves);
  std::ranges::move(leaves, std::back_inserter(made_.parts));
  return id;
}

}  // namespace ribbay::detail
