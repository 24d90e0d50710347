#pragma once

#include "base/finding.hpp"

#include <cstddef>

namespace ribbay {

/// Aborts when a promise is broken, so that the fuzzer keeps the input.
void promise(bool kept, const char* what);

/// Findings can be printed, stand somewhere, and are not endless.
void check_findings(const Findings& findings, std::size_t most);

/// Most findings of a reader: it stops at the first fault of syntax in each file, but lays over
/// each other what is left.
inline constexpr std::size_t kMostOfReader = 200'000;

}  // namespace ribbay
