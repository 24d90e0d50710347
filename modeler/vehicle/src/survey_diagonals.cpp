#include "survey_work.hpp"

#include <cmath>

namespace ribbay::detail {

namespace {

/// By how much a taped diagonal may differ from the distance `d` of its ends.
double allowed_for(const Diagonal& diagonal, const Vec3& d, double reading) {
  const double size = length(d);
  if (size == 0.0) return reading;
  const double across = diagonal.from.uncertainty + diagonal.to.uncertainty;
  return reading +
         (std::abs(d.y) * across + std::abs(d.x) * 2.0 * reading + std::abs(d.z) * 2.0 * reading) /
             size;
}

}  // namespace

void check_diagonals(SurveyWork& work) {
  const double reading = one_reading(work.table);
  for (const Diagonal& diagonal : work.vehicle.diagonals) {
    const Vec3 d = diagonal.to.at - diagonal.from.at;
    const double size = length(d);
    const double allowed = allowed_for(diagonal, d, reading);
    if (std::abs(size - diagonal.length) <= allowed) continue;
    const Node* node = written_value(work.document, "diagonal", diagonal.name, "length");
    Finding finding = doubt("survey.diagonal", Severity::error, "diagonal." + diagonal.name, node);
    finding.with("measured", diagonal.length, Unit::mm)
        .with("required", size, Unit::mm)
        .with("allowed", allowed, Unit::mm);
    say(finding,
        mend_of(node, diagonal.length, [&](double mm) { return std::abs(size - mm) <= allowed; }));
    work.findings.push_back(std::move(finding));
  }
}

}  // namespace ribbay::detail
