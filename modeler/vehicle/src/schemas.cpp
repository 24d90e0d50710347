#include "schemas.hpp"

#include "spec/fields.hpp"

namespace ribbay {

namespace {

/// Stated limits: far beyond any van, and they keep absurd input from costing time.
constexpr double kFarthest = 50'000.0;
constexpr std::size_t kMostHeights = 60;

/// A position, which may lie behind or to the right of the origin.
FieldMaker position_field(std::string name) {
  return length_field(std::move(name)).at_least(-kFarthest).at_most(kFarthest);
}
/// A size, 0 or more.
FieldMaker size_field(std::string name) {
  return length_field(std::move(name)).at_least(0).at_most(kFarthest);
}
FieldMaker positive_field(std::string name) {
  return length_field(std::move(name)).above(0).at_most(kFarthest);
}
FieldMaker measured_field(std::string name) {
  return lengths_field(std::move(name)).at_least(0).at_most(kFarthest).items(0, kMostHeights);
}

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
          measured_field("heights").means(
              "Heights above the floor at which the stations were measured, from 0 upward; a "
              "station may have its own."),
          surveyed_field().otherwise("skin").means(
              "What the half widths were measured to: the bare skin, the face of the ribs, or a "
              "finished lining. Ribs stand into the room only in front of the skin."),
          measured_field("uncertainty")
              .otherwise("0 mm")
              .means("By how much a measured half width may be wrong, either way: one number, or "
                     "one for each height."),
          size_field("floor_thickness")
              .otherwise("0 mm")
              .means("Thickness of the floor between its surface and the joists."),
          position_field("rear_sill")
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
          position_field("x").needed().means(
              "Distance in front of the rear edge of the load floor."),
          measured_field("heights").means(
              "Heights of this station, from 0 upward; otherwise those of the vehicle."),
          measured_field("both").means(
              "Half width at each height where left and right are the same."),
          measured_field("left").means("Half width to the left at each height."),
          measured_field("right").means("Half width to the right at each height."),
          measured_field("full").means(
              "Width from wall to wall at each height. Beside left and right it checks them; "
              "beside "
              "one of the two it gives the other, which is then uncertain by both readings."),
          surveyed_field().means("What was measured to here; otherwise as the vehicle says."),
          measured_field("uncertainty")
              .means("By how much a half width may be wrong here, one number or one for each "
                     "height; otherwise as the vehicle says."),
          measured_field("behind").means(
              "How far the skin lies behind what was measured here, level, one number or one for "
              "each height. Needed where the stations of a vehicle measure different things, or "
              "wanted to bring them all to the skin; at rib faces otherwise the depth of the "
              "nearest rib on that side, over its heights."),
          size_field("above").otherwise("0 mm").means(
              "How far the bare roof lies above the topmost height, where the station is brought "
              "to the skin."),
          text_field("note").means("Anything to remember about this station."),
      });
}

std::vector<Field> diagonal_end_fields() {
  return {
      text_field("station").means("A station on whose outline the end lies."),
      choice_field("side", {"left", "right", "centre"})
          .means("Which wall of that station, or its centre line."),
      size_field("height").means("Height above the floor on that station."),
      position_field("x").means("A free point instead: its x."),
      position_field("y").means("Its y, positive to the left."),
      position_field("z").means("Its z above the floor."),
  };
}

SchemaPtr diagonal_schema() {
  return schema("diagonal", "A distance taped from point to point, to check the survey by.",
                {
                    table_field("from", diagonal_end_fields()).needed().means("One end."),
                    table_field("to", diagonal_end_fields()).needed().means("The other end."),
                    positive_field("length").needed().means("What the tape said."),
                });
}

FieldMaker count() {
  return count_field("count").at_least(1).at_most(50).otherwise("1").means(
      "How many of them, `pitch` apart; numbered from 1.");
}
FieldMaker pitch() {
  return positive_field("pitch").means("Distance from one to the next.");
}
FieldMaker side_or_both() {
  return choice_field("side", {"left", "right", "both"}).needed().means("Which wall.");
}

SchemaPtr rib_schema() {
  return schema("rib", "An upright rib, or a row of them, that stands into the room from the skin.",
                {
                    side_or_both(),
                    position_field("x").needed().means("Middle of the first one."),
                    count(),
                    pitch(),
                    positive_field("width").needed().means("Its size along the van."),
                    positive_field("depth").needed().means(
                        "How far it stands into the room, measured level from the skin."),
                    size_field("from").otherwise("0 mm").means("Its lower end."),
                    positive_field("to").needed().means("Its upper end."),
                    choice_field("section", {"box", "channel", "hat", "solid"})
                        .means("Its cross-section, where it has been seen: a box or a hat is "
                               "closed by the skin, a channel is open to one side."),
                    positive_field("wall").means("Thickness of its sheet."),
                    flag_field("steel").otherwise("true").means("Whether a magnet holds on it."),
                });
}

SchemaPtr arch_schema() {
  return schema("arch", "A wheel arch.",
                {
                    side_or_both(),
                    position_field("from").needed().means("Its rear end."),
                    position_field("to").needed().means("Its front end."),
                    positive_field("height").needed().means("Its top above the floor."),
                    position_field("half_width")
                        .needed()
                        .above(0)
                        .means("Distance of its inboard face from the centre line."),
                    size_field("radius").otherwise("0 mm").means(
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
                    position_field("from").needed().means(
                        "Rear edge of a side opening (x), right edge of the rear one (y)."),
                    position_field("to").needed().means(
                        "Front edge of a side opening (x), left edge of the rear one (y)."),
                    position_field("bottom").otherwise("0 mm").means("Its lower edge."),
                    position_field("top").needed().means("Its upper edge."),
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
          position_field("from").means("Its right or rear end; otherwise the edge of the floor."),
          position_field("to").means("Its left or front end; otherwise the edge of the floor."),
      });
}

std::vector<Field> axle_fields() {
  return {
      position_field("x").needed().means("Position of the wheel centres; the front axle may lie in "
                                         "front of the load floor."),
      positive_field("track").needed().means("Distance of the left and right wheels."),
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
      {"vehicle", vehicle_schema()}, {"station", station_schema()}, {"diagonal", diagonal_schema()},
      {"rib", rib_schema()},         {"arch", arch_schema()},       {"opening", opening_schema()},
      {"joist", joist_schema()},     {"axle", axle_schema()},
  };
  return schemas;
}

bool detail::stands_once(std::string_view table) {
  return table == "vehicle" || table == "axle";
}

}  // namespace ribbay
