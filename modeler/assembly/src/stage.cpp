#include "stage.hpp"

#include "halves.hpp"

#include <algorithm>
#include <limits>
#include <set>

namespace ribbay::detail {

namespace {

Solid solid_of(const Pieces& local, const Frame& frame) {
  Solid solid;
  for (const ConvexPiece& piece : local) {
    solid.pieces.push_back(placed(piece, frame));
    solid.box.add(solid.pieces.back().box);
  }
  return solid;
}

std::vector<Solid> all_solids(const Layout& layout) {
  std::map<const Shape*, Pieces> by_shape;  // looked up by address, never walked
  std::vector<Solid> solids;
  for (const Part& part : layout.parts) {
    const auto [at, fresh] = by_shape.try_emplace(&part.body());
    if (fresh) at->second = pieces(part.body());
    solids.push_back(solid_of(at->second, part.frame));
  }
  return solids;
}

/// What bridges two parts and comes off with either: a hinge or a slide does not, its halves stay.
bool bridges(const Catalogue& catalogue, const std::string& key) {
  return catalogue.brackets.contains(key) || catalogue.plates.contains(key) ||
         catalogue.connectors.contains(key);
}

/// How far a solid goes along a unit vector, from the origin.
double reach(const Solid& solid, Vec3 way) {
  double most = -std::numeric_limits<double>::infinity();
  for (const ConvexPiece& piece : solid.pieces) {
    for (const Vec3 corner : piece.vertices) most = std::max(most, dot(corner, way));
  }
  return most;
}

bool of_van(const std::string& id) {
  return id.starts_with("vehicle/");
}

/// Finds what each piece of hardware hangs on.
class Hanging {
 public:
  explicit Hanging(Workbench& bench) : bench_(bench) {
    const Layout& layout = bench.layout;
    for (std::size_t i = 0; i < layout.parts.size(); ++i) by_id_[layout.parts[i].id] = i;
    for (const Joint& joint : layout.joints) {
      for (const std::string& id : joint.hardware) joint_of_.try_emplace(id, &joint);
    }
    bench_.carriers.resize(layout.parts.size());
    bench_.to_van.resize(layout.parts.size());
    bench_.halves_on.resize(layout.parts.size());
    bench_.half.resize(layout.parts.size());
    bench_.held_by.resize(layout.parts.size());
    for (std::size_t i = 0; i < layout.parts.size(); ++i) {
      if (layout.parts[i].kind == PartKind::hardware) hang(i);
    }
    for (std::size_t i = 0; i < layout.parts.size(); ++i) {
      if (bench_.carriers[i].size() == 1) add_half(i, bench_.carriers[i].front());
      if (bench_.bolt(i) == nullptr) continue;
      for (const std::string& host : layout.parts[i].hosts) {
        if (hardware(host) != nullptr) bench_.held_by[by_id_.find(host)->second].push_back(i);
      }
    }
  }

 private:
  void hang(std::size_t i) {
    const Part& part = bench_.layout.parts[i];
    std::set<std::size_t> found;
    if (is_bridge(part)) {
      add_joint(part.id, i, found);
    } else {
      for (const std::string& host : part.hosts) add_host(host, i, found);
      // A screw through a leaf of a hinge or a slide stays with the part that it holds in.
      for (const std::string& host : part.hosts) {
        if (found.empty()) add_hosts_of(host, found);
      }
      if (found.empty()) add_joint(part.id, i, found);
    }
    for (const FloorBolt& bolt : bench_.layout.floor_bolts) {
      if (bolt.id == part.id) bench_.to_van[i] = true;
    }
    bench_.carriers[i].assign(found.begin(), found.end());
  }

  /// What a bolt or screw in one part holds there of a hinge or slide.
  void add_half(std::size_t fastener, std::size_t carrier) {
    if (bench_.bolt(fastener) == nullptr) return;
    for (const std::string& host : bench_.layout.parts[fastener].hosts) {
      const Part* bought = hardware(host);
      if (bought == nullptr || !comes_in_halves(*bought)) continue;
      const std::size_t half = by_id_.find(host)->second;
      std::vector<std::size_t>& there = bench_.halves_on[carrier];
      if (std::ranges::find(there, half) == there.end()) there.push_back(half);
      bench_.half[half] = true;
    }
  }

  /// A hinge, a slide, or a body that came with one.
  bool comes_in_halves(const Part& part) const {
    const Catalogue& all = *bench_.layout.catalogue;
    const std::string& key = part.stock.key;
    return key.empty() || all.slides.contains(key) || all.hinges.contains(key) ||
           all.butt_hinges.contains(key);
  }

