#include "facts.hpp"

#include "base/text.hpp"
#include "layout/project.hpp"
#include "starter/starter.hpp"

#include <algorithm>
#include <map>

namespace ribbay::detail {

namespace {

bool has_many(const std::string& table) {
  return std::ranges::any_of(project_schemas(), [&](const NamedSchema& of) {
    return of.vehicle && of.many && of.table == table;
  });
}

}  // namespace

std::vector<std::pair<std::string, Dimension>> fact_patterns() {
  const std::string path = "long_high.toml";
  const auto document = load_document(path, {}, [&](const std::string&) -> Result<std::string> {
    return sample_vehicle("long_high");
  });
  const auto vehicle = read_vehicle(document.value);
  if (!vehicle) return {};  // a test sees to it that the sample can be read
  std::map<std::string, Dimension> patterns;
  for (const auto& [name, quantity] : vehicle_facts(*vehicle)) {
    std::vector<std::string> words = split(name);
    if (words.size() > 2 && has_many(words[0])) words[1] = "NAME";
    patterns.emplace(join(words, "."), quantity.dimension);
  }
  return {patterns.begin(), patterns.end()};
}

}  // namespace ribbay::detail
