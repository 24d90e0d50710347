#include "body_pair.hpp"
#include "checks.hpp"
#include "findings.hpp"

#include <algorithm>
#include <map>
#include <numeric>

namespace ribbay::detail {

namespace {

/// Bodies that hang together by joints, by hardware in its hosts, or because they touch; the van is
/// one of them.
class Clusters {
 public:
  explicit Clusters(const Scene& scene) : scene_(scene), root_(scene.bodies.size()) {
    std::iota(root_.begin(), root_.end(), std::size_t{0});
    for (std::size_t i = scene.parts + 1; i < scene.bodies.size(); ++i) join(scene.parts, i);
    for (std::size_t i = 0; i < scene.parts; ++i) {
      for (const std::size_t host : scene.bodies[i].hosts) join(i, host);
    }
    std::map<std::size_t, std::size_t> first_of_joint;
    for (std::size_t i = 0; i < scene.parts; ++i) {
      for (const std::size_t joint : scene.bodies[i].joints)
        join(first_of_joint.try_emplace(joint, i).first->second, i);
    }
    // A joint to the van names it.
    for (std::size_t j = 0; j < scene.layout->joints.size(); ++j) {
      const auto first = first_of_joint.find(j);
      if (first == first_of_joint.end()) continue;
      const bool to_van =
          std::ranges::any_of(scene.layout->joints[j].parts,
                              [](const std::string& id) { return id.starts_with("vehicle/"); });
      if (to_van) join(first->second, scene.parts);
    }
  }

  void join(std::size_t a, std::size_t b) { root_[find(b)] = find(a); }

  std::size_t find(std::size_t i) {
    while (root_[i] != i) i = root_[i] = root_[root_[i]];
    return i;
  }

  /// The parts, hardware left out, of each cluster that the van is not in, by first part.
  std::vector<std::vector<std::size_t>> in_the_air() {
    const std::size_t van = find(scene_.parts);
    std::map<std::size_t, std::vector<std::size_t>> by_root;
    for (std::size_t i = 0; i < scene_.parts; ++i) {
      if (find(i) != van && !scene_.bodies[i].hardware()) by_root[find(i)].push_back(i);
    }
    std::vector<std::vector<std::size_t>> all;
    for (auto& [root, parts] : by_root) all.push_back(std::move(parts));
    std::ranges::sort(all);
    return all;
  }

 private:
  const Scene& scene_;
  std::vector<std::size_t> root_;
};

}  // namespace

void check_held(const Scene& scene, const std::vector<IndexPair>& pairs, ClearanceResult& result) {
  if (scene.parts == scene.bodies.size()) return;  // without a van everything hangs in the air
  Clusters clusters(scene);
  for (const auto& [a, b] : pairs) {
    // Joints hold most things together, so few pairs are left to measure.
    if (clusters.find(a) == clusters.find(b)) continue;
    if (measure(scene.bodies[a], scene.bodies[b], 2 * kContact).least <= kContact)
      clusters.join(a, b);
  }
  const auto outside = [&result](const std::string& part) {
    return std::ranges::any_of(result.findings, [&](const Finding& finding) {
      return finding.code == "clearance.outside" && finding.subjects.front() == part;
    });
  };
  for (const std::vector<std::size_t>& parts : clusters.in_the_air()) {
    if (std::ranges::any_of(parts, [&](std::size_t i) { return outside(scene.bodies[i].id); }))
      continue;
    const auto heaviest = std::ranges::max_element(
        parts, {}, [&](std::size_t i) { return scene.bodies[i].part->mass_kg; });
    result.findings.push_back(
        in_the_air_finding(*scene.layout, scene.bodies[*heaviest], parts.size() - 1));
  }
}

}  // namespace ribbay::detail
