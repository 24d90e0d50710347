#include "trial.hpp"

#include "assembly/assembly.hpp"
#include "candidates.hpp"
#include "confirm_advice.hpp"
#include "judgement/judgement.hpp"
#include "reread.hpp"
#include "structure/fixings.hpp"
#include "structure/materials.hpp"
#include "structure/supports.hpp"
#include "structure/ties.hpp"

#include <algorithm>
#include <iterator>

namespace ribbay::detail {

namespace {

/// Lays out; true when it can be checked.
bool lay_out_trial(const Inputs& inputs, Trial& trial) {
  trial.layout = take(lay_out(inputs), trial.findings);
  if (has_errors(trial.findings)) trial.layout.reset();
  if (!trial.layout) sort_findings(trial.findings);
  return trial.layout.has_value();
}

}  // namespace

Findings all_findings(const Layout& layout, const ClearanceResult& clearance) {
  Findings findings = clearance.findings;
  std::ranges::copy(layout.judged, std::back_inserter(findings));
  std::ranges::move(check_materials(layout), std::back_inserter(findings));
  std::ranges::move(check_supports(layout), std::back_inserter(findings));
  std::ranges::move(check_fixings(layout), std::back_inserter(findings));
  std::ranges::move(check_ties(layout), std::back_inserter(findings));
  return findings;
}

Trial try_project(const std::string& file, const std::vector<std::string>& settings,
                  const ReadFile& read, int jobs, Advice advice, Memo& memo) {
  Trial trial;
  auto inputs = take(read_inputs(file, settings, read), trial.findings);
  if (!inputs || has_errors(trial.findings)) {
    sort_findings(trial.findings);
    return trial;
  }
  const Trials chosen = try_candidates(file, *inputs, settings, jobs, memo);
  if (chosen.settings != settings)
    inputs = read_inputs(file, chosen.settings, reader_of(*inputs)).value;
  if (!inputs || !lay_out_trial(*inputs, trial)) return trial;
  trial.clearance = check_clearance(*trial.layout, jobs, false, &memo);
  if (advice == Advice::confirmed) {
    confirm_advice(file, *inputs, chosen.settings, trial.clearance, jobs, memo);
    std::ranges::move(plan_assembly(*trial.layout).findings, std::back_inserter(trial.findings));
    std::ranges::move(judge(*trial.layout, jobs, &memo).findings, std::back_inserter(trial.findings));
  }
  std::ranges::move(all_findings(*trial.layout, trial.clearance),
                    std::back_inserter(trial.findings));
  sort_findings(trial.findings);
  return trial;
}

}  // namespace ribbay::detail
