#include "scan_stations.hpp"

#include "base/text.hpp"
#include "base/tolerance.hpp"
#include "loft.hpp"
#include "reading.hpp"
#include "scan/align.hpp"
#include "scan/clean.hpp"
#include "scan/read_scan.hpp"
#include "scan/slice.hpp"
#include "scan_remarks.hpp"
#include "vehicle/vehicle_scan.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace ribbay::detail {

namespace {

/// A scanned station nearer than this to a taped one is left out: the tape wins.
constexpr double kTapeNear = 50.0;
/// How far a rib may stand beside where the tape has it, and its rounded edges reach, mm.
constexpr double kTapeSlip = 10.0;
/// Lengths that a scanned van may have; outside, its unit is wrong.
constexpr double kShortest = 1'000.0;
constexpr double kLongest = 30'000.0;
constexpr double kMiddling = 4'000.0;

constexpr std::array<std::pair<std::string_view, double>, 4> kUnits{
    {{"mm", 1.0}, {"cm", 10.0}, {"m", 1000.0}, {"in", 25.4}}};

double unit_length(std::string_view name) {
  return std::ranges::find(kUnits, name, [](const auto& unit) { return unit.first; })->second;
}

std::string_view unit_name(double size) {
  return std::ranges::find(kUnits, size, [](const auto& unit) { return unit.second; })->first;
}

class ScanReader {
 public:
  ScanReader(Reading& reading, const Record& record, const RibList& ribs)
      : reading_(reading), record_(record), ribs_(ribs) {}

  bool read() {
    const std::size_t before = reading_.faults();
    const auto heights = wanted_heights();
    const auto unit = wanted_unit();
    if (!heights || !unit || !read_mesh(*unit) || !align_mesh(*unit)) return false;
    const std::vector<double> wanted = wanted_stations();
    if (reading_.faults() != before) return false;
    add_stations(wanted, *heights);
    keep_scan();
    return reading_.faults() == before;
  }

 private:
  void report(Finding finding, const Place& place) {
    finding.subjects = {record_.text("file")};
    finding.place = place;
    reading_.report(std::move(finding));
  }
  void report(Findings findings, const Place& place) {
    for (Finding& finding : findings) report(std::move(finding), place);
  }

  std::optional<std::vector<double>> wanted_heights() {
    const Record& from = record_.has("heights") ? record_ : reading_.head();
    if (!from.has("heights")) {
      report(input_error("scan.no_heights", {}), record_.place());
      return std::nullopt;
    }
    if (!heights_good(reading_, record_.has("heights") ? "[scan]" : "[vehicle]",
                      from.numbers("heights"), from.place("heights"))) {
      return std::nullopt;
    }
    return from.numbers("heights");
  }

  std::optional<double> wanted_unit() {
    if (record_.has("unit")) return unit_length(record_.text("unit"));
    const auto stated = stated_unit(record_.text("file"));
    if (!stated) report(input_error("scan.no_unit", {}), record_.place("file"));
    return stated;
  }

  bool read_mesh(double unit) {
    const std::string& path = record_.text("file");
    const Result<std::string> bytes = reading_.input(path);
    if (!bytes) {
      report(bytes.error(), record_.place("file"));
      return false;
    }
    Result<ScanMesh> mesh = read_scan(*bytes, path, unit);
    if (!mesh) {
      report(mesh.error(), record_.place("file"));
      return false;
    }
    cleaned_ = clean(std::move(*mesh), {.size = record_.number("stray_size")});
    return like_a_van(unit);
  }

