#pragma once

#include <string>
#include <vector>

namespace ribbay {

/// A faulty file, the fault that must be told and where.
struct FaultRow {
  const char* code;
  std::string text;
  int line;
  int column;
  const char* says;         ///< part of the message
  std::string mended = {};  ///< a file that follows the advice; must have no faults
};

const std::vector<FaultRow>& fault_rows();

}  // namespace ribbay
