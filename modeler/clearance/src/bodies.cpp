#include "bodies.hpp"

#include "base/parallel.hpp"

#include <algorithm>
#include <map>

namespace ribbay::detail {

namespace {

void finish(Body& body) {
  for (const ConvexPiece& piece : body.pieces) body.box.add(piece.box);
}

/// Each shape once, in order of first use, with the parts that have it.
std::vector<std::vector<std::size_t>> parts_by_shape(const Layout& layout) {
  std::map<const Shape*, std::size_t> slots;  // looked up by address, never walked in that order
  std::vector<std::vector<std::size_t>> groups;
  for (std::size_t i = 0; i < layout.parts.size(); ++i) {
    const auto [slot, fresh] = slots.try_emplace(&layout.parts[i].body(), groups.size());
    if (fresh) groups.emplace_back();
    groups[slot->second].push_back(i);
  }
  return groups;
}

void add_hosts(Scene& scene) {
  const bool bolts_pierce_floor = !scene.layout->floor_bolts.empty();
  for (std::size_t i = 0; i < scene.parts; ++i) {
    Body& body = scene.bodies[i];
    const bool floor_bolt = bolts_pierce_floor && std::ranges::any_of(scene.layout->floor_bolts,
                                                                      [&](const FloorBolt& bolt) {
                                                                        return bolt.id == body.id;
                                                                      });
    if (body.part->hosts.empty() && !floor_bolt) continue;
    for (std::size_t k = 0; k < scene.bodies.size(); ++k) {
      const Body& other = scene.bodies[k];
      const bool host = std::ranges::any_of(body.part->hosts, [&](const std::string& name) {
        return name == other.id || (other.of_vehicle() && means(name, other));
      });
      if (host || (floor_bolt && other.of_vehicle() && other.id.starts_with("vehicle/floor"))) {
        body.hosts.push_back(k);
      }
    }
  }
}

void add_joints(Scene& scene) {
  std::map<std::string_view, Body*> by_id;
  for (std::size_t i = 0; i < scene.parts; ++i) by_id[scene.bodies[i].id] = &scene.bodies[i];
  for (std::size_t j = 0; j < scene.layout->joints.size(); ++j) {
    const Joint& joint = scene.layout->joints[j];
    for (const auto* ids : {&joint.parts, &joint.hardware}) {
      for (const std::string& id : *ids) {
        const auto found = by_id.find(id);
        if (found == by_id.end()) continue;
        std::vector<std::size_t>& joints = found->second->joints;
        if (joints.empty() || joints.back() != j) joints.push_back(j);
      }
    }
  }
}

/// Both lists rise.
bool share(const std::vector<std::size_t>& a, const std::vector<std::size_t>& b) {
  for (auto i = a.begin(), k = b.begin(); i != a.end() && k != b.end();) {
    if (*i == *k) return true;
    *i < *k ? ++i : ++k;
  }
  return false;
}

}  // namespace

Scene make_scene(const Layout& layout, int jobs) {
  Scene scene;
  scene.layout = &layout;
  scene.parts = layout.parts.size();
  scene.bodies.resize(scene.parts);
  const auto groups = parts_by_shape(layout);
  for_each_slot(groups.size(), jobs, [&](std::size_t g) {
    const Shape& shape = layout.parts[groups[g].front()].body();
    const Pieces local = pieces(shape);
    for (const std::size_t i : groups[g]) {
      const Part& part = layout.parts[i];
      Body& body = scene.bodies[i];
      body.id = part.id;
      body.part = &part;
      body.shape = &shape;
      body.frame = part.frame;
      for (const ConvexPiece& piece : local) body.pieces.push_back(placed(piece, part.frame));
      finish(body);
    }
  });
  if (layout.vehicle) {
    for (VehicleBody& van : vehicle_bodies(*layout.vehicle)) {
      Body& body = scene.bodies.emplace_back();
      body.id = std::move(van.id);
      body.pieces = std::move(van.pieces);
      finish(body);
    }
  }
  add_hosts(scene);
  add_joints(scene);
  return scene;
}

Body zone_body(const Zone& zone) {
  Body body;
  body.id = zone.id;
  body.shape = &zone.shape;
  body.frame = zone.frame;
  for (const ConvexPiece& piece : pieces(zone.shape))
    body.pieces.push_back(placed(piece, zone.frame));
  finish(body);
  return body;
}

Pieces refined_pieces(const Body& body, double chord) {
  if (body.shape == nullptr) return body.pieces;
  Pieces fine = pieces(*body.shape, {.chord = chord});
  for (ConvexPiece& piece : fine) piece = placed(piece, body.frame);
  return fine;
}

bool means(std::string_view name, const Body& body) {
  if (name == body.id) return true;
  if (body.part != nullptr) return name == body.part->module;
  return body.of_vehicle() && name == "vehicle";
}

bool exempt(const Scene& scene, std::size_t a, std::size_t b) {
  const Body& first = scene.bodies[a];
  const Body& second = scene.bodies[b];
  if (first.of_vehicle() && second.of_vehicle()) return true;
  if (std::ranges::binary_search(first.hosts, b) || std::ranges::binary_search(second.hosts, a)) {
    return true;
  }
  return first.hardware() && second.hardware() &&
         (share(first.hosts, second.hosts) || joined(first, second));
}

bool joined(const Body& a, const Body& b) {
  return share(a.joints, b.joints);
}

}  // namespace ribbay::detail