  bool is_bridge(const Part& part) const {
    return bridges(*bench_.layout.catalogue, part.stock.key);
  }

  const Part* hardware(const std::string& id) const {
    const auto at = by_id_.find(id);
    if (at == by_id_.end()) return nullptr;
    const Part& part = bench_.layout.parts[at->second];
    return part.kind == PartKind::hardware ? &part : nullptr;
  }

  void add_host(const std::string& host, std::size_t i, std::set<std::size_t>& found) {
    if (of_van(host)) bench_.to_van[i] = true;
    const auto at = by_id_.find(host);
    if (at == by_id_.end()) return;
    const Part* bought = hardware(host);
    if (bought == nullptr) found.insert(at->second);
    if (bought != nullptr && is_bridge(*bought)) add_joint(bought->id, i, found);
  }

  void add_hosts_of(const std::string& host, std::set<std::size_t>& found) {
    const Part* bought = hardware(host);
    if (bought == nullptr) return;
    for (const std::string& next : bought->hosts) {
      const auto at = by_id_.find(next);
      if (at != by_id_.end() && hardware(next) == nullptr) found.insert(at->second);
    }
  }

  void add_joint(const std::string& id, std::size_t i, std::set<std::size_t>& found) {
    const auto joint = joint_of_.find(id);
    if (joint == joint_of_.end()) return;
    for (const std::string& part : joint->second->parts) {
      if (of_van(part)) bench_.to_van[i] = true;
      const auto at = by_id_.find(part);
      if (at != by_id_.end()) found.insert(at->second);
    }
  }

