#pragma once

#include "base/tolerance.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>

/// Lengths as whole hundredths of a millimetre. Sizes that differ by rounding noise only are equal.
namespace ribbay::detail {

inline std::int64_t ticks_up(double mm) {
  return static_cast<std::int64_t>(std::ceil(mm / kCut - kSame / kCut));
}

inline std::int64_t ticks_down(double mm) {
  return static_cast<std::int64_t>(std::floor(mm / kCut + kSame / kCut));
}

/// Of a piece: never nothing, however short it is.
inline std::int64_t piece_ticks(double mm) {
  return std::max<std::int64_t>(1, ticks_up(mm));
}

/// Money as whole hundredths.
inline std::int64_t hundredths(double price) {
  return static_cast<std::int64_t>(std::llround(price * 100.0));
}

}  // namespace ribbay::detail
