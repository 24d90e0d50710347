#include "layout/again.hpp"

#include "catalogue/shape_files.hpp"
#include "planner.hpp"
#include "prices.hpp"
#include "sawing.hpp"
#include "tolerances.hpp"

#include <algorithm>
#include <array>
#include <filesystem>

namespace ribbay {

using namespace detail;

namespace {

/// A file of another kind given for a project: told at once, not table by table.
std::optional<Finding> other_file(const Node& root) {
  const auto has = [&](const auto& named) { return root.find(named.first) != nullptr; };
  if (root.find("project") != nullptr || root.find("module") != nullptr) return std::nullopt;
  const bool vehicle = std::ranges::any_of(vehicle_schemas(), has);
  const bool catalogue = std::ranges::any_of(catalogue_schemas(), has);
  if (!vehicle && !catalogue) return std::nullopt;
  Finding finding = input_error(vehicle ? "layout.is_vehicle" : "layout.is_catalogue", root.place);
  finding.subjects = {root.place.file};
  return finding;
}

/// What is wrong with a project whose vehicle cannot be read: nothing of it hides behind that.
Findings check_without_vehicle(const Document& project) {
  Findings findings;
  auto catalogue = std::make_shared<const Catalogue>(take(read_catalogue(project), findings));
  Findings more = Planner(project, nullptr, std::move(catalogue)).run().findings;
  findings.insert(findings.end(), std::make_move_iterator(more.begin()),
                  std::make_move_iterator(more.end()));
  return findings;
}

}  // namespace

Built<std::optional<Inputs>> read_inputs(const std::string& path,
                                         const std::vector<std::string>& overrides,
                                         const ReadFile& read) {
  Findings findings;
  Inputs inputs;
  inputs.project = take(load_document(path, overrides, read), findings);
  if (has_errors(findings)) return {std::nullopt, std::move(findings)};
  if (auto other = other_file(inputs.project.root)) {
    findings.push_back(std::move(*other));
    return {std::nullopt, std::move(findings)};
  }
  Findings no_shapes = add_shape_files(inputs.project, read);
  findings.insert(findings.end(), no_shapes.begin(), no_shapes.end());
  // The vehicle's path is needed before anything else can be computed; it is plain text, never an
  // expression.
  Evaluator evaluator(inputs.project, {});
  evaluator.declare("project", project_schema());
  const auto vehicle = evaluator.text("project", "vehicle");
  const auto check_rest = [&] {
    Findings rest = check_without_vehicle(inputs.project);
    findings.insert(findings.end(), rest.begin(), rest.end());
  };
  if (!vehicle) {  // what is missing or wrong is said with the rest of [project]
    check_rest();
    return {std::nullopt, std::move(findings)};
  }
  inputs.vehicle_name = std::filesystem::path(*vehicle).stem().string();
  inputs.vehicle = take(load_document(*vehicle, {}, read), findings);
  // A vehicle file that cannot be opened is a fault of the line that names it.
  const Node* named = inputs.project.root.find("project")->find("vehicle");
  for (Finding& finding : findings) {
    if (finding.place && finding.place->line == 0) finding.place = named->place;
  }
  Findings no_scan = add_scan_file(inputs.vehicle, read);
  findings.insert(findings.end(), no_scan.begin(), no_scan.end());
  if (has_errors(findings)) {
    check_rest();
    return {std::nullopt, std::move(findings)};
  }
  return {std::move(inputs), std::move(findings)};
}

Built<std::optional<Layout>> lay_out(const Inputs& inputs) {
  return lay_out(inputs, nullptr);
}

Built<std::optional<Layout>> lay_out(const Inputs& inputs,
                                     std::shared_ptr<const Catalogue> catalogue) {
  auto vehicle = read_vehicle(inputs.vehicle);
  if (!vehicle) {
    Findings findings = std::move(vehicle.error());
    const Findings rest = check_without_vehicle(inputs.project);
    findings.insert(findings.end(), rest.begin(), rest.end());
    return {std::nullopt, std::move(findings)};
  }
  vehicle->key = inputs.vehicle_name;
  Findings findings = vehicle->remarks;
  if (!catalogue)
    catalogue = std::make_shared<const Catalogue>(take(read_catalogue(inputs.project), findings));
  auto planned = Planner(inputs.project, std::make_shared<const Vehicle>(std::move(*vehicle)),
                         std::move(catalogue))
                     .run();
  findings.insert(findings.end(), planned.findings.begin(), planned.findings.end());
  return {std::move(planned.value), std::move(findings)};
}

std::vector<NamedSchema> project_schemas() {
  std::vector<NamedSchema> all = {{"project", "[project]", project_schema(), "project"}};
  all.push_back({"one_at_a_time", "[one_at_a_time.NAME]", one_at_a_time_schema(), "one_at_a_time",
                 true});
  all.push_back({"saw", "[saw]", saw_schema(), "saw"});
  all.push_back({"tolerances", "[tolerances]", tolerances_schema(), "tolerances"});
  all.push_back({"offcut", "[offcut.NAME]", offcut_schema(), "offcut", true});
  all.push_back({"price", "[price.KEY]", price_schema(), "price", true});
  all.push_back({"rates", "[rates]", rates_schema(), "rates"});
  for (const Kind& kind : kinds()) {
    all.push_back({kind.name, "[module.NAME] with kind = \"" + kind.name + "\"", kind.schema,
                   "module", true});
  }
  for (const auto& [name, schema] : catalogue_schemas())
    all.push_back({name, "[" + name + ".NAME]", schema, name, true});
  for (const auto& [name, schema] : vehicle_schemas()) {
    const bool many = !stands_once(name);
    all.push_back({name, "[" + name + (many ? ".NAME]" : "]") + " in a vehicle file", schema, name,
                   many, true});
  }
  return all;
}

}  // namespace ribbay
