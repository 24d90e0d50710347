#include "survey_mend.hpp"
#include "survey_table.hpp"
#include "vehicle/survey.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay {

using namespace detail;

namespace {

/// By how much a sound van's sheet leaves a straight line between stations, or the mirror image of
/// its other side. Common practice, no source.
constexpr double kSheet = 3.0;
/// Share of the half width by which a van may narrow between its last two stations, and swell
/// between others where too few stations are there to tell. Common practice, no source.
constexpr double kTaper = 0.05;
/// The same where the other stations show how the van is curved.
constexpr double kSwell = 0.01;
/// Fewer readings than this in a station say nothing about each other.
constexpr std::size_t kLeastPoints = 4;
/// More doubts than this mean that the survey as a whole is at fault.
constexpr int kMostDoubts = 40;

constexpr const char* kSides[] = {"left", "right"};

Finding doubt(std::string code, Severity severity, std::string subject, const Node* written) {
  Finding finding;
  finding.code = std::move(code);
  finding.severity = severity;
  finding.subjects.push_back(std::move(subject));
  if (written != nullptr) finding.place = written->place;
  return finding;
}

void say(Finding& finding, const std::optional<Mend>& mend) {
  if (!mend) return;
  finding.with(mend->name, mend->words).with("mended", mend->mm, Unit::mm);
}

/// One half width that its surroundings do not explain.
struct Stray {
  std::size_t station = 0;
  int side = 0;
  std::size_t index = 0;
  double off = 0.0;     ///< beyond what is allowed, with its sign
  double weight = 0.0;  ///< how many times what is allowed; the largest is looked at first
  Range fits;           ///< where it would raise no doubt
};

class SurveyCheck {
 public:
  SurveyCheck(const Vehicle& vehicle, const Document& document)
      : vehicle_(vehicle), document_(document), table_(survey_table(vehicle, document)) {}

  Findings run() {
    check_full();
    check_crossed();
    check_centre_lines();
    check_stations();
    check_heights();
    check_half_widths();
    check_sides();
    check_diagonals();
    sort_findings(findings_);
    return std::move(findings_);
  }

 private:
  using Table = SurveyTable;

  const Node* written(std::size_t station, const std::string& field,
                      std::optional<std::size_t> index = std::nullopt) const {
    return written_value(document_, "station", table_.stations[station].name, field, index);
  }
  /// The half width as written: on its own side, for both, or by the width from wall to wall.
  const Node* written_width(std::size_t station, int side, std::size_t index) const {
    for (const char* field : {kSides[side], "both", "full"}) {
      if (const Node* node = written(station, field, index)) return node;
    }
    return nullptr;
  }
  static std::string subject(const Readings& station) { return "station." + station.name; }

  // -- left and right against the whole -----------------------------------------------------------

  void check_full() {
    for (std::size_t i = 0; i < table_.stations.size(); ++i) {
      const Readings& s = table_.stations[i];
      const bool measured_apart = written(i, "both") != nullptr ||
                                  (written(i, "left") != nullptr && written(i, "right") != nullptr);
      if (!measured_apart) continue;  // one of them was made from the other
      for (std::size_t j = 0; j < std::min(s.full.size(), s.side[0].size()); ++j) check_full(i, j);
    }
  }

