#include "survey_work.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

/// The same where the other stations show how the van is curved.
constexpr double kSwell = 0.01;

/// What is wrong with all readings of a station at once.
class WholeStations : SurveyCheck {
 public:
  using SurveyCheck::SurveyCheck;

  void run() {
    check_crossed();
    check_centre_lines();
    check_stations();
  }

 private:
  void check_crossed() {
    if (table_.stations.size() < 3) return;
    std::optional<std::size_t> worst;
    double worst_gain = 0.0;
    for (std::size_t i = 0; i < table_.stations.size(); ++i) {
      const double gain = gain_of_crossing(i);
      if (gain > worst_gain) {
        worst_gain = gain;
        worst = i;
      }
    }
    if (!worst) return;
    Readings& s = table_.stations[*worst];
    std::vector<double> others;
    for (std::size_t k = 0; k < table_.stations.size(); ++k) {
      const auto d = side_differences(table_.stations[k]);
      if (k != *worst && !d.empty()) others.push_back(median(d));
    }
    Finding finding =
        doubt("survey.crossed", Severity::warning, subject(s), written(*worst, "left"));
    say_differences(finding, median(side_differences(s)), median(others));
    findings_.push_back(std::move(finding));
    std::swap(s.side[0], s.side[1]);
    check_crossed();
  }

  /// By how much changing left and right over would bring station i nearer to all others, on
  /// average over its heights and over them; 0 when it is well enough as it is. All have a say, so
  /// that the one that differs from most is found and not one beside it.
  double gain_of_crossing(std::size_t i) const {
    const Readings& s = table_.stations[i];
    const auto d = side_differences(s);
    if (d.size() < kLeastPoints) return 0.0;
    double as_written = 0.0;
    double crossed = 0.0;
    double count = 0.0;
    for (std::size_t k = 0; k < table_.stations.size(); ++k) {
      const auto other = side_differences(table_.stations[k]);
      if (k == i || other.empty()) continue;
      const bool one_by_one = matched(s, table_.stations[k]);
      const double middle = median(other);
      for (std::size_t j = 0; j < d.size(); ++j) {
        const double expected = one_by_one ? other[j] : middle;
        as_written += std::abs(d[j] - expected);
        crossed += std::abs(-d[j] - expected);
        count += 1.0;
      }
    }
    const bool doubtful = as_written > count * (2.0 * worst_uncertainty(s) + kSheet);
    return doubtful && crossed < as_written / 2.0 ? (as_written - crossed) / count : 0.0;
  }

  /// Left minus right here and elsewhere, each as so much more or less.
  static void say_differences(Finding& finding, double measured, double required) {
    const auto way = [](double difference) { return difference < 0.0 ? "less" : "more"; };
    finding.with("measured", std::abs(measured), Unit::mm)
        .with("way", way(measured))
        .with("required", std::abs(required), Unit::mm)
        .with("way_beside", way(required));
  }

  void check_centre_lines() {
    if (table_.stations.size() < 3) return;
    for (int round = 0; round < kMostDoubts; ++round) {
      std::optional<std::size_t> worst;
      double worst_off = 0.0;
      double worst_expected = 0.0;
      for (std::size_t i = 0; i < table_.stations.size(); ++i) {
        const auto d = side_differences(table_.stations[i]);
        const auto expected = expected_differences(i);
        if (d.size() < kLeastPoints || expected.empty()) continue;
        double allowed = 2.0 * worst_uncertainty(table_.stations[i]) + kSheet;
        for (const Neighbour& n : beside(i))
          allowed += 2.0 * std::abs(n.weight) * worst_uncertainty(table_.stations[n.station]);
        const double off = median(d) - median(expected);
        // An end station follows one neighbour blindly, so the others are looked at first.
        const double weight = std::abs(off) / allowed * (at_end(table_, i) ? 0.9 : 1.0);
        if (weight > 1.0 && weight > worst_off) {
          worst_off = weight;
          worst_expected = median(expected);
          worst = i;
        }
      }
      if (!worst) return;
      Readings& s = table_.stations[*worst];
      const double measured = median(side_differences(s));
      const double shift = (measured - worst_expected) / 2.0;
      Finding finding =
          doubt("survey.centre_line", Severity::warning, subject(s), written(*worst, "left"));
      say_differences(finding, measured, worst_expected);
      finding.with("shift", std::abs(shift), Unit::mm).with("side", shift > 0.0 ? "right" : "left");
      findings_.push_back(std::move(finding));
      for (WallPoint& p : s.side[0]) p.half_width -= shift;
      for (WallPoint& p : s.side[1]) p.half_width += shift;
    }
  }

