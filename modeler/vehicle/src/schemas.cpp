#include "schemas.hpp"

#include "spec/fields.hpp"

namespace ribbay {

namespace {

SchemaPtr schema(std::string name, std::string meaning, std::vector<Field> fields) {
  return std::make_shared<const Schema>(
      Schema{std::move(name), std::move(meaning), std::move(fields)});
}

FieldMaker surveyed_field() {
  return choice_field("surveyed", {"skin", "rib_face", "lining"});
}

SchemaPtr vehicle_schema() {
  return schema(
      "vehicle", "The van as measured from the inside, and what it may carry.",
      {
          text_field("title").means("What people call it."),
          lengths_field("heights").at_least(0).means(
              "Heights above the floor at which the stations were measured, from 0 upward; a "
              "station "
              "may have its own."),
          surveyed_field().otherwise("skin").means(
              "What the half widths were measured to: the bare skin, the face of the ribs, or a "
              "finished lining. Ribs stand into the room only in front of the skin."),
          length_field("uncertainty")
              .at_least(0)
              .otherwise("0 mm")
              .means("By how much a measured half width may be wrong, either way."),
          length_field("floor_thickness")
              .at_least(0)
              .otherwise("0 mm")
              .means("Thickness of the floor between its surface and the joists."),
          length_field("rear_sill")
              .otherwise("0 mm")
              .means("x of the rear sill's inner edge; nothing stands behind it."),
          mass_field("gross_limit").above(0).means("Largest permitted mass of the loaded van."),
          choice_field("rear", {"open", "closed"})
              .otherwise("open")
              .means("Whether something solid closes the room at its rear end."),
          choice_field("front", {"open", "closed"})
              .otherwise("open")
              .means("Whether a bulkhead closes the room at its front end."),
      });
}

SchemaPtr station_schema() {
  return schema(
      "station",
      "A cross-section of the room: half widths from the centre line at heights above the floor.",
      {
          length_field("x").needed().means("Distance in front of the rear edge of the load floor."),
          lengths_field("heights").at_least(0).means(
              "Heights of this station, from 0 upward; otherwise those of the vehicle."),
          lengths_field("both").at_least(0).means(
              "Half width at each height where left and right are the same."),
          lengths_field("left").at_least(0).means("Half width to the left at each height."),
          lengths_field("right").at_least(0).means("Half width to the right at each height."),
          surveyed_field().means("What was measured to here; otherwise as the vehicle says."),
          length_field("uncertainty")
              .at_least(0)
              .means("By how much a half width may be wrong here; otherwise as the vehicle says."),
      });
}

FieldMaker count() {
  return count_field("count").at_least(1).at_most(100).otherwise("1").means(
      "How many of them, `pitch` apart; numbered from 1.");
}
FieldMaker pitch() {
  return length_field("pitch").above(0).means("Distance from one to the next.");
}
FieldMaker side_or_both() {
  return choice_field("side", {"left", "right", "both"}).needed().means("Which wall.");
}

SchemaPtr rib_schema() {
  return schema("rib", "An upright rib, or a row of them, that stands into the room from the skin.",
                {
                    side_or_both(),
                    length_field("x").needed().means("Middle of the first one."),
                    count(),
                    pitch(),
                    length_field("width").needed().above(0).means("Its size along the van."),
                    length_field("depth").needed().above(0).means(
                        "How far it stands into the room, measured level from the skin."),
                    length_field("from").at_least(0).otherwise("0 mm").means("Its lower end."),
                    length_field("to").needed().above(0).means("Its upper end."),
                });
}

SchemaPtr arch_schema() {
  return schema("arch", "A wheel arch.",
                {
                    side_or_both(),
                    length_field("from").needed().means("Its rear end."),
                    length_field("to").needed().means("Its front end."),
                    length_field("height").needed().above(0).means("Its top above the floor."),
                    length_field("half_width")
                        .needed()
                        .above(0)
                        .means("Distance of its inboard face from the centre line."),
                    length_field("radius").at_least(0).otherwise("0 mm").means(
                        "Rounding of its upper ends, seen from the side."),
                });
}

SchemaPtr opening_schema() {
  return schema("opening", "A door opening.",
                {
                    choice_field("kind", {"sliding", "hinged", "rear"})
                        .needed()
                        .means("How its door moves; `rear` is the opening behind the load floor."),
                    choice_field("side", {"left", "right"}).means("Wall of a side opening."),
                    length_field("from").needed().means(
                        "Rear edge of a side opening (x), right edge of the rear one (y)."),
                    length_field("to").needed().means(
                        "Front edge of a side opening (x), left edge of the rear one (y)."),
                    length_field("bottom").otherwise("0 mm").means("Its lower edge."),
                    length_field("top").needed().means("Its upper edge."),
                });
}

SchemaPtr joist_schema() {
  return schema(
      "joist", "A beam under the floor that can take a bolt, or a row of them.",
      {
          choice_field("runs", {"across", "along"})
              .otherwise("across")
              .means("Across the van or along it."),
          length_field("at").needed().means(
              "Middle of the first one: x when it runs across, y when along."),
          count(),
          pitch(),
          length_field("width").needed().above(0).means("What a bolt may hit."),
          length_field("from").means("Its right or rear end; otherwise the edge of the floor."),
          length_field("to").means("Its left or front end; otherwise the edge of the floor."),
      });
}

std::vector<Field> axle_fields() {
  return {
      length_field("x").needed().means("Position of the wheel centres; the front axle may lie in "
                                       "front of the load floor."),
      length_field("track").needed().above(0).means("Distance of the left and right wheels."),
      mass_field("limit").needed().above(0).means("Largest permitted axle load."),
      mass_field("empty").needed().at_least(0).means("Axle load of the empty van."),
  };
}

SchemaPtr axle_schema() {
  return schema("axle", "The two axles.",
                {
                    table_field("front", axle_fields()).means("The front axle."),
                    table_field("rear", axle_fields()).means("The rear axle."),
                });
}

}  // namespace

const std::vector<std::pair<std::string, SchemaPtr>>& vehicle_schemas() {
  static const std::vector<std::pair<std::string, SchemaPtr>> schemas{
      {"vehicle", vehicle_schema()}, {"station", station_schema()}, {"rib", rib_schema()},
      {"arch", arch_schema()},       {"opening", opening_schema()}, {"joist", joist_schema()},
      {"axle", axle_schema()},
  };
  return schemas;
}

SchemaPtr detail::vehicle_schema_of(std::string_view table) {
  for (const auto& [name, schema] : vehicle_schemas()) {
    if (name == table) return schema;
  }
  return nullptr;
}

}  // namespace ribbay
