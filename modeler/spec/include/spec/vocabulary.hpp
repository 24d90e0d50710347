#pragma once

#include "spec/dimension.hpp"

#include <string>
#include <vector>

/// The words of expressions, for those who explain them.
namespace ribbay {

/// A unit that may follow a number in a parameter file.
struct ListedUnit {
  std::string name;
  Dimension dimension;
};

/// Every unit that parameter files know, in the order of the table they are read by.
std::vector<ListedUnit> listed_units();

/// The words that expressions answer themselves: "min", "max", "if", "and", ...
const std::vector<std::string>& expression_words();

/// A value in canonical units as a bare number would say it in a field of its dimension: degrees
/// for radians, kg/m3 for kg/mm3, all others unchanged.
double as_bare_number(double canonical, Dimension dimension);

}  // namespace ribbay