  void check_full(std::size_t i, std::size_t j) {
    const Readings& s = table_.stations[i];
    const WallPoint& left = s.side[0][j];
    const WallPoint& right = s.side[1][j];
    const double sum = left.half_width + right.half_width;
    const double allowed =
        left.uncertainty + right.uncertainty + std::max(left.uncertainty, right.uncertainty);
    if (std::abs(sum - s.full[j]) <= allowed) return;
    Finding finding = doubt("survey.full", Severity::error, subject(s), written(i, "full", j));
    finding.with("height", left.z, Unit::mm)
        .with("left", left.half_width, Unit::mm)
        .with("right", right.half_width, Unit::mm)
        .with("measured", sum, Unit::mm)
        .with("required", s.full[j], Unit::mm)
        .with("allowed", allowed, Unit::mm);
    // The one of the three that can be set right is named.
    const auto wrong_side = [&](int side) -> std::optional<Mend> {
      const double other = s.side[1 - side][j].half_width;
      return mend_of(written_width(i, side, j), s.side[side][j].half_width,
                     [&](double mm) { return std::abs(mm + other - s.full[j]) <= allowed; });
    };
    const auto wrong_full = mend_of(written(i, "full", j), s.full[j],
                                    [&](double mm) { return std::abs(sum - mm) <= allowed; });
    int found = 0;
    std::optional<Mend> mend;
    std::string which;
    for (const int side : {0, 1}) {
      if (const auto one = wrong_side(side); one && likely(i, side, j, one->mm)) {
        mend = one;
        which = kSides[side];
        ++found;
      }
    }
    if (wrong_full) {
      mend = wrong_full;
      which = "full";
      ++found;
    }
    if (found == 1) {
      say(finding.with("which", which), mend);
    }
    findings_.push_back(std::move(finding));
  }

  /// True when `mm` fits the stations beside it better than what is written.
  bool likely(std::size_t i, int side, std::size_t j, double mm) const {
    const double expected = predicted(table_, neighbours(table_, i), i, side, j).value;
    return std::abs(mm - expected) <
           std::abs(table_.stations[i].side[side][j].half_width - expected);
  }

  // -- left and right changed over ----------------------------------------------------------------

  /// Left minus right as the stations beside station i have it; empty when they cannot be compared.
  std::vector<double> expected_differences(std::size_t i) const {
    const Readings& s = table_.stations[i];
    std::vector<double> sum(s.side[0].size(), 0.0);
    for (const Neighbour& n : beside(i)) {
      const Readings& other = table_.stations[n.station];
      const std::vector<double> d = side_differences(other);
      if (d.empty()) return {};
      const bool one_by_one = matched(s, other);
      const double middle = median(d);
      for (std::size_t j = 0; j < sum.size(); ++j)
        sum[j] += n.weight * (one_by_one ? d[j] : middle);
    }
    return sum;
  }

  /// As neighbours(), but an end station has the nearest one only: nothing is drawn out.
  std::vector<Neighbour> beside(std::size_t i) const {
    const auto all = neighbours(table_, i);
    if (!at_end(table_, i) || all.size() < 2) return all;
    return {{all[0].station, 1.0}};
  }

  double worst_uncertainty(std::size_t i) const {
    double worst = 0.0;
    for (const auto& side : table_.stations[i].side) {
      for (const WallPoint& p : side) worst = std::max(worst, p.uncertainty);
    }
    return worst;
  }

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
    const auto expected = expected_differences(*worst);
    findings_.push_back(
        doubt("survey.crossed", Severity::warning, subject(s), written(*worst, "left"))
            .with("measured", median(side_differences(s)), Unit::mm)
            .with("required", median(expected), Unit::mm));
    std::swap(s.side[0], s.side[1]);
    check_crossed();
  }

  /// By how much changing left and right over would bring station i nearer to its neighbours, on
  /// average over its heights; 0 when it is well enough as it is.
  double gain_of_crossing(std::size_t i) const {
    const auto d = side_differences(table_.stations[i]);
    const auto expected = expected_differences(i);
    if (d.size() < kLeastPoints || expected.size() != d.size()) return 0.0;
    double as_written = 0.0;
    double crossed = 0.0;
    for (std::size_t j = 0; j < d.size(); ++j) {
      as_written += std::abs(d[j] - expected[j]);
      crossed += std::abs(-d[j] - expected[j]);
    }
    const auto count = static_cast<double>(d.size());
    const bool doubtful = as_written / count > 2.0 * worst_uncertainty(i) + kSheet;
    return doubtful && crossed < as_written / 2.0 ? (as_written - crossed) / count : 0.0;
  }

