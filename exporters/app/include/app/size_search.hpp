#pragma once

#include "base/finding.hpp"

#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

namespace ribbay {

/// Values are counted in ticks: whole multiples of the finest step that matters.
using Tick = std::int64_t;

/// What is wrong with one value; empty: it passes.
using Judge = std::function<Findings(Tick value)>;
/// Calls work(i) for each i below `count`, in any order and perhaps at once.
using ForEach = std::function<void(std::size_t count, const std::function<void(std::size_t)>& work)>;

struct SizeRange {
  Tick from = 0;
  Tick to = 0;    ///< included
  Tick step = 1;  ///< of the first scan
  bool largest = false;
};

/// A run of scanned values that all came out alike.
struct Stretch {
  Tick from = 0;
  Tick to = 0;
  bool passes = false;
};

/// One pass over evenly spaced values.
struct Scan {
  Tick from = 0;
  Tick to = 0;
  Tick step = 1;
};

struct SizeFound {
  std::optional<Tick> value;     ///< the smallest, or largest, that was found to pass
  std::optional<Tick> beyond;    ///< the next one, which fails; nullopt at the end of the range
  Findings failing;  ///< what is wrong with that one; with the first of all when none passes
  std::vector<Stretch> stretches;  ///< of the first scan, rising
  std::vector<Scan> scans;         ///< what was looked at, coarse to fine
};

/// The smallest (or largest) value of the range that passes. Nothing is assumed about the values
/// between: the range is scanned, and the gap before the first value that passes is scanned ever
/// finer, down to one tick. A stretch that passes and lies wholly between two scanned values is not
/// seen.
SizeFound find_size(const SizeRange& range, const Judge& judge, const ForEach& for_each);

}  // namespace ribbay
