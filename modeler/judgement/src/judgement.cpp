#include "judgement/judgement.hpp"

#include "judges.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace ribbay {

std::string_view name(GapKind kind) {
  switch (kind) {
    case GapKind::asked:
      return "asked for";
    case GapKind::air:
      return "air";
    case GapKind::modules:
      return "between modules";
    case GapKind::equipment:
      return "around equipment";
    case GapKind::van:
      return "to the van";
    case GapKind::motion:
      break;
  }
  return "drawer or door";
}

std::string_view name(FitVerdict verdict) {
  switch (verdict) {
    case FitVerdict::fits:
      return "fits";
    case FitVerdict::shim:
      return "shim";
    case FitVerdict::scribe:
      return "scribe";
    case FitVerdict::measure:
      break;
  }
  return "measure again";
}

namespace detail {

int main_axis(Vec3 way) {
  const std::array<double, 3> sizes = {std::abs(way.x), std::abs(way.y), std::abs(way.z)};
  return static_cast<int>(std::ranges::max_element(sizes) - sizes.begin());
}

double survey_off(const Layout& layout, const NearPair& pair) {
  if (!layout.vehicle) return 0.0;
  const Vehicle& van = *layout.vehicle;
  const Box& face = pair.face;
  const double x0 = std::clamp(face.lo.x, van.x_min(), van.x_max());
  const double x1 = std::clamp(face.hi.x, van.x_min(), van.x_max());
  if (main_axis(pair.way) != 1) return survey_uncertainty(van, x0, x1);
  return survey_uncertainty(van, x0, x1, face.lo.z, face.hi.z);
}

namespace {

Finding stack_finding(const JudgedGap& gap) {
  const Contributor& largest = gap.stack.contributors.front();
  Finding finding;
  finding.code = "judgement.stack";
  finding.severity = Severity::warning;
  finding.subjects = {gap.a, gap.b};
  finding.at = gap.at;
  return std::move(finding)
      .with("measured", gap.nominal, Unit::mm)
      .with("required", gap.required, Unit::mm)
      .with("worst", gap.stack.worst, Unit::mm)
      .with("rss", gap.stack.rss, Unit::mm)
      .with("largest", largest.what + " of " + largest.of)
      .with("off", largest.tolerance, Unit::mm)
      .with("share", std::round(100.0 * gap.stack.share(largest)), Unit::percent);
}

Finding measure_finding(const VanFit& fit) {
  Finding finding;
  finding.code = "judgement.measure";
  finding.severity = Severity::warning;
  finding.subjects = {fit.part, fit.body};
  finding.at = fit.at;
  return std::move(finding)
      .with("measured", fit.gap, Unit::mm)
      .with("uncertainty", fit.uncertainty, Unit::mm)
      .with("what", fit.measure);
}

Finding rattle_finding(const std::vector<Rattle>& rattles) {
  std::size_t places = 0;
  for (const Rattle& rattle : rattles) places += rattle.places;
  Finding finding;
  finding.code = "judgement.rattle";
  finding.severity = Severity::note;
  finding.subjects = {rattles.front().a, rattles.front().b};
  return std::move(finding)
      .with("count", static_cast<double>(places), Unit::count)
      .with("required", kRattle, Unit::mm);
}

bool is_left_to_van(const Layout& layout, const Judgement& judgement, const JudgedGap& gap) {
  if (gap.kind != GapKind::van) return false;
  return std::ranges::any_of(judgement.van, [&](const VanFit& fit) {
    return fit.module == layout.find(gap.a)->module &&
           fit.place == place_at_van(gap.b, gap.at) && fit.verdict != FitVerdict::fits;
  });
}

void tell(const Layout& layout, Judgement& judgement) {
  for (JudgedGap& gap : judgement.gaps) {
    gap.left_to_van = is_left_to_van(layout, judgement, gap);
    // What is too narrow as drawn is told by the check of clearance.
    if (gap.nominal >= gap.required && !gap.fits() && !gap.left_to_van)
      judgement.findings.push_back(stack_finding(gap));
  }
  for (const VanFit& fit : judgement.van) {
    if (fit.verdict == FitVerdict::measure) judgement.findings.push_back(measure_finding(fit));
  }
  if (!judgement.rattles.empty())
    judgement.findings.push_back(rattle_finding(judgement.rattles));
  sort_findings(judgement.findings);
}

}  // namespace

}  // namespace detail

Judgement judge(const Layout& layout, int jobs, Memo* memo) {
  const NearResult near = near_bodies(layout, {.within = detail::kNear + kSame,
                                               .face = detail::kRattle + kSame,
                                               .further = detail::further_than_near(layout),
                                               .jobs = jobs,
                                               .memo = memo});
  const detail::Chains chains(layout, near.pairs);
  const detail::Stacks stacks(layout, near, chains);
  Judgement judgement;
  judgement.gaps = detail::judge_gaps(layout, near, chains, stacks);
  judgement.van = detail::judge_van(layout, near, chains, stacks);
  judgement.rattles = detail::judge_rattles(layout, near, chains);
  detail::tell(layout, judgement);
  return judgement;
}

}  // namespace ribbay