  // -- a whole station ----------------------------------------------------------------------------

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
        double allowed = 2.0 * worst_uncertainty(i) + kSheet;
        for (const Neighbour& n : beside(i))
          allowed += 2.0 * std::abs(n.weight) * worst_uncertainty(n.station);
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
      findings_.push_back(
          doubt("survey.centre_line", Severity::warning, subject(s), written(*worst, "left"))
              .with("measured", measured, Unit::mm)
              .with("required", worst_expected, Unit::mm)
              .with("shift", std::abs(shift), Unit::mm)
              .with("side", shift > 0.0 ? "right" : "left"));
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
      double allowed = worst_uncertainty(i) + kSheet;
      for (const Neighbour& n : from) allowed += std::abs(n.weight) * worst_uncertainty(n.station);
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

  // -- heights ------------------------------------------------------------------------------------

  void check_heights() {
    for (int round = 0; round < kMostDoubts; ++round) {
      std::optional<Stray> worst;
      for (std::size_t i = 0; i < table_.stations.size(); ++i) {
        if (written(i, "heights") == nullptr) continue;
        const auto from = neighbours(table_, i);
        if (from.empty() || !comparable(i, from)) continue;
        for (std::size_t j = 1; j < table_.stations[i].side[0].size(); ++j) {
          const auto stray = stray_height(i, from, j);
          if (stray && (!worst || stray->weight > worst->weight)) worst = stray;
        }
      }
      if (!worst) return;
      WallPoint& point = table_.stations[worst->station].side[0][worst->index];
      const Node* node = written(worst->station, "heights", worst->index);
      Finding finding =
          doubt("survey.height", Severity::warning, subject(table_.stations[worst->station]), node);
      finding.with("number", static_cast<double>(worst->index + 1), Unit::count)
          .with("measured", point.z, Unit::mm)
          .with("required", worst->fits.middle(), Unit::mm)
          .with("allowed", (worst->fits.hi - worst->fits.lo) / 2.0, Unit::mm);
      say(finding,
          mend_of(node, point.z, [&](double mm) { return worst->fits.beyond(mm) == 0.0; }));
      findings_.push_back(std::move(finding));
      point.z = worst->fits.middle();
      table_.stations[worst->station].side[1][worst->index].z = point.z;
    }
  }

  /// True when the stations have as many heights and the same ones on both sides.
  bool comparable(std::size_t i, const std::vector<Neighbour>& from) const {
    const std::size_t count = table_.stations[i].side[0].size();
    if (count < kLeastPoints || table_.stations[i].side[1].size() != count) return false;
    return std::ranges::all_of(from, [&](const Neighbour& n) {
      return table_.stations[n.station].side[0].size() == count;
    });
  }

  double predicted_height(const std::vector<Neighbour>& from, std::size_t j) const {
    double z = 0.0;
    for (const Neighbour& n : from) z += n.weight * table_.stations[n.station].side[0][j].z;
    return z;
  }

  std::optional<Stray> stray_height(std::size_t i, const std::vector<Neighbour>& from,
                                    std::size_t j) const {
    const auto& wall = table_.stations[i].side[0];
    std::vector<double> others{0.0};
    for (std::size_t k = 0; k < wall.size(); ++k) {
      if (k != j) others.push_back(wall[k].z - predicted_height(from, k));
    }
    double allowed = wall[j].uncertainty + kSheet;
    for (const Neighbour& n : from)
      allowed += std::abs(n.weight) * table_.stations[n.station].side[0][j].uncertainty;
    // Heights grow apart towards a roof that falls: the whole range counts, and a little more.
    const auto [lo, hi] = std::ranges::minmax(others);
    const double expected = predicted_height(from, j);
    const Range fits = Range{expected + lo, expected + hi}.grown(allowed + kTaper / 2.0 * expected);
    const double off = fits.beyond(wall[j].z);
    if (off == 0.0) return std::nullopt;
    return Stray{i, 0, j, off, std::abs(off) / allowed * (at_end(table_, i) ? 0.5 : 1.0), fits};
  }

  // -- single half widths -------------------------------------------------------------------------

