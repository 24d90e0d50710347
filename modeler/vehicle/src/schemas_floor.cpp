#include "schema_fields.hpp"

namespace ribbay::detail {

namespace {

std::vector<Field> layer_fields() {
  return {
      text_field("name").needed().means("What it is called, as a name: deck, insulation."),
      positive_field("thickness").needed().means("Its thickness."),
      text_field("material").means("What it is made of."),
      flag_field("soft").otherwise("false").means(
          "A bolt would crush it, as it would insulation: each bolt through it takes a compression "
          "sleeve as long as the layer is thick."),
  };
}

std::vector<Field> axle_fields() {
  return {
      position_field("x").needed().means("Position of the wheel centres; the front axle may lie in "
                                         "front of the load floor."),
      positive_field("track").needed().means("Distance of the left and right wheels."),
      weight_field("limit").needed().means("Largest permitted axle load."),
      mass_field("empty").at_least(0).at_most(kHeaviest).means(
          "Axle load of the empty van; not needed beside [weighbridge], whose reading counts."),
      weight_field("wheel_limit").means("Largest permitted load of each of its wheels."),
  };
}

}  // namespace

SchemaPtr floor_schema() {
  return schema("floor", "The floor between its surface and the joists.",
                {
                    list_field("layers", layer_fields())
                        .items(0, 20)
                        .means("Its layers from the surface down."),
                    size_field("backing").otherwise("0 mm").means(
                        "Thickness of the plates under it that the nuts of its bolts bear on; 0 "
                        "for none."),
                });
}

SchemaPtr joist_schema() {
  return schema(
      "joist", "A beam under the floor that can take a bolt, or a row of them.",
      {
          choice_field("runs", {"across", "along"})
              .otherwise("across")
              .means("Across the van or along it."),
          position_field("at").needed().means(
              "Middle of the first one: x when it runs across, y when along."),
          count(),
          pitch(),
          positive_field("width").needed().means("What a bolt may hit."),
          size_field("flange").otherwise("0 mm").means(
              "Thickness of its metal that a bolt passes before its nut; 0 when nobody knows."),
          position_field("from").means("Its right or rear end; otherwise the edge of the floor."),
          position_field("to").means("Its left or front end; otherwise the edge of the floor."),
      });
}

SchemaPtr hard_point_schema() {
  return schema("hard_point", "A place in the floor made to be bolted to, or a row of them.",
                {
                    position_field("x").needed().means("x of the first one."),
                    position_field("y").needed().means("y of the first one."),
                    count(),
                    pitch(),
                    choice_field("row", {"along", "across"})
                        .otherwise("along")
                        .means("Whether a row goes on forward or to the left."),
                    text_field("thread").needed().means("Its thread, such as M8."),
                    text_field("strength").means("What it holds, and who says so."),
                });
}

SchemaPtr no_drill_schema() {
  return schema("no_drill", "A part of the floor that must not be drilled.",
                {
                    position_field("from").needed().means("Its rear end."),
                    position_field("to").needed().means("Its front end."),
                    position_field("right").needed().means("y of its right edge."),
                    position_field("left").needed().means("y of its left edge."),
                    text_field("what").needed().means("What lies below: fuel tank, brake line."),
                    size_field("below").otherwise("0 mm").means(
                        "How far below the surface of the floor it begins; 0 when nobody knows."),
                });
}

SchemaPtr axle_schema() {
  return schema("axle", "The two axles.",
                {
                    table_field("front", axle_fields()).means("The front axle."),
                    table_field("rear", axle_fields()).means("The rear axle."),
                });
}

SchemaPtr weighbridge_schema() {
  return schema("weighbridge",
                "What a weighbridge read with the van empty; it replaces the axles' empty.",
                {
                    date_field("date").needed().means("When it was weighed."),
                    weight_field("front").needed().means("Reading under the front axle."),
                    weight_field("rear").needed().means("Reading under the rear axle."),
                    weight_field("left").means("Reading under the left wheels of both axles."),
                    weight_field("right").means("Reading under the right wheels of both axles."),
                    weight_field("total").means("Reading of the whole van at once."),
                    // Road weighbridges mostly read in steps of 20 kg: common practice, no source.
                    mass_field("step").above(0).at_most(100).otherwise("20 kg").means(
                        "Step in which the weighbridge reads."),
                    quantity_field("fuel", dimension::none)
                        .at_least(0)
                        .at_most(1)
                        .means("Share of a full tank: 1 is full, 0.5 half full."),
                    count_field("persons").at_least(0).at_most(20).otherwise("0").means(
                        "How many people were aboard."),
                    // Mass of one person: Regulation (EU) 1230/2012, annex I part A, 2.6.2.
                    weight_field("person").otherwise("75 kg").means("Mass of each of them."),
                    position_field("seat").means(
                        "x where they sat; without it their mass stays in the readings."),
                });
}

}  // namespace ribbay::detail
