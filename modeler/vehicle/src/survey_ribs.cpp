#include "survey_work.hpp"

#include <cmath>

namespace ribbay::detail {

namespace {

/// How many ribs, or else which pitch, would end the row where its last rib was measured.
void say_mend(Finding& finding, const RibRow& row, double allowed) {
  const double run = row.last - row.x;
  if (run <= 0.0 || row.pitch <= 0.0) return;
  const double count = std::round(run / row.pitch) + 1.0;
  if (count != row.count && std::abs(row.x + (count - 1.0) * row.pitch - row.last) <= allowed) {
    finding.with("which", "count").with("mended", count, Unit::count);
  } else if (row.count > 1) {
    finding.with("which", "pitch").with("mended", run / (row.count - 1), Unit::mm);
  }
}

}  // namespace

void check_rib_rows(SurveyWork& work) {
  const double allowed = 2.0 * one_reading(work.table) + kSheet;
  for (const RibRow& row : work.vehicle.rib_rows) {
    const double reached = row.x + (row.count - 1) * row.pitch;
    if (std::abs(reached - row.last) <= allowed) continue;
    Finding finding = doubt("survey.rib_row", Severity::warning, "rib." + row.name,
                            written_value(work.document, "rib", row.name, "last"));
    finding.with("count", static_cast<double>(row.count), Unit::count)
        .with("measured", reached, Unit::mm)
        .with("required", row.last, Unit::mm)
        .with("allowed", allowed, Unit::mm);
    say_mend(finding, row, allowed);
    work.findings.push_back(std::move(finding));
  }
}

}  // namespace ribbay::detail
