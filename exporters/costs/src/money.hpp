#pragma once

#include <cmath>

namespace ribbay::detail {

/// To the hundredth: what a bill says.
inline double in_hundredths(double money) {
  return std::round(money * 100.0) / 100.0;
}

}  // namespace ribbay::detail