  void check_half_widths() {
    for (int round = 0; round < kMostDoubts; ++round) {
      std::optional<Stray> worst;
      for (std::size_t i = 0; i < table_.stations.size(); ++i) {
        for (const int side : {0, 1}) {
          if (side == 1 && table_.stations[i].same_sides) continue;
          for (std::size_t j = 0; j < table_.stations[i].side[side].size(); ++j) {
            const auto stray = stray_width(i, side, j);
            if (stray && (!worst || stray->weight > worst->weight)) worst = stray;
          }
        }
      }
      if (!worst) return;
      report_width(*worst);
    }
  }

  /// Where a half width may lie by the stations beside it; nullopt when there is too little to
  /// tell.
  std::optional<std::pair<Range, double>> by_neighbours(std::size_t i, int side,
                                                        std::size_t j) const {
    const auto from = neighbours(table_, i);
    if (from.empty()) return std::nullopt;
    std::vector<double> others{0.0};
    for (const int s : {0, 1}) {
      const auto& wall = table_.stations[i].side[s];
      for (std::size_t k = 0; k < wall.size(); ++k) {
        const bool itself = k == j && (s == side || table_.stations[i].same_sides);
        if (!itself) others.push_back(wall[k].half_width - predicted(table_, from, i, s, k).value);
      }
    }
    if (others.size() <= kLeastPoints) return std::nullopt;
    const Prediction here = predicted(table_, from, i, side, j);
    const double own = table_.stations[i].side[side][j].uncertainty;
    const double allowed = own + here.uncertainty + here.slope * own + kSheet;
    Range range = trimmed(others);
    range = {std::min(range.lo, 0.0) + here.value, std::max(range.hi, 0.0) + here.value};
    return std::pair{range.grown(allowed), allowed};
  }

  /// The same by the other side: where left minus right fits the other heights of the station and
  /// those of the stations beside it.
  std::optional<std::pair<Range, double>> by_other_side(std::size_t i, int side,
                                                        std::size_t j) const {
    const Readings& s = table_.stations[i];
    std::vector<double> d = side_differences(s);
    if (d.size() < kLeastPoints) return std::nullopt;
    d.erase(d.begin() + static_cast<std::ptrdiff_t>(j));
    Range range = trimmed(d);
    if (const auto expected = expected_differences(i); !expected.empty())
      range = {std::min(range.lo, expected[j]), std::max(range.hi, expected[j])};
    const WallPoint& own = s.side[side][j];
    const WallPoint& other = s.side[1 - side][j];
    const double slope = predicted(table_, neighbours(table_, i), i, side, j).slope;
    const double allowed = (1.0 + slope) * (own.uncertainty + other.uncertainty) + kSheet;
    if (side == 1) range = {-range.hi, -range.lo};
    return std::pair{Range{other.half_width + range.lo, other.half_width + range.hi}.grown(allowed),
                     allowed};
  }

  std::optional<Stray> stray_width(std::size_t i, int side, std::size_t j) const {
    const auto near = by_neighbours(i, side, j);
    if (!near) return std::nullopt;
    const double value = table_.stations[i].side[side][j].half_width;
    const double off = near->first.beyond(value);
    if (off == 0.0) return std::nullopt;
    // Behind or in front of the others a line is drawn out, which enlarges their slips.
    double weight = std::abs(off) / near->second * (at_end(table_, i) ? 0.5 : 1.0);
    Range fits = near->first;
    if (const auto across = by_other_side(i, side, j)) {
      const double apart = across->first.beyond(value);
      if (apart != 0.0) {
        weight += std::abs(apart) / across->second;
        fits = common(fits, across->first);
      } else if (side_explains(i, side, j, off)) {
        return std::nullopt;
      }
    }
    return Stray{i, side, j, off, weight, fits};
  }

  /// True when the other side deviates alike, so that the van itself does: a dent in one place of
  /// both sides is no slip of the tape.
  bool side_explains(std::size_t i, int side, std::size_t j, double off) const {
    const auto other = by_neighbours(i, 1 - side, j);
    if (!other) return false;
    return other->first.beyond(table_.stations[i].side[1 - side][j].half_width) * off > 0.0;
  }

