#include "base/text.hpp"
#include "checks.hpp"
#include "findings.hpp"
#include "way_out.hpp"

#include <algorithm>
#include <array>
#include <map>

/// Modules that stand in each other: told once, not for every pair of their parts.
namespace ribbay::detail {

namespace {

constexpr std::size_t kMostSingle = 3;  // clashes of two modules that are told one by one

using ModulePair = std::pair<std::string, std::string>;  // in order of their names

/// Null for what is no part.
const Body* body_of(const Scene& scene, const std::string& id) {
  const auto part = scene.part_named(id);
  return part ? &scene.bodies[*part] : nullptr;
}

/// The two modules whose parts clash; nullopt inside a module, and with the van.
std::optional<ModulePair> modules_of(const Scene& scene, const Finding& finding) {
  if (finding.code != "clearance.clash") return std::nullopt;
  const Body* a = body_of(scene, finding.subjects[0]);
  const Body* b = body_of(scene, finding.subjects[1]);
  if (a == nullptr || b == nullptr || a->part->module == b->part->module) return std::nullopt;
  return std::minmax({a->part->module, b->part->module});
}

double depth_of(const Finding* clash) {
  return std::get<double>(clash->argument("measured")->value);
}

/// The shortest way along the van's axes that takes `a` out of `b`.
Contact shortest_way(const Box& a, const Box& b) {
  const auto along = [](Vec3 way, double separation) {
    Contact contact;
    contact.way = way;
    contact.separation = separation;
    return contact;
  };
  const std::array ways = {along({1, 0, 0}, a.lo.x - b.hi.x), along({-1, 0, 0}, b.lo.x - a.hi.x),
                           along({0, 1, 0}, a.lo.y - b.hi.y), along({0, -1, 0}, b.lo.y - a.hi.y),
                           along({0, 0, 1}, a.lo.z - b.hi.z), along({0, 0, -1}, b.lo.z - a.hi.z)};
  return *std::ranges::max_element(ways, {}, &Contact::separation);
}

Box bounds_of(const Scene& scene, const std::string& module) {
  Box bounds;
  for (std::size_t i = 0; i < scene.parts; ++i) {
    if (scene.bodies[i].part->module != module) continue;
    bounds.add(scene.bodies[i].box.lo);
    bounds.add(scene.bodies[i].box.hi);
  }
  return bounds;
}

/// A body of the module that takes the whole of it along.
std::optional<std::size_t> leader_of(const Scene& scene, const std::string& module) {
  for (std::size_t i = 0; i < scene.parts; ++i) {
    const Body& body = scene.bodies[i];
    if (body.part->module == module && !body.equipment()) return i;
  }
  return std::nullopt;
}

/// `deepest` as the finding of both modules, with a way out when one of them has a free one.
Finding joined_finding(const Scene& scene, const ModulePair& modules, const Finding& deepest,
                       std::size_t others) {
  const auto& [first, second] = modules;
  for (const auto& [moves, stays] : {modules, ModulePair{second, first}}) {
    const Contact way = shortest_way(bounds_of(scene, moves), bounds_of(scene, stays));
    const auto leader = leader_of(scene, moves);
    const auto other = leader_of(scene, stays);
    if (!leader || !other || !way_is_free(scene, *leader, &scene.bodies[*other], way)) continue;
    return modules_finding(deepest, modules, others, ModuleWay{moves, way});
  }
  return modules_finding(deepest, modules, others, std::nullopt);
}

}  // namespace

void join_module_clashes(const Scene& scene, ClearanceResult& result) {
  std::map<ModulePair, std::vector<const Finding*>> clashes;
  for (const Finding& finding : result.findings) {
    if (const auto modules = modules_of(scene, finding)) clashes[*modules].push_back(&finding);
  }
  Findings joined;
  for (const auto& [modules, list] : clashes) {
    if (list.size() <= kMostSingle) continue;
    const Finding& deepest = **std::ranges::max_element(list, {}, depth_of);
    joined.push_back(joined_finding(scene, modules, deepest, list.size() - 1));
  }
  std::erase_if(result.findings, [&](const Finding& finding) {
    const auto modules = modules_of(scene, finding);
    return modules && clashes.at(*modules).size() > kMostSingle;
  });
  std::ranges::move(joined, std::back_inserter(result.findings));
}

}  // namespace ribbay::detail
