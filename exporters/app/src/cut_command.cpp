#include "cut_command.hpp"

#include "base/messages.hpp"
#include "console.hpp"
#include "cut_input.hpp"
#include "cutplans/cut_json.hpp"
#include "cutplans/cut_text.hpp"

namespace ribbay::detail {

namespace {

ExitCode wrong_input(Findings findings, LengthStyle show, const Surroundings& world) {
  sort_findings(findings);
  for (const Finding& finding : findings) {
    const std::string text = finding_text(finding, show) + "\n";
    world.out << (world.out_colour ? coloured(text) : text);
  }
  return ExitCode::wrong_input;
}

template <class Plan>
void keep(Result<Plan> plan, std::vector<Plan>& plans, Findings& findings) {
  if (plan) {
    plans.push_back(std::move(*plan));
  } else {
    findings.insert(findings.end(), plan.error().begin(), plan.error().end());
  }
}

}  // namespace

ExitCode run_cut(const Command& command, const Surroundings& world) {
  const LengthStyle show = command.unit == "in" ? LengthStyle::inches : LengthStyle::millimetres;
  const Result<CutOrders> orders = read_cut_orders(command);
  if (!orders) return wrong_input(orders.error(), show, world);
  CutPlans plans;
  Findings findings;
  for (const BarOrder& order : orders->bars) keep(plan_bars(order), plans.bars, findings);
  for (const SheetOrder& order : orders->sheets) keep(plan_sheets(order), plans.sheets, findings);
  if (!findings.empty()) return wrong_input(std::move(findings), show, world);
  world.out << (command.json ? cut_json(*orders, plans) : cut_text(*orders, plans, show));
  return ExitCode::nothing_wrong;
}

}  // namespace ribbay::detail
