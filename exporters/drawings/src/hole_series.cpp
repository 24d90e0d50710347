#include "drawings/hole_series.hpp"

#include "base/wording.hpp"
#include "drawings/holes.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

namespace ribbay {

namespace {

constexpr double kSameSpot = 1e-3;  // mm; what prints alike
constexpr std::size_t kRow = 3;     // fewer holes than this make no row

/// Takes rows along one axis out of `left`.
void take_rows(std::vector<PanelHole>& left, bool upwards, std::vector<HoleSeries>& out) {
  const auto along = [&](const PanelHole& h) { return upwards ? h.at.y : h.at.x; };
  const auto across = [&](const PanelHole& h) {
    return std::llround((upwards ? h.at.x : h.at.y) / kSameSpot);
  };
  std::vector<PanelHole> rest;
  while (!left.empty()) {
    std::vector<PanelHole> row;
    const PanelHole seed = left.front();
    const auto in_row = [&](const PanelHole& h) {
      return drilled_alike(h, seed) && across(h) == across(seed);
    };
    std::ranges::copy_if(left, std::back_inserter(row), in_row);
    std::erase_if(left, in_row);
    std::ranges::stable_sort(row, {}, along);
    for (std::size_t i = 0; i < row.size();) {
      std::size_t end = i + 1;
      const double pitch = end < row.size() ? along(row[end]) - along(row[i]) : 0.0;
      while (end < row.size() &&
             std::abs(along(row[end]) - along(row[end - 1]) - pitch) < kSameSpot)
        ++end;
      if (end - i >= kRow) {
        out.push_back({row[i], end - i, upwards ? Vec2{0, pitch} : Vec2{pitch, 0}, {}});
        i = end;
      } else {
        rest.push_back(row[i++]);
      }
    }
  }
  left = std::move(rest);
}

}  // namespace

bool starts_in_cut(const PanelHole& hole) {
  return hole.face.size() == 1 && !hole.bore.through && hole.z > kSameSpot;
}

bool drilled_alike(const PanelHole& a, const PanelHole& b) {
  return a.face == b.face && std::abs(a.z - b.z) < kSameSpot && same_drill(a, b);
}

std::vector<HoleSeries> hole_series(const std::vector<PanelHole>& holes) {
  std::vector<HoleSeries> series;
  std::vector<PanelHole> left = holes;
  take_rows(left, true, series);
  take_rows(left, false, series);
  for (const PanelHole& h : left) series.push_back({h, 1, {}, {}});
  const auto order = [](const HoleSeries& s) {
    return std::make_tuple(s.first.face, s.first.at.x, s.first.at.y, s.first.z,
                           s.first.bore.diameter);
  };
  std::ranges::stable_sort(
      series, [&](const HoleSeries& a, const HoleSeries& b) { return order(a) < order(b); });
  std::map<char, int> counted;
  for (HoleSeries& s : series) {
    char letter = s.first.face.front();
    if (letter >= 'a') letter = static_cast<char>(letter - 'a' + 'A');
    // The bottom edge would take the letter of face B.
    if (s.first.face == "bottom") letter = 'U';
    s.id = letter + std::to_string(++counted[letter]);
  }
  return series;
}

}  // namespace ribbay
