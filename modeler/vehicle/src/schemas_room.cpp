#include "schema_fields.hpp"

namespace ribbay::detail {

namespace {

/// No wheel arch is rounder, and a larger one would only cost time.
constexpr double kRoundest = 2000.0;

FieldMaker side_or_both() {
  return choice_field("side", {"left", "right", "both"}).needed().means("Which wall.");
}

std::vector<Field> leaf_fields() {
  return {
      size_field("intrudes")
          .otherwise("0 mm")
          .means("How far the closed door stands into the room beyond the wall."),
      choice_field("swing", {"out", "in", "slides"})
          .means("Where it goes when opened; otherwise a sliding door slides and others swing "
                 "out."),
      size_field("clear_way")
          .otherwise("0 mm")
          .means("Depth of the floor inside the opening that must stay free."),
  };
}

std::vector<Field> access_hole_fields() {
  return {
      position_field("x").needed().means("Its middle."),
      positive_field("width").needed().means("Its size along the van."),
      positive_field("height").needed().means("Its height."),
  };
}

}  // namespace

SchemaPtr rib_schema() {
  return schema("rib", "An upright rib, or a row of them, that stands into the room from the skin.",
                {
                    side_or_both(),
                    position_field("x").needed().means("Middle of the first one."),
                    count(),
                    pitch(),
                    position_field("last").means(
                        "Middle of the last one as measured from the same end as x; it checks "
                        "count and pitch."),
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

SchemaPtr bow_schema() {
  return schema(
      "bow", "A bow under the roof, or a row of them, across the van.",
      {
          position_field("x").needed().means("Middle of the first one."),
          count(),
          pitch(),
          positive_field("width").needed().means("Its size along the van."),
          positive_field("depth").needed().means(
              "How far it stands into the room, measured plumb from the roof skin."),
          position_field("from").means("y of its right end; otherwise as far as the roof reaches."),
          position_field("to").means("y of its left end; otherwise as far as the roof reaches."),
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
                    size_field("edge_radius")
                        .at_most(kRoundest)
                        .otherwise("0 mm")
                        .means("Rounding of its inboard upper edge, seen from behind."),
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
                    table_field("leaf", leaf_fields()).means("The door in it."),
                });
}

SchemaPtr channel_schema() {
  return schema("channel", "Room behind the wall along a sill, for cables and hoses.",
                {
                    choice_field("side", {"left", "right"}).needed().means("Which wall."),
                    position_field("from").needed().means("Its rear end."),
                    position_field("to").needed().means("Its front end."),
                    size_field("bottom").otherwise("0 mm").means("Its lower edge."),
                    positive_field("top").needed().means("Its upper edge."),
                    positive_field("depth").needed().means("How far it reaches behind the wall."),
                    list_field("holes", access_hole_fields())
                        .items(0, 50)
                        .means("Access holes in its inner sheet."),
                });
}

}  // namespace ribbay::detail
