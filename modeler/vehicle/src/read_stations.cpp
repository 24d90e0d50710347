#include "base/text.hpp"
#include "base/tolerance.hpp"
#include "loft.hpp"
#include "reading.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

/// Stations closer than this are one cross-section measured twice.
constexpr double kLeastSpan = 1.0;

const char* word(VanSide side) {
  return side == VanSide::left ? "left" : "right";
}

Surveyed surveyed_word(const std::string& text) {
  return text == "skin"       ? Surveyed::skin
         : text == "rib_face" ? Surveyed::rib_face
                              : Surveyed::lining;
}

/// Reads one [station.NAME].
class StationReader {
 public:
  StationReader(Reading& reading, const Named& named)
      : reading_(reading), name_(named.name), record_(named.record) {}

  std::optional<Station> read() {
    if (!read_heights() || !widths_fit_together()) return std::nullopt;
    const auto uncertainty = uncertainties();
    const auto full = record_.has("full") ? list("full") : std::vector<double>{};
    const auto left = side(VanSide::left);
    const auto right = side(VanSide::right);
    if (!uncertainty || !full || !left || !right) return std::nullopt;

    Station station;
    station.name = name_;
    station.x = record_.number("x");
    station.full = *full;
    station.note = record_.text_or("note", "");
    station.surveyed = surveyed_word(record_.text_or("surveyed", reading_.head().text("surveyed")));
    const auto make = [&](VanSide which, const std::vector<double>& given) {
      return wall(which, given, *full, *uncertainty);
    };
    const auto left_wall = make(VanSide::left, *left);
    const auto right_wall = make(VanSide::right, *right);
    if (!left_wall || !right_wall) return std::nullopt;
    station.left = *left_wall;
    station.right = *right_wall;
    for (const auto* points : {&station.left, &station.right}) {
      for (const WallPoint& p : *points) {
        station.uncertainty = std::max(station.uncertainty, p.uncertainty);
      }
    }
    return station;
  }

 private:
  bool read_heights() {
    const Record& from = record_.has("heights") ? record_ : reading_.head();
    if (!from.has("heights")) {
      reading_.report("vehicle.no_heights", reading_.head().place(), name_);
      return false;
    }
    heights_ = from.numbers("heights");
    const std::string of = record_.has("heights") ? "station " + name_ : "[vehicle]";
    return heights_good(reading_, of, heights_, from.place("heights"));
  }

  /// Two of left, right and full give the third; both stands for left and right.
  bool widths_fit_together() {
    const bool both = record_.has("both");
    const int sides = (record_.has("left") ? 1 : 0) + (record_.has("right") ? 1 : 0);
    if (both && sides > 0) {
      const std::string side = record_.has("left") ? "left" : "right";
      reading_.report("vehicle.both_and_side", record_.place(side), name_).with("side", side);
      return false;
    }
    if (both || sides == 2 || (sides == 1 && record_.has("full"))) return true;
    reading_.report("vehicle.which_widths", record_.place(), name_);
    return false;
  }

  /// The values of a list that needs one for each height; nullopt after a report.
  std::optional<std::vector<double>> list(const std::string& field) {
    const std::vector<double>& values = record_.numbers(field);
    if (values.size() == heights_.size()) return values;
    reading_.report("vehicle.width_count", record_.place(field), name_)
        .with("list", field)
        .with("count", static_cast<double>(values.size()), Unit::count)
        .with("heights", static_cast<double>(heights_.size()), Unit::count);
    return std::nullopt;
  }

  /// The half widths as taped on one side, empty when they follow from the full width.
  std::optional<std::vector<double>> side(VanSide which) {
    // Both sides may be one list: it is reported for the left side alone.
    if (record_.has("both")) {
      if (which == VanSide::right) return record_.numbers("both");
      return list("both");
    }
    if (!record_.has(word(which))) return std::vector<double>{};
    return list(word(which));
  }

  std::optional<std::vector<double>> uncertainties() {
    const Record& from = record_.has("uncertainty") ? record_ : reading_.head();
    return one_or_each(reading_, name_, from, "uncertainty", heights_.size());
  }

  std::optional<std::vector<WallPoint>> wall(VanSide which, const std::vector<double>& given,
                                             const std::vector<double>& full,
                                             const std::vector<double>& uncertainty) {
    if (!given.empty()) return taped_wall(which, given, uncertainty);
    const VanSide other = which == VanSide::left ? VanSide::right : VanSide::left;
    const std::vector<double>& opposite = record_.numbers(word(other));
    std::vector<WallPoint> points;
    for (std::size_t i = 0; i < heights_.size(); ++i) {
      const double rest = full[i] - opposite[i];
      if (!is_width(rest, i)) {
        reading_.report("vehicle.full_too_small", record_.place("full"), name_)
            .with("height", heights_[i], Unit::mm)
            .with("full", full[i], Unit::mm)
            .with("side", word(other))
            .with("width", opposite[i], Unit::mm);
        return std::nullopt;
      }
      // Two readings make it, and both may be wrong.
      points.push_back({heights_[i], rest, 2.0 * uncertainty[i]});
    }
    return points;
  }

