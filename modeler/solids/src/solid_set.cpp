#include "solids/solid_set.hpp"

#include "base/parallel.hpp"

#include <map>
#include <string>

namespace ribbay {

namespace {

/// A distinct shape and the parts that have it.
struct Kind {
  ShapePtr shape;
  std::vector<std::size_t> parts;
};

std::vector<Kind> distinct_shapes(const std::vector<Part>& parts) {
  std::vector<Kind> kinds;
  std::map<const Shape*, std::size_t> by_address;  // spares writing the key of a shared shape again
  std::map<std::string, std::size_t> by_key;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (parts[i].shape == nullptr) continue;
    const auto [seen, fresh] = by_address.try_emplace(parts[i].shape.get(), kinds.size());
    if (fresh) {
      seen->second = by_key.try_emplace(key(*parts[i].shape), kinds.size()).first->second;
      if (seen->second == kinds.size()) kinds.push_back({parts[i].shape, {}});
    }
    kinds[seen->second].parts.push_back(i);
  }
  return kinds;
}

}  // namespace

Built<SolidSet> make_solids(const Layout& layout, int jobs, const SolidOptions& options) {
  const std::vector<Kind> kinds = distinct_shapes(layout.parts);
  std::vector<Result<Solid>> results(kinds.size(), fail(Findings{}));
  for_each_slot(kinds.size(), jobs, [&](std::size_t i) {
    results[i] = make_solid(*kinds[i].shape, layout.parts[kinds[i].parts.front()].id, options);
  });

  Built<SolidSet> built;
  built.value.of_part.resize(layout.parts.size());
  for (std::size_t i = 0; i < kinds.size(); ++i) {
    if (results[i]) {
      for (const std::size_t part : kinds[i].parts) {
        built.value.of_part[part] = built.value.solids.size();
      }
      built.value.solids.push_back(*std::move(results[i]));
      continue;
    }
    for (Finding& finding : results[i].error()) {
      for (const std::size_t part : kinds[i].parts) {
        if (part != kinds[i].parts.front()) finding.subjects.push_back(layout.parts[part].id);
      }
      built.findings.push_back(std::move(finding));
    }
  }
  return built;
}

}  // namespace ribbay
