#include "motion_findings.hpp"

#include <numbers>

namespace ribbay::detail {

namespace {

const std::string& title(const Motion& motion) {
  return motion.title.empty() ? motion.id : motion.title;
}

/// Adds a travel of the motion in the unit that people read.
Finding& add_travel(Finding& finding, const char* name, const Motion& motion, double travel) {
  return turns(motion) ? finding.with(name, travel * 180.0 / std::numbers::pi, Unit::degree)
                       : finding.with(name, travel, Unit::mm);
}

Finding opening(const char* code, Severity severity, const Motion& motion,
                const MotionResult& result) {
  Finding finding;
  finding.code = code;
  finding.severity = severity;
  finding.subjects = {result.mover, result.obstacle};
  finding.at = result.at;
  finding.with("motion", motion.id).with("title", title(motion));
  add_travel(finding, "measured", motion, result.opens);
  return std::move(add_travel(finding, "required", motion, motion.required));
}

Finding narrow_way(const char* code, Severity severity, const Motion& motion, const NarrowWay& way,
                   double required) {
  Finding finding;
  finding.code = code;
  finding.severity = severity;
  finding.subjects = {way.mover, way.obstacle};
  finding.at = way.at;
  finding.with("motion", motion.id).with("title", title(motion));
  return std::move(add_travel(finding, "open", motion, way.open)
                       .with("measured", way.distance, Unit::mm)
                       .with("required", required, Unit::mm)
                       .with("missing", required - way.distance, Unit::mm));
}

}  // namespace

Finding motion_finding(const Motion& motion, const MotionResult& result) {
  Finding finding = opening("clearance.motion", Severity::error, motion, result);
  if (result.shift > 0.0) {
    finding.with("parameter", motion.gives_way).with("shift", result.shift, Unit::mm);
  }
  return finding;
}

void add_held(Finding& finding, const Start& start) {
  finding.code = "clearance.motion_held";
  finding.with("first", title(*start.held));
  add_travel(finding, "first_opens", *start.held, start.held_at);
}

Finding held_finding(const Start& start, const MotionResult& result) {
  Finding finding = opening("clearance.motion_behind", Severity::note, start.motion, result);
  finding.subjects = {start.motion.id, start.held->id};
  finding.status = Status::pass;
  finding.with("first", title(*start.held));
  add_travel(finding, "first_opens", *start.held, start.held_at);
  return finding;
}

Finding early_finding(const Start& start, const MotionResult& result) {
  Finding finding = opening("clearance.motion_early", Severity::warning, start.motion, result);
  finding.with("first", title(*start.held));
  add_travel(finding, "first_opens", *start.held, start.held_at);
  return finding;
}

Finding tight_way_finding(const Motion& motion, const NarrowWay& way, double required) {
  return narrow_way("clearance.tight_way", Severity::warning, motion, way, required);
}

Finding gap_way_finding(const Motion& motion, const NarrowWay& way, const Gap& gap) {
  Finding finding = narrow_way("clearance.gap_way", Severity::error, motion, way, gap.required);
  finding.place = gap.place;
  return std::move(finding.with("gap", gap.id));
}

Finding motion_pair_finding(const Motion& a, const Motion& b, const PairMeeting& meeting) {
  Finding finding;
  finding.code = meeting.beyond ? "clearance.pair_beyond" : "clearance.pair";
  finding.severity = Severity::warning;
  finding.subjects = {a.id, b.id};
  finding.at = meeting.at;
  if (!meeting.proven) finding.status = Status::not_proven;
  finding.with("a", title(a))
      .with("b", title(b))
      .with("part_a", meeting.part_a)
      .with("part_b", meeting.part_b)
      .with("verb", meeting.proven ? "meets" : "may meet");
  add_travel(finding, "open_a", a, meeting.open_a);
  add_travel(finding, "open_b", b, meeting.open_b);
  return finding;
}

}  // namespace ribbay::detail
