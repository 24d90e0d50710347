#include "base/text.hpp"
#include "survey_work.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

/// One half width that its surroundings do not explain.
struct Stray {
  std::size_t station = 0;
  int side = 0;
  std::size_t index = 0;
  double off = 0.0;     ///< beyond what is allowed, with its sign
  double weight = 0.0;  ///< how many times what is allowed; the largest is looked at first
  Range fits;           ///< where it would raise no doubt
  bool apart = false;   ///< the other side of its station contradicts it too
};

/// Single readings against those around them.
class SingleReadings : SurveyCheck {
 public:
  using SurveyCheck::SurveyCheck;

  void run() {
    check_heights();
    check_half_widths();
    check_sides();
  }

 private:
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
      const std::vector<Stray> suspects = suspects_with(*worst);
      if (suspects.size() == 1) {
        report_width(suspects.front());
      } else {
        report_group(suspects);
      }
    }
  }

  /// The stray whose mend makes all readings at its height agree. Few stations predict each other
  /// in a ring, so that one slip makes each of them look wrong: several are left where the figures
  /// do not tell which of them it was.
  std::vector<Stray> suspects_with(const Stray& worst) const {
    if (table_.stations.size() > kFewStations) return {worst};
    std::vector<Stray> all;
    for (std::size_t k = 0; k < table_.stations.size(); ++k) {
      if (!matched(table_.stations[worst.station], table_.stations[k])) return {worst};
      const int side = table_.stations[k].same_sides ? 0 : worst.side;
      if (const auto stray = stray_width(k, side, worst.index)) all.push_back(*stray);
    }
    if (const auto one = only(all, [](const Stray& s) { return s.apart; })) return {*one};
    if (const auto odd = odd_one_out(worst.side, worst.index)) {
      if (const auto one = only(all, [&](const Stray& s) { return s.station == *odd; }))
        return {*one};
    }
    const auto mends = [&](const Stray& s) { return mend_for(s).has_value(); };
    if (const auto one = only(all, mends)) return {*one};
    return all;
  }

  template <class Test>
  static std::optional<Stray> only(const std::vector<Stray>& strays, const Test& test) {
    if (std::ranges::count_if(strays, test) != 1) return std::nullopt;
    return *std::ranges::find_if(strays, test);
  }

  /// By how much two stations differ at one height otherwise than at the others.
  double disagreement(std::size_t a, std::size_t b, int side, std::size_t index) const {
    std::vector<double> others;
    double here = 0.0;
    for (std::size_t k = 0; k < table_.stations[a].side[side].size(); ++k) {
      const double d =
          table_.stations[a].side[side][k].half_width - table_.stations[b].side[side][k].half_width;
      if (k == index) {
        here = d;
      } else {
        others.push_back(d);
      }
    }
    return others.empty() ? 0.0 : std::abs(here - median(others));
  }

  /// Of three stations the one without which the other two agree.
  std::optional<std::size_t> odd_one_out(int side, std::size_t index) const {
    if (table_.stations.size() != 3) return std::nullopt;
    for (std::size_t odd = 0; odd < 3; ++odd) {
      const std::size_t a = (odd + 1) % 3;
      const std::size_t b = (odd + 2) % 3;
      const double least =
          std::min(disagreement(odd, a, side, index), disagreement(odd, b, side, index));
      if (disagreement(a, b, side, index) < least / 2.0) return odd;
    }
    return std::nullopt;
  }

  std::optional<Mend> mend_for(const Stray& stray) const {
    return mend_of(written_width(stray.station, stray.side, stray.index),
                   table_.stations[stray.station].side[stray.side][stray.index].half_width,
                   [&](double mm) { return stray.fits.beyond(mm) == 0.0; });
  }

  /// What is allowed to few stations beyond that: they do not show how a van narrows towards its
  /// ends, which it need not do alike at all heights. The middle one of three sees half of it.
  double for_taper(std::size_t i, double half_width) const {
    const std::size_t count = table_.stations.size();
    if (count > kFewStations) return 0.0;
    const double share = count == 2 ? 1.0 : at_end(table_, i) ? 0.5 : 0.25;
    return share * kTaper * half_width;
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
    const double allowed = own + here.uncertainty + here.slope * own + kSheet +
                           for_taper(i, std::max(here.value, 0.0));
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
    bool apart_too = false;
    if (const auto across = by_other_side(i, side, j)) {
      const double apart = across->first.beyond(value);
      if (apart != 0.0) {
        apart_too = true;
        weight += std::abs(apart) / across->second;
        fits = common(fits, across->first);
      } else if (side_explains(i, side, j, off)) {
        return std::nullopt;
      }
    }
    // No slip here explains what asks for less than nothing.
    if (fits.hi <= 0.0) return std::nullopt;
    fits.lo = std::max(fits.lo, 0.0);
    return Stray{i, side, j, off, weight, fits, apart_too};
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
    say(finding, mend_for(stray));
    findings_.push_back(std::move(finding));
    set_right(stray);
  }

  /// One of several readings is wrong, and nothing tells which.
  void report_group(const std::vector<Stray>& suspects) {
    const Stray& first = suspects.front();
    std::vector<std::string> others;
    for (const Stray& s : suspects) {
      if (s.station != first.station) others.push_back(table_.stations[s.station].name);
    }
    const WallPoint& point = table_.stations[first.station].side[first.side][first.index];
    findings_.push_back(
        doubt("survey.one_of", Severity::warning, subject(table_.stations[first.station]),
              written_width(first.station, first.side, first.index))
            .with("list", table_.stations[first.station].same_sides ? "both" : kSides[first.side])
            .with("height", point.z, Unit::mm)
            .with("measured", point.half_width, Unit::mm)
            .with("others", join(others, ", ")));
    set_right(first);
  }

  void set_right(const Stray& stray) {
    Readings& s = table_.stations[stray.station];
    const double mended = stray.fits.middle();
    s.side[stray.side][stray.index].half_width = mended;
    if (s.same_sides) s.side[1][stray.index].half_width = mended;
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
};

}  // namespace

void check_single_readings(SurveyWork& work) {
  SingleReadings(work).run();
}

}  // namespace ribbay::detail
