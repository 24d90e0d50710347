#pragma once

#include "vans/vans.hpp"

/// The words that the tables share.
namespace ribbay::detail {

/// "passes", "2 errors, 1 warning", "not laid out: 3 errors".
std::string result_words(const VanRun& van);

/// "1364 x 560 x 952", or "-".
std::string size_words(const ModuleInVan& cell, LengthStyle show);

/// What it means for the saw, against the first van: "as in long_high", "12 cut anew, 2 left over".
std::string change_words(const ModuleInVan& cell, const std::string& first);

/// "2 errors, 1 warning", or an empty string.
std::string trouble_words(std::size_t errors, std::size_t warnings);

bool passes(const VanRun& van);

/// "mm" or "in".
std::string unit_words(LengthStyle show);

}  // namespace ribbay::detail
