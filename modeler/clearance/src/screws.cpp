#include "base/parallel.hpp"
#include "base/tolerance.hpp"
#include "checks.hpp"
#include "findings.hpp"
#include "shape/crossing.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace ribbay::detail {

namespace {

/// Told when the tip of the screw lies in none of what it sits in.
std::optional<Finding> stands_out(const Scene& scene, const Body& screw) {
  // Behind the metal of the van and of profiles it is hollow: there a tip may stand free.
  const auto metal = [&](std::size_t host) {
    const Body& body = scene.bodies[host];
    return body.of_vehicle() || body.part->kind == PartKind::member;
  };
  const bool into_something = screw.hosts.size() > 1;
  if (!into_something || std::ranges::any_of(screw.hosts, metal)) return std::nullopt;
  const Vec3 along = screw.frame.z;
  const double tip = bounds(*screw.shape).hi.z;
  double left = 0.0;  // where it leaves what it sits in last before its tip
  std::size_t last = screw.hosts.front();
  for (const std::size_t host : screw.hosts) {
    for (const ConvexPiece& piece : scene.bodies[host].pieces()) {
      const auto span = crossing(piece, screw.frame.origin, along);
      if (!span || span->first > tip || span->second <= left) continue;
      left = span->second;
      last = host;
    }
  }
  if (tip <= left + kContact) return std::nullopt;
  return screw_finding(*screw.part, scene.bodies[last].id, tip - left, screw.frame.point({0, 0, tip}));
}

double out_by(const Finding& finding) {
  return std::get<double>(finding.argument("measured")->value);
}

}  // namespace

void check_screws(const Scene& scene, int jobs, ClearanceResult& result) {
  std::vector<std::optional<Finding>> slots(scene.parts);
  for_each_slot(scene.parts, jobs, [&](std::size_t i) {
    const Body& body = scene.bodies[i];
    if (body.bolt != nullptr && body.bolt->kind == BoltKind::wood) slots[i] = stands_out(scene, body);
  });
  // Screws of one row are alike: told once for each kind of screw in each part that it comes out of.
  std::vector<Finding> told;
  for (std::optional<Finding>& slot : slots) {
    if (!slot) continue;
    const auto alike = std::ranges::find_if(told, [&](const Finding& other) {
      return other.subjects.back() == slot->subjects.back() &&
             other.argument("stock")->value == slot->argument("stock")->value &&
             std::abs(out_by(other) - out_by(*slot)) < kContact;
    });
    if (alike == told.end()) told.push_back(std::move(*slot));
  }
  result.findings.insert(result.findings.end(), told.begin(), told.end());
}

}  // namespace ribbay::detail
