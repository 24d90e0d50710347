#include "app/size_search.hpp"

#include <algorithm>
#include <map>

namespace ribbay {

namespace {

constexpr Tick kFiner = 10;  ///< values between two of the scan before

class Search {
 public:
  Search(const SizeRange& range, const Judge& judge, const ForEach& for_each)
      : range_(range), judge_(judge), for_each_(for_each) {}

  SizeFound run() {
    std::vector<Tick> values = scan(range_.from, range_.to, range_.step);
    found_.stretches = stretches(values);
    if (range_.largest) std::ranges::reverse(values);
    Tick step = range_.step;
    while (true) {
      const auto first = std::ranges::find_if(values, [&](Tick v) { return passes(v); });
      if (first == values.end()) break;
      found_.value = *first;
      if (first == values.begin()) break;  // the end of the range
      const Tick failing = *(first - 1);
      found_.beyond = failing;
      if (std::abs(*first - failing) <= 1) break;
      step = std::max<Tick>(1, step / kFiner);
      values = scan(std::min(failing, *first), std::max(failing, *first), step);
      if (range_.largest) std::ranges::reverse(values);
    }
    if (found_.beyond) found_.failing = known_.at(*found_.beyond);
    if (!found_.value) found_.failing = known_.at(values.front());
    return std::move(found_);
  }

 private:
  /// All values from..to by `step`, both ends included, judged.
  std::vector<Tick> scan(Tick from, Tick to, Tick step) {
    found_.scans.push_back({from, to, step});
    std::vector<Tick> values;
    for (Tick v = from; v < to; v += step) values.push_back(v);
    values.push_back(to);
    std::vector<Tick> fresh;
    std::ranges::copy_if(values, std::back_inserter(fresh),
                         [&](Tick v) { return !known_.contains(v); });
    std::vector<Findings> answers(fresh.size());
    for_each_(fresh.size(), [&](std::size_t i) { answers[i] = judge_(fresh[i]); });
    for (std::size_t i = 0; i < fresh.size(); ++i) known_.emplace(fresh[i], std::move(answers[i]));
    return values;
  }

  bool passes(Tick value) const { return known_.at(value).empty(); }

  std::vector<Stretch> stretches(const std::vector<Tick>& values) const {
    std::vector<Stretch> all;
    for (const Tick value : values) {
      if (!all.empty() && all.back().passes == passes(value)) {
        all.back().to = value;
      } else {
        all.push_back({value, value, passes(value)});
      }
    }
    return all;
  }

  const SizeRange& range_;
  const Judge& judge_;
  const ForEach& for_each_;
  std::map<Tick, Findings> known_;
  SizeFound found_;
};

}  // namespace

SizeFound find_size(const SizeRange& range, const Judge& judge, const ForEach& for_each) {
  return Search(range, judge, for_each).run();
}

}  // namespace ribbay