  static Range common(Range a, Range b) {
    const Range both{std::max(a.lo, b.lo), std::min(a.hi, b.hi)};
    return both.lo <= both.hi ? both : b;
  }

  void report_width(const Stray& stray) {
    WallPoint& point = table_.stations[stray.station].side[stray.side][stray.index];
    const Node* node = written_width(stray.station, stray.side, stray.index);
    Finding finding = doubt("survey.out_of_line", Severity::warning,
                            subject(table_.stations[stray.station]), node);
    finding.with("list", table_.stations[stray.station].same_sides ? "both" : kSides[stray.side])
        .with("height", point.z, Unit::mm)
        .with("measured", point.half_width, Unit::mm)
        .with("required", stray.fits.middle(), Unit::mm)
        .with("allowed", (stray.fits.hi - stray.fits.lo) / 2.0, Unit::mm);
    say(finding,
        mend_of(node, point.half_width, [&](double mm) { return stray.fits.beyond(mm) == 0.0; }));
    findings_.push_back(std::move(finding));
    point.half_width = stray.fits.middle();
    if (table_.stations[stray.station].same_sides)
      table_.stations[stray.station].side[1][stray.index].half_width = point.half_width;
  }

  /// What is left when neither side alone is out of line.
  void check_sides() {
    for (std::size_t i = 0; i < table_.stations.size(); ++i) {
      for (std::size_t j = 0; j < side_differences(table_.stations[i]).size(); ++j) {
        const auto across = by_other_side(i, 0, j);
        if (!across) continue;
        const WallPoint& left = table_.stations[i].side[0][j];
        const WallPoint& right = table_.stations[i].side[1][j];
        if (across->first.beyond(left.half_width) == 0.0) continue;
        findings_.push_back(
            doubt("survey.sides", Severity::warning, subject(table_.stations[i]),
                  written_width(i, 0, j))
                .with("height", left.z, Unit::mm)
                .with("left", left.half_width, Unit::mm)
                .with("right", right.half_width, Unit::mm)
                .with("required", across->first.middle() - right.half_width, Unit::mm)
                .with("allowed", across->second, Unit::mm));
      }
    }
  }

  // -- diagonals ----------------------------------------------------------------------------------

  void check_diagonals() {
    double reading = 0.0;
    for (std::size_t i = 0; i < table_.stations.size(); ++i)
      reading = std::max(reading, worst_uncertainty(i));
    for (const Diagonal& diagonal : vehicle_.diagonals) {
      const Vec3 d = diagonal.to.at - diagonal.from.at;
      const double size = length(d);
      const double across = diagonal.from.uncertainty + diagonal.to.uncertainty;
      const double allowed =
          reading + (size == 0.0 ? 0.0
                                 : (std::abs(d.y) * across + std::abs(d.x) * 2.0 * reading +
                                    std::abs(d.z) * 2.0 * reading) /
                                       size);
      if (std::abs(size - diagonal.length) <= allowed) continue;
      const Node* node = written_value(document_, "diagonal", diagonal.name, "length");
      Finding finding =
          doubt("survey.diagonal", Severity::error, "diagonal." + diagonal.name, node);
      finding.with("measured", diagonal.length, Unit::mm)
          .with("required", size, Unit::mm)
          .with("allowed", allowed, Unit::mm);
      say(finding, mend_of(node, diagonal.length,
                           [&](double mm) { return std::abs(size - mm) <= allowed; }));
      findings_.push_back(std::move(finding));
    }
  }

  const Vehicle& vehicle_;
  const Document& document_;
  Table table_;
  std::vector<std::size_t> set_right_;  ///< stations whose readings were replaced
  Findings findings_;
};

}  // namespace

Findings check_survey(const Vehicle& vehicle, const Document& document) {
  return SurveyCheck(vehicle, document).run();
}

}  // namespace ribbay
