#include "reading.hpp"

namespace ribbay {

using namespace detail;

Result<Vehicle> read_vehicle(const Document& document) {
  Reading reading(document);
  std::vector<std::string> known{"format", "include", "values"};
  for (const auto& [name, schema] : vehicle_schemas()) known.push_back(name);
  reading.evaluator().check_top_level(known);
  reading.evaluator().check_values();
  reading.declare_all();

  const bool head = reading.read_head();
  // Everything else is checked against the stations, so it waits for them.
  StationList stations = head ? list_stations(reading) : StationList{};
  const RibList ribs = list_ribs(reading);
  read_diagonals(reading, stations);
  const bool good = stations.good && bring_to_one_surface(reading, stations, ribs);
  if (good) {
    for (ListedStation& one : stations.stations) {
      reading.vehicle().stations.push_back(std::move(one.station));
    }
    check_ribs(reading, ribs);
  }
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
