#include "base/text.hpp"
#include "base/tolerance.hpp"
#include "loft.hpp"
#include "reading.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

/// Reads the ends of one [diagonal.NAME].
class EndReader {
 public:
  EndReader(Reading& reading, const Named& named, const StationList& measured)
      : reading_(reading), named_(named), measured_(measured) {}

  /// The end called `from` or `to`; nullopt after a report.
  std::optional<DiagonalEnd> read(const std::string& which) {
    const Record& record = named_.record.table(which);
    const auto given = [&](std::initializer_list<const char*> fields) {
      return std::ranges::count_if(fields, [&](const char* f) { return record.has(f); });
    };
    const auto on_station = given({"station", "side", "height"});
    const auto free = given({"x", "y", "z"});
    if (free == 3 && on_station == 0) {
      return DiagonalEnd{{record.number("x"), record.number("y"), record.number("z")}};
    }
    if (on_station == 3 && free == 0) return on_wall(record);
    reading_.report("vehicle.diagonal_end", record.place(), named_.name).with("end", which);
    return std::nullopt;
  }

 private:
  std::optional<DiagonalEnd> on_wall(const Record& record) {
    const std::string& name = record.text("station");
    const auto& stations = measured_.stations;
    const auto found =
        std::ranges::find(stations, name, [](const auto& one) { return one.station.name; });
    if (found == stations.end()) {
      std::vector<std::string> names;
      for (const auto& one : stations) names.push_back(one.station.name);
      Finding& finding =
          reading_.report("vehicle.no_such_station", record.place("station"), named_.name)
              .with("found", name);
      if (const std::string near = nearest(name, names); !near.empty()) finding.with("near", near);
      return std::nullopt;
    }
    const Station& station = found->station;
    const double z = record.number("height");
    const std::string& side = record.text("side");
    const auto& wall = points(station, side == "right" ? VanSide::right : VanSide::left);
    if (z > wall.back().z) {
      reading_.report("vehicle.above_station", record.place("height"), named_.name)
          .with("height", z, Unit::mm)
          .with("other", name)
          .with("top", wall.back().z, Unit::mm);
      return std::nullopt;
    }
    if (side == "centre") return DiagonalEnd{{station.x, 0.0, z}, 0.0, name};
    std::vector<Vec2> widths;
    std::vector<Vec2> uncertainties;
    for (const WallPoint& p : wall) {
      widths.push_back({p.z, p.half_width});
      uncertainties.push_back({p.z, p.uncertainty});
    }
    const double y = value_at(widths, z);
    return DiagonalEnd{{station.x, side == "left" ? y : -y, z}, value_at(uncertainties, z), name};
  }

  Reading& reading_;
  const Named& named_;
  const StationList& measured_;
};

}  // namespace

void read_diagonals(Reading& reading, const StationList& measured) {
  for (const Named& named : reading.records("diagonal")) {
    if (!measured.good) continue;
    EndReader ends(reading, named, measured);
    auto from = ends.read("from");
    auto to = ends.read("to");
    if (!from || !to) continue;
    if (length(to->at - from->at) < kContact) {
      reading.report("vehicle.diagonal_point", named.record.place(), named.name);
      continue;
    }
    reading.vehicle().diagonals.push_back(
        {named.name, std::move(*from), std::move(*to), named.record.number("length")});
  }
}

}  // namespace ribbay::detail
