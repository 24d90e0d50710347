#pragma once

#include "base/finding.hpp"
#include "spec/dimension.hpp"

#include <optional>
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

/// Nullptr when there is no unit of that name. Raised digits count as digits: "m\u00B3" is m3.
const UnitName* find_unit(std::string_view name);

/// All names, for suggestions.
const std::vector<std::string>& unit_names();

/// A word that people use for several units: "gal". `choices` names them with their sizes.
struct AmbiguousUnit {
  std::string_view name;
  std::string_view choices;
};
const AmbiguousUnit* find_ambiguous_unit(std::string_view name);

/// Canonical value of a bare number in a field of this dimension, and back: degrees and radians,
/// kg/m3 and kg/mm3, degC and K; all others unchanged.
double from_bare(double number, Dimension dimension);
double to_bare(double canonical, Dimension dimension);

/// Highest power of a base unit; more has no meaning and would not fit.
inline constexpr int kHighestPower = 100;

/// Nullopt when a power gets higher than kHighestPower.
std::optional<Dimension> product(Dimension a, Dimension b);
std::optional<Dimension> quotient(Dimension a, Dimension b);

/// A unit that can be written behind a number to give it this dimension, for advice; nullopt when
/// there is none. Differences of temperatures are in K. `currency` may be empty.
std::optional<std::string> unit_to_write(Dimension dimension, const std::string& currency);

/// "482.6 mm": a canonical value in the unit of its field, for messages. `currency` is the unit of
/// money, when it is known.
std::string quantity_text(double value, Dimension dimension, const std::string& currency = {});

/// Adds a canonical value as an argument in the unit of its field, so that lengths follow the
/// builder's choice of mm or inches.
void add_quantity(Finding& finding, std::string name, double value, Dimension dimension,
                  const std::string& currency = {});

}  // namespace ribbay::detail
