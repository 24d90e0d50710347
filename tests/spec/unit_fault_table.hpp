#pragma once

#include <string>
#include <vector>

namespace ribbay {

/// A faulty quantity, and all that is told about it.
struct UnitFaultRow {
  std::string written;  ///< in a literal text of three quotes, which starts at column 5
  const char* code;
  int column;
  const char* message;
  const char* advice;
  std::string mended = {};  ///< a quantity that follows the advice; must have no faults
};

const std::vector<UnitFaultRow>& unit_fault_rows();

}  // namespace ribbay
