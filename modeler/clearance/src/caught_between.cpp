#include "checks.hpp"

#include <algorithm>
#include <map>
#include <optional>
#include <set>
#include <utility>
#include <vector>

/// Parts that two others press from opposite sides: what frees one of them runs deeper into the
/// other.
namespace ribbay::detail {

namespace {

/// A clash of a part, seen from it.
struct Pressed {
  std::string by;
  double depth = 0.0;  ///< mm
  Vec3 way;            ///< in which the part would be free of it
};

/// The clashes that are told one by one, by each part.
std::map<std::string, std::vector<Pressed>> clashes_by_part(const ClearanceResult& result) {
  std::map<std::string, std::vector<Pressed>> by_part;
  std::set<std::vector<std::string>> told;
  for (const Finding& finding : result.findings) {
    if (finding.code == "clearance.clash") told.insert(finding.subjects);
  }
  for (const Contact& contact : result.contacts) {
    if (contact.verdict != Verdict::clash || !told.contains({contact.a, contact.b})) continue;
    by_part[contact.a].push_back({contact.b, -contact.separation, contact.way});
    by_part[contact.b].push_back({contact.a, -contact.separation, contact.way * -1.0});
  }
  return by_part;
}

Finding caught_finding(const std::string& part, const Pressed& one, const Pressed& other) {
  Finding finding;
  finding.code = "clearance.caught";
  finding.severity = Severity::note;
  finding.subjects = {part, one.by, other.by};
  return std::move(finding.with("measured", one.depth + other.depth, Unit::mm));
}

/// The deepest two that press from opposite sides.
std::optional<std::pair<Pressed, Pressed>> opposed(std::vector<Pressed> presses) {
  std::ranges::stable_sort(presses, std::ranges::greater{}, &Pressed::depth);
  for (const Pressed& one : presses) {
    const auto other = std::ranges::find_if(
        presses, [&](const Pressed& each) { return dot(one.way, each.way) < -0.9; });
    if (other != presses.end()) return std::pair(one, *other);
  }
  return std::nullopt;
}

/// A move that is advised for the part is none.
void forget_way(Findings& findings, const std::string& part, const std::string& other) {
  for (Finding& finding : findings) {
    if (finding.code == "clearance.clash" && finding.subjects == std::vector{part, other})
      std::erase_if(finding.arguments, [](const Argument& each) { return each.name == "way"; });
  }
}

}  // namespace

void check_caught(const Scene& scene, ClearanceResult& result) {
  for (const auto& [part, presses] : clashes_by_part(result)) {
    if (!scene.part_named(part)) continue;
    const auto both = opposed(presses);
    if (!both) continue;
    result.findings.push_back(caught_finding(part, both->first, both->second));
    for (const Pressed& each : {both->first, both->second}) forget_way(result.findings, part, each.by);
  }
}

}  // namespace ribbay::detail
