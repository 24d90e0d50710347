#include "survey_work.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

/// Left and right against the width from wall to wall.
class FullWidths : SurveyCheck {
 public:
  using SurveyCheck::SurveyCheck;

  void run() {
    for (std::size_t i = 0; i < table_.stations.size(); ++i) {
      const Readings& s = table_.stations[i];
      const bool measured_apart = written(i, "both") != nullptr ||
                                  (written(i, "left") != nullptr && written(i, "right") != nullptr);
      if (!measured_apart) continue;  // one of them was made from the other
      for (std::size_t j = 0; j < std::min(s.full.size(), s.side[0].size()); ++j) check(i, j);
    }
  }

 private:
  void check(std::size_t i, std::size_t j) {
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
};

}  // namespace

void check_full_widths(SurveyWork& work) {
  FullWidths(work).run();
}

}  // namespace ribbay::detail