  Workbench& bench_;
  std::map<std::string_view, std::size_t> by_id_;
  std::map<std::string_view, const Joint*> joint_of_;
};

}  // namespace

Workbench::Workbench(const Layout& whole) : layout(whole), solids(all_solids(whole)) {
  std::set<std::string_view> moving;
  for (const Motion& motion : whole.motions)
    moving.insert(motion.parts.begin(), motion.parts.end());
  for (const Part& part : whole.parts) opens.push_back(moving.contains(part.id));
  Hanging hang(*this);
  if (!layout.vehicle) return;
  for (const VehicleBody& body : vehicle_bodies(*layout.vehicle))
    van.push_back(solid_of(body.pieces, {}));
}

const Bolt* Workbench::bolt(std::size_t part) const {
  const auto found = layout.catalogue->bolts.find(layout.parts[part].stock.key);
  const bool turns = found != layout.catalogue->bolts.end() && found->second.kind != BoltKind::pin;
  return turns ? &found->second : nullptr;
}

bool Workbench::is_nut(std::size_t part) const {
  return layout.catalogue->nuts.contains(layout.parts[part].stock.key);
}

Stage::Stage(const Workbench& from, const Groups& groups) : Stage(from, groups, false, {}) {}

Stage::Stage(const Workbench& from, const Groups& groups, std::vector<std::size_t> before)
    : Stage(from, groups, true, std::move(before)) {}

Stage::Stage(const Workbench& from, const Groups& groups, bool placed,
             std::vector<std::size_t> before)
    : bench(from), in_place(placed), standing(std::move(before)) {
  const Layout& layout = bench.layout;
  const std::string& module = layout.parts[groups.front().front()].module;
  std::vector<std::size_t> unit_of(layout.parts.size(), groups.size());
  for (const std::vector<std::size_t>& group : groups) {
    Group& unit = units.emplace_back();
    unit.parts = group;
    for (const std::size_t part : group) {
      unit_of[part] = units.size() - 1;
      unit.mass_kg += layout.parts[part].mass_kg;
      unit.box.add(bench.solids[part].box);
    }
    unit.title = layout.parts[group.front()].title;
  }
  std::vector<std::set<std::size_t>> met(units.size());
  const auto meet = [&](const std::set<std::size_t>& those) {
    for (const std::size_t a : those) {
      for (const std::size_t b : those) {
        if (a != b) met[a].insert(b);
      }
    }
  };
  std::set<std::string_view> fixed_to;
  for (std::size_t part = 0; part < layout.parts.size(); ++part) {
    const std::vector<std::size_t>& carriers = bench.carriers[part];
    if (carriers.empty()) continue;
    // Nuts for what comes later go in while their member is loose; other hardware comes with what
    // it belongs to.
    if (layout.parts[part].module != module && !bench.is_nut(part)) continue;
    std::set<std::size_t> on;
    bool outside = bench.to_van[part];
    for (const std::size_t carrier : carriers) {
      if (unit_of[carrier] < groups.size())
        on.insert(unit_of[carrier]);
      else
        outside = true;
    }
    // What only screws into other things hold comes with them.
    const std::vector<std::size_t>& screws = bench.held_by[part];
    const bool waits = !screws.empty() && !bench.is_nut(part) &&
                       std::ranges::all_of(screws, [&](std::size_t screw) {
                         return bench.to_van[screw] || bench.carriers[screw].size() > 1;
                       });
    const auto leads_out = [&](std::size_t screw) {
      return bench.to_van[screw] || std::ranges::any_of(bench.carriers[screw], [&](std::size_t c) {
               return unit_of[c] == groups.size();
             });
    };
    if (waits && std::ranges::all_of(screws, leads_out)) outside = true;
    if (on.empty() || (outside && !in_place)) continue;
    for (const std::size_t carrier : carriers) {
      if (layout.parts[carrier].module != module) fixed_to.insert(layout.parts[carrier].module);
    }
    if (on.size() == 1 && !outside) {
      Group& unit = units[*on.begin()];
      unit.riders.push_back(part);
      unit.mass_kg += layout.parts[part].mass_kg;
      unit.box.add(bench.solids[part].box);
    } else {
      items.push_back({part, {on.begin(), on.end()}, outside, bench.bolt(part)});
      meet(on);
    }
  }
  for (std::size_t i = 0; i < layout.parts.size(); ++i) {
    const Part& part = layout.parts[i];
    if (!in_place || !fixed_to.contains(part.module) || part.kind == PartKind::equipment) continue;
    others.push_back(i);
    hosts.add(bench.solids[i].box);
  }
  std::map<std::string_view, std::size_t> by_id;
  for (std::size_t i = 0; i < units.size(); ++i) {
    for (const std::size_t part : units[i].parts) by_id[layout.parts[part].id] = i;
    box.add(units[i].box);
  }
  for (const Joint& joint : layout.joints) {
    // The first part is joined to the others, not they to each other: rails under a shelf.
    const auto first = by_id.find(joint.parts.empty() ? std::string() : joint.parts.front());
    if (first == by_id.end()) continue;
    for (const std::string& id : joint.parts) {
      if (const auto at = by_id.find(id); at != by_id.end()) meet({first->second, at->second});
    }
  }
  items_of.resize(units.size());
  for (std::size_t i = 0; i < items.size(); ++i) {
    for (const std::size_t unit : items[i].units) items_of[unit].push_back(i);
  }
  add_removals();
  add_slidings();
  for (const std::set<std::size_t>& those : met) joined.emplace_back(those.begin(), those.end());
}

void Stage::add_removals() {
  for (const Removal& removal : bench.layout.removals) {
    const auto goes = [&](std::size_t part) {
      const std::string& id = bench.layout.parts[part].id;
      return id == removal.id || std::ranges::find(removal.along, id) != removal.along.end();
    };
    for (Group& unit : units) {
      if (std::ranges::all_of(unit.parts, goes)) unit.removed = removal.direction;
    }
  }
}

/// Each slide by its moving half, and by how far that lies in what stays behind.
void Stage::add_slidings() {
  const Layout& layout = bench.layout;
  for (std::size_t i = 0; i < items.size(); ++i) {
    const Item& item = items[i];
    const Part& half = layout.parts[item.part];
    const Joint* joint = bench.half[item.part] ? joint_of(layout, half.id) : nullptr;
    if (joint == nullptr || !slides(*joint) || item.units.size() != 2) continue;
    const Motion* motion = opens_by(layout, *joint);
    const auto moves = [&](const std::string& id) {
      return std::ranges::find(motion->parts, id) != motion->parts.end();
    };
    if (motion == nullptr || motion->kind != MotionKind::translation || !moves(half.id)) continue;
    const auto carried = [&](std::size_t unit) {
      return std::ranges::any_of(units[unit].parts,
                                 [&](std::size_t part) { return moves(layout.parts[part].id); });
    };
    const std::size_t mover = carried(item.units.front()) ? 0 : 1;
    double far = -std::numeric_limits<double>::infinity();
    for (const Item& other : items) {
      const std::string& id = layout.parts[other.part].id;
      if (joint_of(layout, id) == joint && bench.half[other.part] && !moves(id))
        far = std::max(far, reach(bench.solids[other.part], motion->axis));
    }
    slidings.push_back(
        {.item = i,
         .mover = item.units[mover],
         .carrier = item.units[1 - mover],
         .out = motion->axis,
         .overlap = std::max(0.0, far + reach(bench.solids[item.part], -motion->axis))});
  }
}

}  // namespace ribbay::detail