  bool like_a_van(double unit) {
    const Vec3 size = bounds(cleaned_.mesh).size();
    const double longest = std::max({size.x, size.y, size.z});
    const auto fits = [](double length) { return length >= kShortest && length <= kLongest; };
    if (fits(longest)) return true;
    std::string better;
    Finding finding = input_error("scan.size", {})
                          .with("size", longest, Unit::mm)
                          .with("unit", std::string(unit_name(unit)));
    // The unit that brings it nearest to a middling van.
    double nearest = std::numeric_limits<double>::infinity();
    for (const auto& [name, other] : kUnits) {
      const double length = longest / unit * other;
      const double away = std::abs(std::log(length / kMiddling));
      if (!fits(length) || away >= nearest) continue;
      nearest = away;
      better = std::string(name);
    }
    if (!better.empty()) finding.with("better", better);
    report(std::move(finding), record_.place(record_.has("unit") ? "unit" : "file"));
    return false;
  }

  bool align_mesh(double unit) {
    const Record& points = record_.table("points");
    PickedPoints picked;
    picked.sill_left = points.vec3("sill_left") * unit;
    picked.sill_right = points.vec3("sill_right") * unit;
    if (points.has("floor_front")) picked.floor_front = points.vec3("floor_front") * unit;
    picked.sill_x = points.number("sill_x");
    const auto alignment = align(cleaned_.mesh, picked);
    if (!alignment) {
      report(alignment.error(), record_.place("points"));
      return false;
    }
    alignment_ = *alignment;
    move_to_van(cleaned_.mesh, alignment_.frame);
    return true;
  }

  /// Where the floor begins and ends along the van.
  std::pair<double, double> floor_ends() const {
    std::vector<double> x;
    for (const Vec3& p : cleaned_.mesh.points) {
      if (std::abs(p.z) < 50.0) x.push_back(p.x);
    }
    if (x.empty()) return {0.0, 0.0};
    std::ranges::sort(x);
    // One point in a thousand may be a speck that lies beyond the floor.
    const std::size_t few = x.size() / 1000;
    return {std::max(0.0, x[few]), x[x.size() - 1 - few]};
  }

  std::vector<double> wanted_stations() {
    const bool listed = record_.has("stations");
    if (listed == record_.has("count")) {
      report(input_error("scan.few_stations", {})
                 .with("found", listed ? "both stations and count are written"
                                       : "neither stations nor count is written"),
             record_.place());
      return {};
    }
    const auto [first, last] = floor_ends();
    std::vector<double> x;
    if (listed) {
      x = record_.numbers("stations");
      std::ranges::sort(x);
      for (const double at : x) {
        if (at >= first - kTapeNear && at <= last + kTapeNear) continue;
        report(input_error("scan.station_outside", {})
                   .with("x", at, Unit::mm)
                   .with("first", first, Unit::mm)
                   .with("last", last, Unit::mm),
               record_.place("stations"));
      }
    } else {
      const auto count = static_cast<int>(record_.number("count"));
      for (int i = 0; i < count; ++i) x.push_back(std::lerp(first, last, i / (count - 1.0)));
    }
    x.erase(std::unique(x.begin(), x.end(), [](double a, double b) { return b - a < 1.0; }),
            x.end());
    return x;
  }

  /// What hides the skin: ribs and arches, as the file says them.
  std::vector<Hidden> hidden() {
    std::vector<Hidden> spaces;
    for (const auto& [rib, table] : ribs_.ribs) {
      const double reach = rib.width / 2 + kTapeSlip;
      spaces.push_back({rib.side == VanSide::left, rib.x - reach, rib.x + reach, rib.from, rib.to});
    }
    Evaluator& evaluator = reading_.evaluator();
    for (const std::string& name : reading_.names_in("arch")) {
      const std::string path = "arch." + name;
      const auto side = evaluator.text(path, "side");
      const auto from = evaluator.number(path, "from");
      const auto to = evaluator.number(path, "to");
      const auto top = evaluator.number(path, "height");
      if (!side || !from || !to || !top) continue;
      for (const bool left : {true, false}) {
        if (*side == (left ? "right" : "left")) continue;
        spaces.push_back({left, *from, *to, 0.0, *top});
      }
    }
    return spaces;
  }

