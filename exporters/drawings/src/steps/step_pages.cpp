#include "base/wording.hpp"
#include "drawings/audit.hpp"
#include "drawings/steps.hpp"
#include "steps/step_drawing.hpp"

#include <map>

namespace ribbay {

namespace {

using detail::PageSet;

struct StepTry {
  PageSize page;
  double scale;
};
/// Best first: a large picture, then a small page.
constexpr StepTry kTries[] = {{PageSize::a4, 0.2}, {PageSize::a3, 0.2},  {PageSize::a4, 0.1},
                              {PageSize::a3, 0.1}, {PageSize::a4, 0.05}, {PageSize::a3, 0.05},
                              {PageSize::a2, 0.1}, {PageSize::a2, 0.05}, {PageSize::a3, 0.02},
                              {PageSize::a2, 0.02}};

Drawing best_drawing(const PageSet& set, const AssemblyPlan& plan, const ApartGroup& group,
                     const detail::StepSheets& sheets, const std::string& number) {
  const ViewFrame look = detail::step_look(set, plan, group);
  const Table table = detail::step_table(set, plan, group, sheets);
  std::optional<Drawing> best;
  std::size_t fewest = 0;
  for (const StepTry& t : kTries) {
    std::optional<Drawing> drawing =
        detail::step_drawing(set, plan, group, look, table, number, t.page, t.scale);
    if (!drawing) continue;
    const std::size_t faults = audit(*drawing).size();
    if (best && faults >= fewest) continue;
    best = std::move(drawing);
    fewest = faults;
    if (fewest == 0) break;
  }
  if (best) return std::move(*best);
  TitleBlock block = detail::title_block(set);
  block.title = plan.units[group.unit].title;
  block.number = detail::document_number(set, number);
  return detail::undrawn_page(set, block);
}

/// The ends of the identification numbers of the groups' sheets: "galley-S4".
std::vector<std::string> suffixes(const AssemblyPlan& plan, const std::vector<ApartGroup>& groups) {
  std::map<std::string, int> of_module;
  std::vector<std::string> all;
  for (const ApartGroup& group : groups) {
    const std::string& module = plan.units[group.unit].module;
    all.push_back(module + "-S" + std::to_string(++of_module[module]));
  }
  return all;
}

}  // namespace

std::vector<SetPage> step_pages(const Layout& layout, const AssemblyPlan& plan,
                                const DrawingOptions& options) {
  const PageSet set{layout, options.not_for_cutting, part_types(layout)};
  std::vector<SetPage> pages;
  const std::vector<ApartGroup> groups = taken_apart(layout, plan);
  const std::vector<std::string> ends = suffixes(plan, groups);
  detail::StepSheets sheets;
  for (std::size_t i = 0; i < groups.size(); ++i) {
    std::string& numbers = sheets[plan.units[groups[i].unit].name];
    numbers += (numbers.empty() ? "" : ", ") + detail::document_number(set, ends[i]);
  }
  int number = 601;
  for (std::size_t i = 0; i < groups.size(); ++i) {
    const ApartGroup& group = groups[i];
    const AssemblyUnit& unit = plan.units[group.unit];
    const std::string first = std::to_string(group.steps.front().step + 1);
    const std::string last = std::to_string(group.steps.back().step + 1);
    const bool one = first == last;
    const std::string steps = one ? first : first + " to " + last;
    const std::string what = unit.name == unit.module ? unit.name : unit.module + " " + unit.title;
    pages.push_back(detail::page_of(
        number++, what + (one ? " step " : " steps ") + steps,
        say(one ? "file.step" : "file.steps", {{"steps", steps}, {"title", unit.title}}),
        best_drawing(set, plan, group, sheets, ends[i])));
  }
  return pages;
}

}  // namespace ribbay
