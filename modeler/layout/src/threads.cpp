#include "threads.hpp"

#include "base/text.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace ribbay::detail {

namespace {

struct Pitch {
  double diameter;
  double pitch;
};
/// Coarse pitches of metric threads; source: ISO 261 (M4 to M12 looked up, M3 from memory).
constexpr std::array<Pitch, 7> kCoarse{
    {{3, 0.5}, {4, 0.7}, {5, 0.8}, {6, 1.0}, {8, 1.25}, {10, 1.5}, {12, 1.75}}};

}  // namespace

double tapping_drill(double diameter) {
  const auto row = std::ranges::find(kCoarse, diameter, &Pitch::diameter);
  return row == kCoarse.end() ? 0.85 * diameter : diameter - row->pitch;
}

std::string thread_name(double diameter) {
  return "M" + rounded_text(diameter, 1);
}

std::string thread_of(double core_bore) {
  const auto row = std::ranges::min_element(
      kCoarse, {}, [&](const Pitch& p) { return std::abs(p.diameter - p.pitch - core_bore); });
  return thread_name(row->diameter);
}

}  // namespace ribbay::detail