  /// What the half widths of station i differ by from those predicted, both sides in one list.
  std::vector<double> residuals(std::size_t i, const std::vector<Neighbour>& from) const {
    std::vector<double> all;
    for (const int side : {0, 1}) {
      const auto& wall = table_.stations[i].side[side];
      for (std::size_t j = 0; j < wall.size(); ++j)
        all.push_back(wall[j].half_width - predicted(table_, from, i, side, j).value);
    }
    return all;
  }

  /// (x - a)(b - x): how the height of an arc over a chord grows. Positive between a and b.
  double arc(std::size_t i, const std::vector<Neighbour>& from) const {
    const double x = table_.stations[i].x;
    return (x - table_.stations[from[0].station].x) * (table_.stations[from[1].station].x - x);
  }

  /// Half of the strongest curvature that the stations without `i` show, 1/mm; nullopt when they
  /// are too few to show any.
  std::optional<double> curvature_without(std::size_t i) const {
    std::optional<double> strongest;
    for (std::size_t k = 0; k < table_.stations.size(); ++k) {
      if (k == i) continue;
      const auto from = neighbours(table_, k, i);
      if (from.size() < 2) continue;
      const double reach = arc(k, from);
      if (reach <= 0.0) continue;  // an end
      strongest = std::max(strongest.value_or(0.0), std::abs(median(residuals(k, from))) / reach);
    }
    return strongest;
  }

  void check_stations() {
    if (table_.stations.size() < 3) return;
    std::optional<std::size_t> worst;
    double worst_weight = 1.0;
    double worst_allowed = 0.0;
    for (std::size_t i = 0; i < table_.stations.size(); ++i) {
      const auto from = neighbours(table_, i);
      if (std::ranges::find(set_right_, i) != set_right_.end()) continue;
      double width = 0.0;
      for (const WallPoint& p : table_.stations[from[0].station].side[0])
        width = std::max(width, p.half_width);
      double allowed = worst_uncertainty(table_.stations[i]) + kSheet;
      for (const Neighbour& n : from)
        allowed += std::abs(n.weight) * worst_uncertainty(table_.stations[n.station]);
      const auto curvature = curvature_without(i);
      allowed += 2.0 * curvature.value_or(0.0) * std::abs(arc(i, from));
      allowed += width * (at_end(table_, i) || !curvature ? kTaper : kSwell);
      const double weight = std::abs(median(residuals(i, from))) / allowed;
      if (weight > worst_weight) {
        worst_weight = weight;
        worst_allowed = allowed;
        worst = i;
      }
    }
    if (!worst) return;
    report_station(*worst, worst_allowed);
    check_stations();
  }

  void report_station(std::size_t i, double allowed) {
    Readings& s = table_.stations[i];
    const auto from = neighbours(table_, i);
    std::vector<double> measured;
    std::vector<double> expected;
    for (const int side : {0, 1}) {
      for (std::size_t j = 0; j < s.side[side].size(); ++j) {
        measured.push_back(s.side[side][j].half_width);
        expected.push_back(predicted(table_, from, i, side, j).value);
      }
    }
    Finding finding = doubt("survey.station", Severity::warning, subject(s), written(i, "x"));
    finding.with("measured", median(measured), Unit::mm)
        .with("required", median(expected), Unit::mm)
        .with("allowed", allowed, Unit::mm);
    const double middle = median(expected);
    say(finding, mend_of(nullptr, median(measured),
                         [&](double mm) { return std::abs(mm - middle) < allowed; }));
    findings_.push_back(std::move(finding));
    // Its readings say nothing more until it has been measured again.
    for (const int side : {0, 1}) {
      for (std::size_t j = 0; j < s.side[side].size(); ++j)
        s.side[side][j].half_width = predicted(table_, from, i, side, j).value;
    }
    set_right_.push_back(i);
  }

  std::vector<std::size_t> set_right_;  ///< stations whose readings were replaced
};

}  // namespace

void check_whole_stations(SurveyWork& work) {
  WholeStations(work).run();
}

}  // namespace ribbay::detail
