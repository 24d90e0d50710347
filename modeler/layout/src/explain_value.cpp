#include "layout/project.hpp"
#include "planner.hpp"

namespace ribbay {

namespace detail {

Built<std::optional<Origin>> Planner::explain(const std::string& name) {
  auto origin = evaluator_.origin(name);
  Findings all = evaluator_.take_findings();
  all.insert(all.end(), findings_.begin(), findings_.end());
  finish_findings(all);
  return {std::move(origin), std::move(all)};
}

}  // namespace detail

Built<std::optional<Origin>> explain_value(const Inputs& inputs, const std::string& name) {
  auto vehicle = read_vehicle(inputs.vehicle);
  if (!vehicle) return {std::nullopt, std::move(vehicle.error())};
  vehicle->key = inputs.vehicle_name;
  // Faults of the catalogue are those of things that this value may have nothing to do with.
  auto catalogue = std::make_shared<const Catalogue>(read_catalogue(inputs.project).value);
  return detail::Planner(inputs.project, std::make_shared<const Vehicle>(std::move(*vehicle)),
                         std::move(catalogue))
      .explain(name);
}

}  // namespace ribbay
