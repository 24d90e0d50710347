#include "drawings/dashes.hpp"

#include <cmath>

namespace ribbay {

namespace {

/// Lengths of ink and gap, in pen widths, of a line type: ISO 128-2 (from memory): dash 12, long
/// dash 24, gap 3, dot 0.5.
std::vector<double> rhythm(LineType type) {
  switch (type) {
    case LineType::continuous:
      return {};
    case LineType::dashed:
      return {12, 3};
    case LineType::chain:
      return {24, 3, 0.5, 3};
    case LineType::double_chain:
      return {24, 3, 0.5, 3, 0.5, 3};
  }
  return {};
}

}  // namespace

std::vector<std::pair<double, double>> dashes(const Pen& pen, double size) {
  const auto pattern = rhythm(pen.type);
  if (pattern.empty()) return {{0.0, size}};
  double period = 0.0;
  for (const double p : pattern) period += p * pen.width;
  const double first = pattern.front() * pen.width;
  const int repeats = static_cast<int>(std::lround((size - first) / period));
  if (repeats < 1) return {{0.0, size}};
  const double long_dash = (size - repeats * (period - first)) / (repeats + 1);
  std::vector<std::pair<double, double>> out;
  double at = 0.0;
  for (int r = 0; r < repeats; ++r) {
    out.emplace_back(at, at + long_dash);
    at += long_dash;
    for (std::size_t i = 1; i < pattern.size(); ++i) {
      const double step = pattern[i] * pen.width;
      if (i % 2 == 0) out.emplace_back(at, at + step);
      at += step;
    }
  }
  out.emplace_back(at, size);
  return out;
}

}  // namespace ribbay
