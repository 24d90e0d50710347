#pragma once

#include "spec/document.hpp"
#include "vehicle/vehicle.hpp"

#include <string>
#include <vector>

/// A survey as a table of readings that can be predicted from each other.
namespace ribbay::detail {

struct Range {
  double lo = 0.0;
  double hi = 0.0;
  double middle() const { return (lo + hi) / 2.0; }
  Range grown(double by) const { return {lo - by, hi + by}; }
  /// How far `value` lies outside, with its sign; 0 inside.
  double beyond(double value) const;
};

/// From the smallest to the largest value without the outermost sixth at either end. Precondition:
/// not empty.
Range trimmed(std::vector<double> values);
double median(std::vector<double> values);

/// What the neighbours say about a reading.
struct Prediction {
  double value = 0.0;
  double uncertainty = 0.0;  ///< of the readings it is made from
  double slope = 0.0;        ///< of the wall there, mm per mm of height
};

/// A station near which another is looked at, and its share.
struct Neighbour {
  std::size_t station = 0;
  double weight = 1.0;
};

/// The readings of one station; a working copy.
struct Readings {
  std::string name;
  double x = 0.0;
  std::vector<WallPoint> side[2];  ///< left, right
  std::vector<double> full;        ///< may be empty
  bool same_sides = false;         ///< written as `both`
};

struct SurveyTable {
  std::vector<Readings> stations;
};
SurveyTable survey_table(const Vehicle& vehicle, const Document& document);

/// The stations that predict station i: the two beside it, or the two nearest at an end, or the
/// only other one. `without` is passed over.
std::vector<Neighbour> neighbours(const SurveyTable& table, std::size_t i,
                                  std::size_t without = static_cast<std::size_t>(-1));
/// True when station i lies beyond its neighbours.
bool at_end(const SurveyTable& table, std::size_t i);

/// Half width of one side at the height of point `index` of station i, from `from`.
Prediction predicted(const SurveyTable& table, const std::vector<Neighbour>& from, std::size_t i,
                     int side, std::size_t index);

/// True when the heights of two stations go with each other one by one: as many, each within a
/// tenth. Then points are compared by their number, so that a roof that falls is followed.
bool matched(const Readings& a, const Readings& b);

/// Left minus right at each height; empty when the sides have different heights or were not
/// measured apart.
std::vector<double> side_differences(const Readings& station);

}  // namespace ribbay::detail