  std::optional<std::vector<WallPoint>> taped_wall(VanSide which, const std::vector<double>& widths,
                                                   const std::vector<double>& uncertainty) {
    std::vector<WallPoint> points;
    for (std::size_t i = 0; i < heights_.size(); ++i) {
      if (!is_width(widths[i], i)) {
        // Of one list for both sides only one fault is told.
        if (record_.has("both") && which == VanSide::right) return std::nullopt;
        reading_
            .report("vehicle.no_width", record_.place(record_.has("both") ? "both" : word(which)),
                    name_)
            .with("height", heights_[i], Unit::mm)
            .with("width", widths[i], Unit::mm);
        return std::nullopt;
      }
      points.push_back({heights_[i], widths[i], uncertainty[i]});
    }
    return points;
  }

  /// Only the ridge of the roof may lie on the centre line.
  bool is_width(double width, std::size_t i) const {
    return width >= kContact || (width >= 0.0 && i + 1 == heights_.size());
  }

  Reading& reading_;
  const std::string& name_;
  const Record& record_;
  std::vector<double> heights_;
};

}  // namespace

std::optional<std::vector<double>> one_or_each(Reading& reading, const std::string& name,
                                               const Record& record, const std::string& field,
                                               std::size_t heights) {
  const std::vector<double>& values = record.numbers(field);
  if (values.size() == heights) return values;
  if (values.size() == 1) return std::vector<double>(heights, values.front());
  reading.report("vehicle.list_count", record.place(field), name)
      .with("list", field)
      .with("count", static_cast<double>(values.size()), Unit::count)
      .with("heights", static_cast<double>(heights), Unit::count);
  return std::nullopt;
}

bool heights_good(Reading& reading, const std::string& name, const std::vector<double>& heights,
                  const Place& place) {
  if (heights.size() < 2) {
    reading.report("vehicle.few_heights", place, name)
        .with("count", static_cast<double>(heights.size()), Unit::count);
    return false;
  }
  if (heights.front() != 0.0) {
    reading.report("vehicle.not_from_floor", place, name).with("first", heights.front(), Unit::mm);
    return false;
  }
  for (std::size_t i = 1; i < heights.size(); ++i) {
    if (heights[i] - heights[i - 1] < kContact) {
      reading.report("vehicle.heights_not_rising", place, name)
          .with("lower", heights[i - 1], Unit::mm)
          .with("next", heights[i], Unit::mm);
      return false;
    }
  }
  return true;
}

namespace {

/// How many half or full widths every station gives that takes its heights from [vehicle]; nullopt
/// when they do not agree, or when there are not two lists to agree.
std::optional<std::size_t> widths_of_all(const std::vector<Named>& stations) {
  std::optional<std::size_t> count;
  int lists = 0;
  for (const Named& station : stations) {
    if (station.record.has("heights")) continue;
    for (const char* field : {"both", "left", "right", "full"}) {
      if (!station.record.has(field)) continue;
      const std::size_t widths = station.record.numbers(field).size();
      if (count.value_or(widths) != widths) return std::nullopt;
      count = widths;
      ++lists;
    }
  }
  return lists > 1 ? count : std::nullopt;
}

/// False, and one fault, when the heights of [vehicle] are what fits none of the stations.
bool heights_fit(Reading& reading, const std::vector<Named>& stations) {
  const auto widths = widths_of_all(stations);
  if (!widths || !reading.head().has("heights")) return true;
  const std::size_t heights = reading.head().numbers("heights").size();
  if (*widths == heights || heights < 2) return true;
  reading.report("vehicle.heights_count", reading.head().place("heights"), "vehicle")
      .with("heights", static_cast<double>(heights), Unit::count)
      .with("widths", static_cast<double>(*widths), Unit::count);
  return false;
}

}  // namespace

StationList list_stations(Reading& reading) {
  StationList list;
  const std::size_t before = reading.faults();
  std::vector<Named> tables = reading.records("station");
  if (!heights_fit(reading, tables)) return list;
  for (Named& named : tables) {
    if (auto station = StationReader(reading, named).read()) {
      list.stations.push_back({std::move(*station), std::move(named.record)});
    }
  }
  std::ranges::stable_sort(list.stations, {}, [](const auto& one) { return one.station.x; });
  for (std::size_t i = 1; i < list.stations.size(); ++i) {
    const Station& station = list.stations[i].station;
    const Station& rear = list.stations[i - 1].station;
    if (station.x - rear.x >= kLeastSpan) continue;
    reading.report("vehicle.same_station", list.stations[i].record.place("x"), station.name)
        .with("x", station.x, Unit::mm)
        .with("other", rear.name)
        .with("least", kLeastSpan, Unit::mm);
  }
  list.good = reading.faults() == before;
  // A scan gives stations of its own.
  const bool enough = list.stations.size() >= 2 || reading.has_table("scan");
  if (reading.evaluator().is_misspelt("station") || reading.evaluator().is_misspelt("scan")) {
    list.good = false;
  } else if (list.good && !enough) {
    reading.report("vehicle.few_stations", reading.place("station"), "station")
        .with("count", static_cast<double>(list.stations.size()), Unit::count);
    list.good = false;
  }
  return list;
}

}  // namespace ribbay::detail
