#pragma once

#include "base/text.hpp"

#include <string>
#include <vector>

/// Words that the tables share.
namespace ribbay::detail {

using Rows = std::vector<std::vector<std::string>>;

/// Lists are read by machines as well, so millimetres keep their thousandths.
inline std::string size_text(double mm, LengthStyle show) {
  return show == LengthStyle::millimetres ? rounded_text(mm, 3) : length_text(mm, show);
}

/// What header fields of sizes end in.
inline std::string size_unit(LengthStyle show) {
  return show == LengthStyle::millimetres ? "_mm" : "_in";
}

}  // namespace ribbay::detail
