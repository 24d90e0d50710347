#pragma once

#include "layout/layout.hpp"

#include <functional>
#include <vector>

namespace ribbay::planted {

/// A scene in which nothing is wrong in the way that `code` tells, and the fault that makes it so.
struct Fault {
  const char* code;
  std::function<Layout()> sound;
  std::function<void(Layout&)> plant;
};

/// At least one for each code of the checks.
const std::vector<Fault>& faults();

/// The scene with its fault, in the order that layouts keep.
Layout planted(const Fault& fault);

/// What every check says of a layout.
Findings all_findings(const Layout& layout);

/// True for codes of findings that these checks tell.
bool of_checks(std::string_view code);

}  // namespace ribbay::planted
