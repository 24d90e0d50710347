#include "reading.hpp"
#include "scan_stations.hpp"
#include "schema_fields.hpp"

namespace ribbay {

using namespace detail;

Findings add_scan_file(Document& document, const ReadFile& read) {
  if (document.root.find("scan") == nullptr) return {};
  Evaluator evaluator(document, {});
  evaluator.declare("scan", scan_schema());
  // Nothing to say of a path that is missing or wrong: read_vehicle() does.
  const auto path = evaluator.text("scan", "file");
  if (!path) return {};
  Result<std::string> bytes = read(*path);
  if (!bytes) {
    const Node* named = document.root.find("scan")->find("file");
    for (Finding& finding : bytes.error()) finding.place = named->place;
    return bytes.error();
  }
  document.inputs.push_back({*path, std::move(*bytes)});
  return {};
}

namespace {

/// A project file given for a vehicle file: told at once, not table by table.
std::optional<Finding> is_project(const Node& root) {
  const auto has = [&](std::string_view table) { return root.find(table) != nullptr; };
  if (!has("project") && !has("module")) return std::nullopt;
  for (const auto& [name, schema] : vehicle_schemas()) {
    if (has(name)) return std::nullopt;
  }
  Finding finding = input_error("vehicle.is_project", {root.place.file, 0, 0, {}});
  finding.subjects = {root.place.file};
  return finding;
}

}  // namespace

Result<Vehicle> read_vehicle(const Document& document, const ReadFile& read) {
  if (auto finding = is_project(document.root)) return fail({std::move(*finding)});
  Reading reading(document, read);
  std::vector<std::string> known{"format", "include", "values"};
  for (const auto& [name, schema] : vehicle_schemas()) known.push_back(name);
  reading.evaluator().check_top_level(known);
  reading.declare_all();
  reading.evaluator().check_values();

  const bool head = reading.read_head();
  // Everything else is checked against the stations, so it waits for them.
  StationList stations = head ? list_stations(reading) : StationList{};
  const RibList ribs = list_ribs(reading);
  read_diagonals(reading, stations);
  const bool taped = stations.good && bring_to_one_surface(reading, stations, ribs);
  if (taped) {
    for (ListedStation& one : stations.stations) {
      reading.vehicle().stations.push_back(std::move(one.station));
    }
  }
  const bool scanned = !reading.has_table("scan") || add_scanned_stations(reading, taped, ribs);
  const bool good = taped && scanned;
  if (good) check_ribs(reading, ribs);
  read_bows(reading, good);
  read_arches(reading, good);
  read_openings(reading, good);
  read_channels(reading, good);
  read_floor(reading, head);
  read_joists(reading, good);
  read_hard_points(reading, good);
  read_no_drill(reading, good);
  read_axles(reading);
  return reading.finish();
}

}  // namespace ribbay
