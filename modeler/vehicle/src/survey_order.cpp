#include "base/text.hpp"
#include "survey_work.hpp"

#include <algorithm>
#include <limits>

namespace ribbay::detail {

namespace {

/// The stations as they are written, against their x: people write them as they walk.
class StationOrder : SurveyCheck {
 public:
  using SurveyCheck::SurveyCheck;

  void run() {
    list_as_written();
    if (order_.size() < 3 || goes(true, kNone) || goes(false, kNone)) return;
    for (const bool rising : {true, false}) {
      const std::vector<std::size_t> suspects = suspects_going(rising);
      if (suspects.empty()) continue;
      report(suspects, rising);
      return;
    }
    // More than one is elsewhere: these stations were never written in order.
  }

 private:
  static constexpr std::size_t kNone = std::numeric_limits<std::size_t>::max();

  void list_as_written() {
    const Node* tables = document_.root.find("station");
    if (tables == nullptr || tables->table() == nullptr) return;
    for (const Entry& entry : *tables->table()) {
      const auto found = std::ranges::find(table_.stations, entry.key, &Readings::name);
      if (found != table_.stations.end())
        order_.push_back(static_cast<std::size_t>(found - table_.stations.begin()));
    }
  }

  double x(std::size_t place) const { return table_.stations[order_[place]].x; }

  /// True when x only rises (or falls) from one written station to the next, `without` one.
  bool goes(bool rising, std::size_t without) const {
    std::optional<double> last;
    for (std::size_t p = 0; p < order_.size(); ++p) {
      if (p == without) continue;
      if (last && (x(p) > *last) != rising) return false;
      last = x(p);
    }
    return true;
  }

  std::vector<std::size_t> suspects_going(bool rising) const {
    std::vector<std::size_t> suspects;
    for (std::size_t p = 0; p < order_.size(); ++p) {
      if (goes(rising, p)) suspects.push_back(p);
    }
    return suspects;
  }

  /// Where x would have to be; beyond the last station at most as far again as the others reach.
  Range room_at(std::size_t place, bool rising) const {
    Range others{std::numeric_limits<double>::max(), std::numeric_limits<double>::lowest()};
    for (std::size_t p = 0; p < order_.size(); ++p) {
      if (p == place) continue;
      others = {std::min(others.lo, x(p)), std::max(others.hi, x(p))};
    }
    const double before = place > 0 ? x(place - 1)
                          : rising  ? others.lo * 2.0 - others.hi
                                    : others.hi * 2.0 - others.lo;
    const double behind = place + 1 < order_.size() ? x(place + 1)
                          : rising                  ? others.hi * 2.0 - others.lo
                                                    : others.lo * 2.0 - others.hi;
    return {std::min(before, behind), std::max(before, behind)};
  }

  std::optional<Mend> mend_for(std::size_t place, bool rising) const {
    const Range room = room_at(place, rising);
    return mend_of(written(order_[place], "x"), x(place),
                   [&](double mm) { return mm > room.lo && mm < room.hi; });
  }

  void report(std::vector<std::size_t> suspects, bool rising) {
    const auto mends = [&](std::size_t p) { return mend_for(p, rising).has_value(); };
    if (std::ranges::count_if(suspects, mends) == 1)
      suspects = {*std::ranges::find_if(suspects, mends)};
    std::vector<std::string> names;
    for (const std::size_t p : suspects) names.push_back(subject(table_.stations[order_[p]]));
    std::vector<std::string> all;
    for (const std::size_t i : order_) all.push_back(table_.stations[i].name);
    Finding finding = doubt("survey.order", Severity::warning, join(names, " or "),
                            written(order_[suspects.front()], "x"));
    finding.with("order", join(all, ", "));
    if (suspects.size() == 1) say(finding, mend_for(suspects.front(), rising));
    findings_.push_back(std::move(finding));
  }

  std::vector<std::size_t> order_;  ///< numbers in the table, as written
};

}  // namespace

void check_station_order(SurveyWork& work) {
  StationOrder(work).run();
}

}  // namespace ribbay::detail
