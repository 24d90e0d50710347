#include "structure/ties.hpp"

#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace ribbay {

namespace {

constexpr std::string_view kVan = "vehicle";

/// Modules by name, and the van: what is tied to each other.
class Groups {
 public:
  void tie(const std::string& a, const std::string& b) { above_[top(a)] = top(b); }

  std::string top(std::string name) const {
    for (auto at = above_.find(name); at != above_.end() && at->second != name;
         at = above_.find(name))
      name = at->second;
    return name;
  }

 private:
  std::map<std::string, std::string, std::less<>> above_;
};

std::string module_of(std::string_view id) {
  return std::string(id.substr(0, id.find('/')));
}

void tie_all(const std::vector<std::string>& ids, Groups& groups) {
  for (const std::string& id : ids) groups.tie(module_of(ids.front()), module_of(id));
}

Groups tied(const Layout& layout) {
  Groups groups;
  for (const Part& part : layout.parts) {
    if (part.kind != PartKind::hardware) continue;
    const auto bolt = layout.catalogue->bolts.find(part.stock.key);
    if (bolt != layout.catalogue->bolts.end() && bolt->second.kind == BoltKind::pin) continue;
    tie_all(part.hosts, groups);
    if (!part.hosts.empty()) groups.tie(part.module, module_of(part.hosts.front()));
  }
  for (const Joint& joint : layout.joints) {
    if (joint.glued || !joint.hardware.empty()) tie_all(joint.parts, groups);
  }
  return groups;
}

}  // namespace

Findings check_ties(const Layout& layout) {
  Findings findings;
  if (!layout.vehicle || !layout.catalogue) return findings;
  std::map<std::string, double, std::less<>> masses;
  for (const Part& part : layout.parts) masses[part.module] += part.mass_kg;
  const Groups groups = tied(layout);
  for (const Module& module : layout.modules) {
    const double mass = masses[module.name];
    if (mass < kFlies || groups.top(module.name) == groups.top(std::string(kVan))) continue;
    Finding finding;
    finding.code = "support.not_tied";
    finding.severity = Severity::warning;
    finding.subjects = {module.name};
    finding.place = module.place;
    findings.push_back(std::move(finding).with("mass", mass, Unit::kg).with("kind", module.kind));
  }
  return findings;
}

}  // namespace ribbay
