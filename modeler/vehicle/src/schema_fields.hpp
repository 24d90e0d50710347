#pragma once

#include "spec/fields.hpp"
#include "vehicle/vehicle.hpp"

/// Short forms for the schemas of vehicle files.
namespace ribbay::detail {

/// Stated limits: far beyond any van, and they keep absurd input from costing time.
inline constexpr double kFarthest = 50'000.0;
inline constexpr double kHeaviest = 100'000.0;

/// A position, which may lie behind or to the right of the origin.
inline FieldMaker position_field(std::string name) {
  return length_field(std::move(name)).at_least(-kFarthest).at_most(kFarthest);
}
/// A size, 0 or more.
inline FieldMaker size_field(std::string name) {
  return length_field(std::move(name)).at_least(0).at_most(kFarthest);
}
inline FieldMaker positive_field(std::string name) {
  return length_field(std::move(name)).above(0).at_most(kFarthest);
}
inline FieldMaker weight_field(std::string name) {
  return mass_field(std::move(name)).above(0).at_most(kHeaviest);
}

inline FieldMaker count() {
  return count_field("count").at_least(1).at_most(50).otherwise("1").means(
      "How many of them, `pitch` apart; numbered from 1.");
}
inline FieldMaker pitch() {
  return positive_field("pitch").means("Distance from one to the next.");
}

inline SchemaPtr schema(std::string name, std::string meaning, std::vector<Field> fields) {
  return std::make_shared<const Schema>(
      Schema{std::move(name), std::move(meaning), std::move(fields)});
}

SchemaPtr scan_schema();
// What stands in the room or opens it.
SchemaPtr rib_schema();
SchemaPtr bow_schema();
SchemaPtr arch_schema();
SchemaPtr opening_schema();
SchemaPtr channel_schema();
// The floor and what lies under it.
SchemaPtr floor_schema();
SchemaPtr joist_schema();
SchemaPtr hard_point_schema();
SchemaPtr no_drill_schema();
SchemaPtr axle_schema();
SchemaPtr weighbridge_schema();

}  // namespace ribbay::detail
