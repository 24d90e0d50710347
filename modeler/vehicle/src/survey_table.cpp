#include "survey_table.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace ribbay::detail {

double Range::beyond(double value) const {
  if (value > hi) return value - hi;
  return value < lo ? value - lo : 0.0;
}

Range trimmed(std::vector<double> values) {
  std::ranges::sort(values);
  const std::size_t cut = values.size() / 6;
  return {values[cut], values[values.size() - 1 - cut]};
}

double median(std::vector<double> values) {
  std::ranges::sort(values);
  const std::size_t half = values.size() / 2;
  return values.size() % 2 == 1 ? values[half] : (values[half - 1] + values[half]) / 2.0;
}

SurveyTable survey_table(const Vehicle& vehicle, const Document& document) {
  const Node* written = document.root.find("station");
  SurveyTable table;
  for (const Station& station : vehicle.stations) {
    const Node* node = written == nullptr ? nullptr : written->find(station.name);
    const bool both = node != nullptr && node->find("both") != nullptr;
    table.stations.push_back(
        {station.name, station.x, {station.left, station.right}, station.full, both});
  }
  return table;
}

std::vector<Neighbour> neighbours(const SurveyTable& table, std::size_t i, std::size_t without) {
  std::vector<std::size_t> below;
  std::vector<std::size_t> above;
  for (std::size_t k = 0; k < table.stations.size(); ++k) {
    if (k == i || k == without) continue;
    (k < i ? below : above).push_back(k);
  }
  std::ranges::reverse(below);  // nearest first
  std::size_t a = 0;
  std::size_t b = 0;
  if (!below.empty() && !above.empty()) {
    a = below[0];
    b = above[0];
  } else {
    const auto& all = below.empty() ? above : below;
    if (all.empty()) return {};
    if (all.size() == 1) return {{all[0], 1.0}};
    a = all[0];
    b = all[1];
  }
  const double share =
      (table.stations[i].x - table.stations[a].x) / (table.stations[b].x - table.stations[a].x);
  return {{a, 1.0 - share}, {b, share}};
}

bool at_end(const SurveyTable& table, std::size_t i) {
  return i == 0 || i + 1 == table.stations.size();
}

bool matched(const Readings& a, const Readings& b) {
  constexpr double apart = 0.1;
  const auto& p = a.side[0];
  const auto& q = b.side[0];
  if (p.size() != q.size()) return false;
  for (std::size_t j = 0; j < p.size(); ++j) {
    if (std::abs(p[j].z - q[j].z) > apart * std::max(p[j].z, q[j].z)) return false;
  }
  return true;
}

namespace {

/// The steeper of the two pieces of wall that meet at point j, mm per mm of height.
double slope_at(const std::vector<WallPoint>& wall, std::size_t j) {
  double slope = 0.0;
  for (const std::size_t upper : {j, j + 1}) {
    if (upper == 0 || upper >= wall.size()) continue;
    const WallPoint& p = wall[upper - 1];
    const WallPoint& q = wall[upper];
    slope = std::max(slope, std::abs((q.half_width - p.half_width) / (q.z - p.z)));
  }
  return slope;
}

/// The wall at a height that need not be one of its points.
Prediction wall_at(const std::vector<WallPoint>& wall, double z) {
  if (z <= wall.front().z) return {wall.front().half_width, wall.front().uncertainty, 0.0};
  for (std::size_t j = 1; j < wall.size(); ++j) {
    if (z > wall[j].z) continue;
    const WallPoint& p = wall[j - 1];
    const WallPoint& q = wall[j];
    const double t = (z - p.z) / (q.z - p.z);
    return {std::lerp(p.half_width, q.half_width, t), std::max(p.uncertainty, q.uncertainty),
            std::abs((q.half_width - p.half_width) / (q.z - p.z))};
  }
  return {wall.back().half_width, wall.back().uncertainty, slope_at(wall, wall.size() - 1)};
}

}  // namespace

Prediction predicted(const SurveyTable& table, const std::vector<Neighbour>& from, std::size_t i,
                     int side, std::size_t index) {
  const Readings& station = table.stations[i];
  Prediction sum;
  for (const Neighbour& neighbour : from) {
    const Readings& other = table.stations[neighbour.station];
    const auto& wall = other.side[side];
    const Prediction one =
        matched(station, other)
            ? Prediction{wall[index].half_width, wall[index].uncertainty, slope_at(wall, index)}
            : wall_at(wall, station.side[side][index].z);
    sum.value += neighbour.weight * one.value;
    sum.uncertainty += std::abs(neighbour.weight) * one.uncertainty;
    sum.slope = std::max(sum.slope, one.slope);
  }
  return sum;
}

std::vector<double> side_differences(const Readings& station) {
  std::vector<double> differences;
  if (station.same_sides || station.side[0].size() != station.side[1].size()) return differences;
  for (std::size_t j = 0; j < station.side[0].size(); ++j)
    differences.push_back(station.side[0][j].half_width - station.side[1][j].half_width);
  return differences;
}

}  // namespace ribbay::detail
