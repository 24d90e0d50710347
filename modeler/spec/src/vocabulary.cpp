#include "spec/vocabulary.hpp"

#include "expression.hpp"
#include "units.hpp"

namespace ribbay {

std::vector<ListedUnit> listed_units() {
  std::vector<ListedUnit> all;
  for (const std::string& name : detail::unit_names()) {
    all.push_back({name, detail::find_unit(name)->dimension});
  }
  return all;
}

const std::vector<std::string>& expression_words() {
  return detail::built_in_words();
}

double as_bare_number(double canonical, Dimension dimension) {
  return detail::to_bare(canonical, dimension);
}

}  // namespace ribbay
