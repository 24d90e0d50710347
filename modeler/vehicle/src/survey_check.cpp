#include "survey_work.hpp"

namespace ribbay {

Findings check_survey(const Vehicle& vehicle, const Document& document) {
  using namespace detail;
  SurveyWork work{vehicle, document, survey_table(vehicle, document)};
  check_full_widths(work);
  check_whole_stations(work);
  check_single_readings(work);
  check_diagonals(work);
  check_rib_rows(work);
  sort_findings(work.findings);
  return std::move(work.findings);
}

}  // namespace ribbay