  void add_stations(const std::vector<double>& wanted, const std::vector<double>& heights) {
    std::vector<Station>& stations = reading_.vehicle().stations;
    const std::vector<Station> taped = stations;
    SliceRequest request{wanted, heights, hidden()};
    for (const Station& station : taped) request.stations.push_back(station.x);
    std::ranges::sort(request.stations);
    for (ScannedSection& section : slice(cleaned_.mesh, request)) {
      const auto tape = std::ranges::find(taped, section.x, &Station::x);
      if (tape != taped.end()) {
        if (!section.blind) remark_tape(reading_, *tape, section);
        continue;
      }
      const bool near = std::ranges::any_of(taped, [&](const Station& station) {
        return std::abs(station.x - section.x) < kTapeNear;
      });
      if (near) continue;
      if (section.blind) {
        report(input_error("scan.station_blind", {}).with("x", section.x, Unit::mm),
               record_.place(record_.has("stations") ? "stations" : "count"));
        continue;
      }
      stations.push_back(station_of(section));
      sections_.push_back(std::move(section));
    }
    std::ranges::sort(stations, {}, &Station::x);
    if (stations.size() < 2 && sections_.size() + taped.size() > 0) {
      report(input_error("scan.few_stations", {}).with("found", "fewer than two are left"),
             record_.place());
    }
  }

  double least_uncertainty() const {
    if (record_.has("uncertainty")) return record_.number("uncertainty");
    double most = 0.0;
    for (const double u : reading_.head().numbers("uncertainty")) most = std::max(most, u);
    return most;
  }

  Station station_of(const ScannedSection& section) const {
    Station station;
    station.name = "scan_" + number_text(std::round(section.x));
    station.x = section.x;
    station.note = "cut from the scan";
    const double least = least_uncertainty();
    const auto wall = [&](const std::vector<ScannedPoint>& points) {
      std::vector<WallPoint> result;
      for (const ScannedPoint& p : points) {
        result.push_back({p.z, p.half_width, std::max(least, p.uncertainty)});
        station.uncertainty = std::max(station.uncertainty, result.back().uncertainty);
      }
      // The floor is where the axes say, to the last digit.
      result.front().z = 0.0;
      return result;
    };
    station.left = wall(section.left);
    station.right = wall(section.right);
    return station;
  }

  void keep_scan() {
    VehicleScan scan;
    scan.file = record_.text("file");
    scan.alignment = alignment_;
    // The middle one of what the stations are certain to: that of the surface at large.
    std::vector<double> seen{least_uncertainty()};
    for (const ScannedSection& section : sections_) {
      for (const auto* points : {&section.left, &section.right}) {
        for (const ScannedPoint& p : *points) {
          if (p.seen) seen.push_back(p.uncertainty);
        }
      }
    }
    std::ranges::sort(seen);
    scan.uncertainty = std::max(least_uncertainty(), seen[seen.size() / 2]);
    remark_scan(reading_, record_, cleaned_, alignment_, sections_, scan.uncertainty);
    scan.mesh = std::move(cleaned_.mesh);
    reading_.vehicle().scan = std::make_shared<const VehicleScan>(std::move(scan));
  }

  Reading& reading_;
  const Record& record_;
  const RibList& ribs_;
  CleanedScan cleaned_;
  Alignment alignment_;
  std::vector<ScannedSection> sections_;
};

}  // namespace

bool add_scanned_stations(Reading& reading, bool taped_good, const RibList& ribs) {
  const auto record = reading.evaluator().record("scan");
  if (!record || !taped_good) return false;
  for (const Station& station : reading.vehicle().stations) {
    if (station.surveyed == Surveyed::skin) continue;
    reading.report("scan.tape_not_skin", record->place(), station.name);
    return false;
  }
  return ScanReader(reading, *record, ribs).read();
}

}  // namespace ribbay::detail
