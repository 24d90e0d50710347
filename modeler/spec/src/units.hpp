#pragma once

#include "base/finding.hpp"
#include "spec/dimension.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace ribbay::detail {

/// A unit that may follow a number: canonical value = number * factor + offset.
struct UnitName {
  std::string_view name;
  double factor = 1.0;
  Dimension dimension;
  double offset = 0.0;
};

/// Nullptr when there is no unit of that name.
const UnitName* find_unit(std::string_view name);

/// All names, for suggestions.
const std::vector<std::string>& unit_names();

/// Canonical value of a bare number 1 in a field of this dimension: pi/180 for angles, 1e-9 for
/// densities.
double bare_factor(Dimension dimension);

Dimension product(Dimension a, Dimension b);
Dimension quotient(Dimension a, Dimension b);

/// "482.6 mm": a canonical value in the unit of its field, for messages.
std::string quantity_text(double value, Dimension dimension);

/// Adds a canonical value as an argument in the unit of its field, so that lengths follow the
/// builder's choice of mm or inches.
void add_quantity(Finding& finding, std::string name, double value, Dimension dimension);

}  // namespace ribbay::detail
