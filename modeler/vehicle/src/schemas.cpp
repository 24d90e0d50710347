#include "vehicle/vehicle.hpp"
#include "schema_fields.hpp"

namespace ribbay {

using namespace detail;

namespace {

constexpr std::size_t kMostHeights = 60;

FieldMaker measured_field(std::string name) {
  return lengths_field(std::move(name)).at_least(0).at_most(kFarthest).items(0, kMostHeights);
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
              .means("Thickness of the floor between its surface and the joists; where [floor] "
                     "lists its layers, their sum."),
          position_field("rear_sill")
              .otherwise("0 mm")
              .means("x of the rear sill's inner edge; nothing stands behind it."),
          weight_field("gross_limit").means("Largest permitted mass of the loaded van."),
          positive_field("wheelbase")
              .means("Distance of the axles as the papers say; checked against [axle]."),
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

}  // namespace

const std::vector<std::pair<std::string, SchemaPtr>>& vehicle_schemas() {
  static const std::vector<std::pair<std::string, SchemaPtr>> schemas{
      {"vehicle", vehicle_schema()},
      {"station", station_schema()},
      {"scan", scan_schema()},
      {"diagonal", diagonal_schema()},
      {"rib", rib_schema()},
      {"bow", bow_schema()},
      {"arch", arch_schema()},
      {"opening", opening_schema()},
      {"channel", channel_schema()},
      {"floor", floor_schema()},
      {"joist", joist_schema()},
      {"hard_point", hard_point_schema()},
      {"no_drill", no_drill_schema()},
      {"axle", axle_schema()},
      {"weighbridge", weighbridge_schema()},
  };
  return schemas;
}

bool stands_once(std::string_view table) {
  for (const char* once : {"vehicle", "scan", "floor", "axle", "weighbridge"}) {
    if (table == once) return true;
  }
  return false;
}

}  // namespace ribbay
