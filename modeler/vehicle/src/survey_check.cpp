#include "survey_work.hpp"

namespace ribbay {

Findings check_survey(const Vehicle& vehicle, const Document& document) {
  using namespace detail;
  SurveyWork work{vehicle, document, survey_table(vehicle, document)};
  check_station_order(work);
  check_full_widths(work);
  check_whole_stations(work);
  check_single_readings(work);
  check_diagonals(work);
  check_rib_rows(work);
  sort_findings(work.findings);
  return std::move(work.findings);
}

Findings check_stations_alone(const Document& document) {
  Document stations;
  Node::Table kept;
  for (const Entry& entry : *document.root.table()) {
    for (const char* name : {"format", "include", "values", "vehicle", "station", "rib"}) {
      if (entry.key == name) kept.push_back(entry);
    }
  }
  stations.root.value = std::move(kept);
  stations.root.place = document.root.place;
  stations.inputs = document.inputs;
  const Result<Vehicle> vehicle = read_vehicle(stations);
  return vehicle ? check_survey(*vehicle, stations) : Findings{};
}

}  // namespace ribbay
