#include "base/parallel.hpp"
#include "base/tolerance.hpp"
#include "body_pair.hpp"
#include "broad_phase.hpp"
#include "checks.hpp"
#include "findings.hpp"
#include "finish_clash.hpp"
#include "gap_rules.hpp"
#include "shape/shape.hpp"
#include "way_out.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>

namespace ribbay::detail {

namespace {

/// What one slot of work found.
struct Found {
  std::optional<Contact> contact;
  std::optional<Finding> finding;
};

void add(std::vector<Found>&& slots, ClearanceResult& result) {
  for (Found& found : slots) {
    if (found.contact) result.contacts.push_back(std::move(*found.contact));
    if (found.finding) result.findings.push_back(std::move(*found.finding));
  }
}

Found check_pair(const Scene& scene, IndexPair pair, bool list_touching) {
  const Body& a = scene.bodies[pair.first];
  const Body& b = scene.bodies[pair.second];
  const double tight = scene.layout->tight;
  const bool narrow = tight > kContact && watches_narrow_gap(scene, a, b);
  const double limit = narrow ? tight : list_touching ? 2 * kContact : -kContact;
  const Measured measured = measure(a, b, limit);
  if (measured.clash()) {
    const Contact clash = clash_contact(a, b, measured, limit);
    return {clash, clash_finding(clash, way_is_free(scene, pair.first, &b, clash),
                                 finishes_at_fault(scene, a, b))};
  }
  if (measured.may_clash()) {
    return {std::nullopt, undecided_finding(a.id, b.id, -measured.least, measured.at)};
  }
  if (measured.least <= kContact) {
    if (!list_touching) return {};
    return {Contact{a.id, b.id, Verdict::touching, measured.least, {}, measured.at, 0.0}, {}};
  }
  if (!narrow || measured.most >= tight - kSame) return {};
  const Contact contact{a.id, b.id, Verdict::tight, measured.least, {}, measured.at, 0.0};
  return {contact, tight_finding(contact, tight)};
}

Found check_gap(const Scene& scene, const Gap& gap) {
  std::vector<std::size_t> first;
  std::vector<std::size_t> second;
  for (std::size_t i = 0; i < scene.bodies.size(); ++i) {
    if (in_gap_set(gap.a, scene.bodies[i])) first.push_back(i);
    if (in_gap_set(gap.b, scene.bodies[i])) second.push_back(i);
  }
  Contact nearest;
  double most = gap.required;
  for (const std::size_t i : first) {
    for (const std::size_t k : second) {
      const Body& a = scene.bodies[i];
      const Body& b = scene.bodies[k];
      if (i == k || !near(a.box, b.box, most) || exempt(scene, i, k)) continue;
      const Measured measured = measure(a, b, most);
      if (measured.most >= most) continue;
      most = measured.most;
      nearest = {a.id, b.id, Verdict::tight, measured.least, {}, measured.at, 0.0};
    }
  }
  // `most` decides: half a micrometre of over-covered arc is no missing gap.
  if (most >= gap.required - kSame) return {};
  const Finding finding = gap_finding(gap, nearest);
  // Deeper than touching is in the list already, as a clash.
  if (nearest.separation < kContact) return {std::nullopt, finding};
  return {nearest, finding};
}

/// Heat is nothing to metal, and to the small hardware that is made of it. A material that is a
/// metal has an anodic index.
bool stands_heat(const Scene& scene, const Body& body) {
  if (body.hardware()) return true;
  if (!scene.layout->catalogue) return false;
  const auto& materials = scene.layout->catalogue->materials;
  const auto material = materials.find(body.part->material);
  return material != materials.end() && material->second.anodic_index.has_value();
}

/// The owner of a zone and its hardware may stand in it, and so may who is allowed to.
bool may_stand_in(const Scene& scene, const Zone& zone, const Body& body) {
  const auto owns = [&](const Body& other) {
    return !zone.owner.empty() && means(zone.owner, other);
  };
  if (zone.kind == ZoneKind::heat && stands_heat(scene, body)) return true;
  return owns(body) ||
         std::ranges::any_of(body.hosts, [&](std::size_t k) { return owns(scene.bodies[k]); }) ||
         std::ranges::any_of(zone.allowed,
                             [&](const std::string& name) { return means(name, body); });
}

/// The middle half of a box-shaped space, in length and width.
Zone middle_of(Zone zone) {
  const Box box = bounds(zone.shape);
  const Vec3 in{box.size().x / 4, box.size().y / 4, 0.0};
  zone.shape = box_shape(box.lo + in, box.hi - in);
  return zone;
}

/// What of the van reaches deepest into a zone. The door ways end at its walls, and heat is nothing to
/// sheet metal. Head room counts in the middle of a bunk or seat: walls lean in over its edges (common
/// practice, no source), so the roof and its bows count there and the walls do not.
std::optional<Finding> van_in_zone(const Scene& scene, const Zone& zone) {
  if (zone.owner.starts_with("vehicle/") || zone.kind == ZoneKind::heat) return std::nullopt;
  const bool head = zone.kind == ZoneKind::head_room;
  const Zone where = head ? middle_of(zone) : zone;
  const Body space = zone_body(where, scene.recall);
  std::optional<Finding> deepest;
  double depth = 0.0;
  for (const std::size_t i : scene.near(space.box, -kContact)) {
    const Body& body = scene.bodies[i];
    if (!body.of_vehicle()) continue;
    const bool above = body.id == "vehicle/roof" || body.id.starts_with("vehicle/bow.");
    if (head && !above) continue;
    if (may_stand_in(scene, zone, body)) continue;
    const Measured measured = measure(body, space, -kContact);
    if (!measured.clash()) continue;
    Contact clash = clash_contact(body, space, measured, -kContact);
    if (-clash.separation <= depth) continue;
    depth = -clash.separation;
    deepest = zone_finding(zone, clash, false);
  }
  return deepest;
}

/// A screw goes where what it sits in goes: where that stands in a zone too, it is told alone.
Findings check_zone(const Scene& scene, const Zone& zone) {
  const Body space = zone_body(zone, scene.recall);
  Findings findings;
  std::map<std::size_t, Contact> inside;
  for (const std::size_t i : scene.near(space.box, -kContact)) {
    const Body& body = scene.bodies[i];
    if (body.of_vehicle() || may_stand_in(scene, zone, body)) continue;
    const Measured measured = measure(body, space, -kContact);
    if (measured.clash()) {
      inside.emplace(i, clash_contact(body, space, measured, -kContact));
    } else if (measured.may_clash()) {
      findings.push_back(undecided_finding(body.id, zone.id, -measured.least, measured.at));
    }
  }
  for (const auto& [i, clash] : inside) {
    const Body& body = scene.bodies[i];
    const bool rides = body.hardware() && std::ranges::any_of(body.hosts, [&](std::size_t host) {
                         return inside.contains(host);
                       });
    if (!rides) findings.push_back(zone_finding(zone, clash, way_is_free(scene, i, nullptr, clash)));
  }
  if (auto van = van_in_zone(scene, zone)) findings.push_back(std::move(*van));
  return findings;
}

/// Points of the body that show whether it lies in the room: one inside it, and its rearmost and
/// foremost corners. The walls, the floor and the roof are bodies that nothing can cross without a
/// clash; the room's ends may be open.
std::vector<Vec3> probes(const Body& body) {
  Vec3 rear;
  Vec3 front;
  double rear_x = std::numeric_limits<double>::infinity();
  double front_x = -std::numeric_limits<double>::infinity();
  std::optional<Vec3> inside;
  for (const ConvexPiece& piece : body.pieces()) {
    Vec3 middle;
    for (const Vec3& p : piece.vertices) middle = middle + p;
    middle = middle * (1.0 / static_cast<double>(piece.vertices.size()));
    if (!inside) inside = middle;
    for (const Vec3& p : piece.vertices) {
      const Vec3 towards = middle - p;
      const double far = length(towards);
      // What touches the end of the room is not outside: look twice kContact behind the corner.
      const Vec3 probe = far > 2 * kContact ? p + towards * (2 * kContact / far) : middle;
      if (p.x < rear_x) {
        rear_x = p.x;
        rear = probe;
      }
      if (p.x > front_x) {
        front_x = p.x;
        front = probe;
      }
    }
  }
  if (!inside) return {};
  return {*inside, rear, front};
}

}  // namespace

std::vector<IndexPair> check_pairs(const Scene& scene, int jobs, bool list_touching,
                                   ClearanceResult& result) {
  std::vector<Box> boxes;
  for (const Body& body : scene.bodies) boxes.push_back(body.box);
  std::vector<IndexPair> pairs = near_pairs(boxes, std::max(scene.layout->tight, kContact));
  std::erase_if(pairs, [&](IndexPair pair) { return exempt(scene, pair.first, pair.second); });
  std::vector<Found> slots(pairs.size());
  for_each_slot(pairs.size(), jobs,
                [&](std::size_t i) { slots[i] = check_pair(scene, pairs[i], list_touching); });
  result.pairs = pairs.size();
  add(std::move(slots), result);
  return pairs;
}

void check_gaps(const Scene& scene, int jobs, ClearanceResult& result) {
  const std::vector<Gap>& gaps = scene.layout->gaps;
  std::vector<Found> slots(gaps.size());
  for_each_slot(gaps.size(), jobs, [&](std::size_t i) { slots[i] = check_gap(scene, gaps[i]); });
  add(std::move(slots), result);
}

void check_zones(const Scene& scene, int jobs, ClearanceResult& result) {
  const std::vector<Zone>& zones = scene.layout->zones;
  std::vector<Findings> slots(zones.size());
  for_each_slot(zones.size(), jobs, [&](std::size_t i) { slots[i] = check_zone(scene, zones[i]); });
  for (Findings& found : slots) std::ranges::move(found, std::back_inserter(result.findings));
}

void check_room(const Scene& scene, int jobs, ClearanceResult& result) {
  const Vehicle* vehicle = scene.layout->vehicle.get();
  if (vehicle == nullptr) return;
  const auto hosted_by_van = [&](const Body& body) {
    return std::ranges::any_of(body.hosts,
                               [&](std::size_t k) { return scene.bodies[k].of_vehicle(); });
  };
  const auto in_van = [](const std::string& id) { return id.starts_with("vehicle/"); };
  std::vector<std::string> clashing;  // with the van: reported already
  for (const Contact& contact : result.contacts) {
    if (contact.verdict == Verdict::clash && in_van(contact.b)) clashing.push_back(contact.a);
  }
  std::ranges::sort(clashing);
  std::vector<std::optional<Vec3>> slots(scene.parts);
  for_each_slot(scene.parts, jobs, [&](std::size_t i) {
    const Body& body = scene.bodies[i];
    if (hosted_by_van(body) || std::ranges::binary_search(clashing, body.id)) return;
    for (const Vec3& probe : probes(body)) {
      if (inside_room(*vehicle, probe)) continue;
      slots[i] = probe;
      return;
    }
  });
  for (std::size_t i = 0; i < scene.parts; ++i) {
    if (slots[i])
      result.findings.push_back(outside_finding(*scene.bodies[i].part, *slots[i], *vehicle));
  }
}

}  // namespace ribbay::detail
