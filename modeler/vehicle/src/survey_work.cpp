#include "survey_work.hpp"

#include <algorithm>

namespace ribbay::detail {

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

double worst_uncertainty(const Readings& station) {
  double worst = 0.0;
  for (const auto& side : station.side) {
    for (const WallPoint& p : side) worst = std::max(worst, p.uncertainty);
  }
  return worst;
}

double one_reading(const SurveyTable& table) {
  double worst = 0.0;
  for (const Readings& station : table.stations)
    worst = std::max(worst, worst_uncertainty(station));
  return worst;
}

const Node* SurveyCheck::written(std::size_t station, const std::string& field,
                                 std::optional<std::size_t> index) const {
  return written_value(document_, "station", table_.stations[station].name, field, index);
}

const Node* SurveyCheck::written_width(std::size_t station, int side, std::size_t index) const {
  for (const char* field : {kSides[side], "both", "full"}) {
    if (const Node* node = written(station, field, index)) return node;
  }
  return nullptr;
}

std::vector<double> SurveyCheck::expected_differences(std::size_t i) const {
  const Readings& s = table_.stations[i];
  std::vector<double> sum(s.side[0].size(), 0.0);
  for (const Neighbour& n : beside(i)) {
    const Readings& other = table_.stations[n.station];
    const std::vector<double> d = side_differences(other);
    if (d.empty()) return {};
    const bool one_by_one = matched(s, other);
    const double middle = median(d);
    for (std::size_t j = 0; j < sum.size(); ++j) sum[j] += n.weight * (one_by_one ? d[j] : middle);
  }
  return sum;
}

std::vector<Neighbour> SurveyCheck::beside(std::size_t i) const {
  const auto all = neighbours(table_, i);
  if (!at_end(table_, i) || all.size() < 2) return all;
  return {{all[0].station, 1.0}};
}

}  // namespace ribbay::detail
