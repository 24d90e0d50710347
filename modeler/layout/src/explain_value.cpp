#include "layout/again.hpp"
#include "planner.hpp"

#include <algorithm>

namespace ribbay {

namespace detail {

namespace {

/// Those that are about the command line.
Findings at_settings(Findings findings) {
  std::erase_if(findings, [](const Finding& finding) {
    return !finding.place || finding.place->file != "--set";
  });
  return findings;
}

void append(Findings& to, const Findings& more) {
  for (const Finding& finding : more) {
    if (std::ranges::find(to, finding) == to.end()) to.push_back(finding);
  }
}

}  // namespace

/// Makes the catalogue's entries known when `name` is one or stands in one:
/// "equipment.fridge.mass".
void Planner::declare_catalogue(const std::string& name) {
  const auto& schemas = catalogue_schemas();
  const std::string first = name.substr(0, name.find('.'));
  if (std::ranges::none_of(schemas, [&](const auto& each) { return each.first == first; })) return;
  for (const auto& [kind, schema] : schemas) {
    const Node* entries = project_.root.find(kind);
    if (entries == nullptr || entries->table() == nullptr) continue;
    for (const Entry& entry : *entries->table()) evaluator_.declare(kind + "." + entry.key, schema);
  }
}

/// What is wrong with the settings of the command line, wherever they go.
Findings Planner::faults_of_settings() {
  check_tables();
  (void)evaluator_.record("project");
  for (const auto& [name, module] : modules_) (void)evaluator_.record("module." + name);
  Findings all = at_settings(evaluator_.take_findings());
  append(all, at_settings(findings_));
  return all;
}

Built<std::optional<Origin>> Planner::explain(const std::string& name) {
  const auto before = static_cast<std::ptrdiff_t>(findings_.size());
  auto origin = this->origin(name);
  Findings all = evaluator_.take_findings();
  all.insert(all.end(), findings_.begin() + (origin ? before : 0), findings_.end());
  append(all, faults_of_settings());
  if (has_errors(at_settings(all))) origin.reset();
  finish_findings(all);
  return {std::move(origin), std::move(all)};
}

std::optional<Origin> Planner::origin(const std::string& name) {
  declare_catalogue(name);
  return evaluator_.origin(name);
}

}  // namespace detail

std::vector<std::optional<Origin>> explain_values(const Inputs& inputs,
                                                  const std::vector<std::string>& names,
                                                  std::shared_ptr<const Catalogue> catalogue) {
  std::vector<std::optional<Origin>> origins(names.size());
  auto vehicle = read_vehicle(inputs.vehicle);
  if (!vehicle) return origins;
  vehicle->key = inputs.vehicle_name;
  detail::Planner planner(inputs.project, std::make_shared<const Vehicle>(std::move(*vehicle)),
                          std::move(catalogue));
  std::ranges::transform(names, origins.begin(),
                         [&](const std::string& name) { return planner.origin(name); });
  return origins;
}

Built<std::optional<Origin>> explain_value(const Inputs& inputs, const std::string& name) {
  auto vehicle = read_vehicle(inputs.vehicle);
  if (!vehicle) return {std::nullopt, std::move(vehicle.error())};
  vehicle->key = inputs.vehicle_name;
  auto catalogue = read_catalogue(inputs.project);
  auto told = detail::Planner(inputs.project, std::make_shared<const Vehicle>(std::move(*vehicle)),
                              std::make_shared<const Catalogue>(std::move(catalogue.value)))
                  .explain(name);
  // Faults of the catalogue are those of things that this value may have nothing to do with.
  const Findings wrong = detail::at_settings(catalogue.findings);
  if (has_errors(wrong)) told.value.reset();
  const bool unexplained = !told.value && !has_errors(told.findings);
  detail::append(told.findings, unexplained ? catalogue.findings : wrong);
  return told;
}

}  // namespace ribbay
