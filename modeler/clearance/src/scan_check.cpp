#include "base/parallel.hpp"
#include "checks.hpp"
#include "clearance/scan_contact.hpp"
#include "findings.hpp"
#include "vehicle/vehicle_scan.hpp"

#include <algorithm>
#include <optional>

namespace ribbay::detail {

namespace {

/// How far a way out is looked for, mm: more is wrong anyway.
constexpr double kFurthest = 200.0;

/// Hardware and what is bolted to the van are where they are meant to be; what clashes with the
/// taped or sliced van has been told.
std::vector<bool> looked_at(const Scene& scene, const ClearanceResult& result) {
  std::vector<std::string> clashing;
  for (const Contact& contact : result.contacts) {
    if (contact.verdict == Verdict::clash && contact.b.starts_with("vehicle/")) {
      clashing.push_back(contact.a);
    }
  }
  std::ranges::sort(clashing);
  std::vector<bool> look(scene.parts);
  for (std::size_t i = 0; i < scene.parts; ++i) {
    const Body& body = scene.bodies[i];
    const bool hosted = std::ranges::any_of(
        body.hosts, [&](std::size_t k) { return scene.bodies[k].of_vehicle(); });
    look[i] = !body.hardware() && !hosted && !std::ranges::binary_search(clashing, body.id);
  }
  return look;
}

}  // namespace

void check_scan(const Scene& scene, int jobs, ClearanceResult& result) {
  const Vehicle* vehicle = scene.layout->vehicle.get();
  if (vehicle == nullptr || vehicle->scan == nullptr) return;
  const VehicleScan& scan = *vehicle->scan;
  const ScanTree tree(scan.mesh);
  const std::vector<bool> look = looked_at(scene, result);
  std::vector<std::optional<ScanContact>> slots(scene.parts);
  for_each_slot(scene.parts, jobs, [&](std::size_t i) {
    if (look[i]) slots[i] = scan_contact(scene.bodies[i].pieces(), tree, scan.uncertainty, kFurthest);
  });
  std::vector<std::size_t> within;
  for (std::size_t i = 0; i < scene.parts; ++i) {
    if (!slots[i]) continue;
    if (slots[i]->depth <= scan.uncertainty) {
      within.push_back(i);
    } else {
      result.findings.push_back(scan_finding(scene.bodies[i].id, *slots[i], scan.uncertainty));
    }
  }
  if (within.empty()) return;
  const auto deepest =
      std::ranges::max_element(within, {}, [&](std::size_t i) { return slots[i]->depth; });
  result.findings.push_back(scan_touch_finding(scene.bodies[*deepest].id, *slots[*deepest],
                                               scan.uncertainty, within.size()));
}

}  // namespace ribbay::detail
