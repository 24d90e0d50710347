#include "bodies.hpp"

#include "base/parallel.hpp"

#include <algorithm>
#include <functional>
#include <map>
#include <numeric>
#include <set>

namespace ribbay::detail {

namespace {

Placed all_placed(const Pieces& local, const Frame& frame) {
  Pieces there;
  there.reserve(local.size());
  Box box;
  for (const ConvexPiece& piece : local) box.add(there.emplace_back(placed(piece, frame)).box);
  return {std::make_shared<const Pieces>(std::move(there)), box};
}

/// Gives a body its pieces, in its place; `local` makes those of its shape.
template <class Local>
void place(Body& body, Known shape, Local local) {
  Placed placed;
  if (shape) {
    body.known = {shape.recall, shape.recall->number_of(shape.number, body.frame)};
    placed = shape.recall->places.get({body.known.number},
                                      [&] { return all_placed(local(), body.frame); });
  } else {
    placed = all_placed(local(), body.frame);
  }
  body.shared = std::move(placed.pieces);
  body.box = placed.box;
}

/// A shape and its pieces, made when they are first asked for.
class Local {
 public:
  Local(const Shape& shape, Recall* recall) : shape_{shape} {
    if (recall != nullptr) known_ = {recall, recall->number_of(shape)};
  }

  Known known() const { return known_; }
  const Pieces& operator()() {
    if (!pieces_) {
      const auto make = [&] { return std::make_shared<const Pieces>(pieces(shape_)); };
      pieces_ = known_ ? known_.recall->shapes.get({known_.number}, make) : make();
    }
    return *pieces_;
  }

 private:
  const Shape& shape_;
  Known known_;
  std::shared_ptr<const Pieces> pieces_;
};

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

bool is_floor(const Body& body) {
  return body.of_vehicle() && body.id.starts_with("vehicle/floor");
}

void add_hosts(Scene& scene) {
  std::map<std::string_view, std::size_t> by_id;
  for (std::size_t k = 0; k < scene.bodies.size(); ++k) by_id[scene.bodies[k].id] = k;
  std::set<std::string_view> floor_bolts;
  for (const FloorBolt& bolt : scene.layout->floor_bolts) floor_bolts.insert(bolt.id);
  for (std::size_t i = 0; i < scene.parts; ++i) {
    Body& body = scene.bodies[i];
    std::set<std::size_t> hosts;
    for (const std::string& name : body.part->hosts) {
      if (const auto host = by_id.find(name); host != by_id.end()) hosts.insert(host->second);
      for (std::size_t k = scene.parts; k < scene.bodies.size() && name == "vehicle"; ++k)
        hosts.insert(k);
    }
    for (std::size_t k = scene.parts; floor_bolts.contains(body.id) && k < scene.bodies.size(); ++k) {
      if (is_floor(scene.bodies[k])) hosts.insert(k);
    }
    body.hosts.assign(hosts.begin(), hosts.end());
    for (const std::size_t host : hosts) {
      if (body.hardware()) scene.bodies[host].guests.push_back(i);
    }
  }
  scene.by_id.resize(scene.parts);
  std::iota(scene.by_id.begin(), scene.by_id.end(), std::size_t{0});
  std::ranges::sort(scene.by_id, {}, [&](std::size_t i) { return std::string_view(scene.bodies[i].id); });
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

/// Null for what is no bolt or screw.
const Bolt* bolt_of(const Layout& layout, const Part& part) {
  if (part.kind != PartKind::hardware || !layout.catalogue) return nullptr;
  const auto bolt = layout.catalogue->bolts.find(part.stock.key);
  return bolt == layout.catalogue->bolts.end() ? nullptr : &bolt->second;
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

void Body::take(Pieces pieces) {
  known = {};
  box = {};
  for (const ConvexPiece& piece : pieces) box.add(piece.box);
  shared = std::make_shared<const Pieces>(std::move(pieces));
}

std::optional<std::size_t> Scene::part_named(std::string_view id) const {
  const auto found = std::ranges::lower_bound(
      by_id, id, {}, [&](std::size_t i) { return std::string_view(bodies[i].id); });
  if (found == by_id.end() || bodies[*found].id != id) return std::nullopt;
  return *found;
}

std::vector<std::size_t> Scene::near(const Box& box, double margin) const {
  if (tree) return tree->near(box, margin);
  std::vector<std::size_t> found;
  for (std::size_t k = 0; k < bodies.size(); ++k) {
    if (ribbay::near(bodies[k].box, box, margin)) found.push_back(k);
  }
  return found;
}

Scene make_scene(const Layout& layout, int jobs, Memo* memo) {
  Scene scene;
  scene.layout = &layout;
  if (memo != nullptr) scene.recall = &memo->recall();
  scene.parts = layout.parts.size();
  scene.bodies.resize(scene.parts);
  const auto groups = parts_by_shape(layout);
  for_each_slot(groups.size(), jobs, [&](std::size_t g) {
    const Shape& shape = layout.parts[groups[g].front()].body();
    Local local(shape, scene.recall);
    for (const std::size_t i : groups[g]) {
      const Part& part = layout.parts[i];
      Body& body = scene.bodies[i];
      body.id = part.id;
      body.part = &part;
      body.shape = &shape;
      body.frame = part.frame;
      body.bolt = bolt_of(layout, part);
      place(body, local.known(), std::ref(local));
    }
  });
  if (layout.vehicle) {
    for (VehicleBody& van : vehicle_bodies(*layout.vehicle)) {
      Body& body = scene.bodies.emplace_back();
      body.id = std::move(van.id);
      body.take(std::move(van.pieces));
      if (scene.recall != nullptr)
        body.known = {scene.recall, scene.recall->number_of(body.pieces())};
    }
  }
  std::vector<Box> boxes;
  boxes.reserve(scene.bodies.size());
  for (const Body& body : scene.bodies) boxes.push_back(body.box);
  scene.tree = std::make_shared<const BoxTree>(std::move(boxes));
  add_hosts(scene);
  add_joints(scene);
  return scene;
}

Body zone_body(const Zone& zone, Recall* recall) {
  Body body;
  body.id = zone.id;
  body.shape = &zone.shape;
  body.frame = zone.frame;
  Local local(zone.shape, recall);
  place(body, local.known(), std::ref(local));
  return body;
}

Pieces refined_pieces(const Body& body, double chord) {
  if (body.shape == nullptr) return body.pieces();
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
  if (!first.hardware() || !second.hardware()) return false;
  // In what they sit in, a nut lies against its bolt; two bolts or screws of different joints that
  // meet there stop each other.
  const bool meet = first.bolt != nullptr && second.bolt != nullptr;
  return joined(first, second) || (!meet && share(first.hosts, second.hosts));
}

bool joined(const Body& a, const Body& b) {
  return share(a.joints, b.joints);
}

}  // namespace ribbay::detail
