#include "schemas.hpp"

#include <numbers>

namespace ribbay::detail {

namespace {

FieldMaker boxes() {
  return keyed_field("box",
                     {
                         point("at").needed().means("Lowest corner: left, front, bottom."),
                         point("size").above(0).needed().means("Width, depth, height."),
                     })
      .items(0, 50);
}

FieldMaker rounds() {
  return keyed_field("round",
                     {
                         point("at").needed().means("Middle of the end where it begins."),
                         choice_field("along", {"x", "y", "z"})
                             .otherwise("z")
                             .means("The axis that it runs along from there."),
                         positive("diameter").needed().means("Its diameter."),
                         positive("length").needed().means("Its length."),
                     })
      .items(0, 50);
}

FieldMaker holes(std::string name) {
  return keyed_field(
             std::move(name),
             {
                 point("at").needed().means("Its middle, where the head of its screw rests."),
                 choice_field("into", face_names())
                     .otherwise("bottom")
                     .means("The way its screw goes in."),
                 positive("diameter").needed().means("Its diameter."),
             })
      .items(0, 50);
}

SchemaPtr fitting_schema() {
  return handed_schema(
      "fitting",
      "A small bought part that is screwed on. It is fixed with z = 0 on what carries it and "
      "stands "
      "out to +z.",
      {
          choice_field("use", {"magnet", "latch", "stay", "strap", "leg", "post", "drain", "foot", "grip",
                               "clamp", "hinge pin", "insert", "clip", "other"})
              .needed()
              .means("What it is for."),
          boxes().means("Boxes of its body."),
          rounds().means("Rounds of its body."),
          holes("hole").means("Holes that it is fixed through; \"head\" is the far end of a stay, for "
                              "which nothing is drilled."),
          positive("cut_out").means("Diameter of the opening it needs in what carries it."),
          quantity_field("hold", dimension::force)
              .above(0)
              .means("Permitted pull of a magnet, latch or strap."),
          table_field("folds",
                      {vector_field("at").needed().means(
                           "A point on the axis that it turns about, which runs along its y."),
                       angle_field("angle")
                           .otherwise("90 deg")
                           .above(0)
                           .at_most(std::numbers::pi)
                           .means("How far it turns, from +z towards +x."),
                       FieldMaker("moves", FieldKind::texts)
                           .needed()
                           .items(1, 50)
                           .means("Names of the boxes and rounds that turn.")})
              .means("What of it folds, such as the tube of a table leg."),
          mass().needed().means("Mass of one."),
          colour(),
      },
      "symmetric");
}

std::vector<Field> air_fields() {
  std::vector<Field> fields;
  for (const std::string& face : face_names()) {
    fields.push_back(
        length_field(face).at_least(0).means("Free air beside its " + face + " face."));
  }
  return fields;
}

std::vector<Field> hot_fields() {
  std::vector<Field> fields;
  for (const std::string& face : face_names()) {
    fields.push_back(table_field(face, {quantity_field("reaches", dimension::temperature)
                                            .needed()
                                            .above(0)
                                            .means("How hot it gets."),
                                        positive("gap").needed().means(
                                            "Distance that what burns or softens must keep.")})
                         .means("Its " + face + " face."));
  }
  return fields;
}

std::vector<Field> opens_fields() {
  return {
      choice_field("face", face_names()).otherwise("front").means("The face that opens."),
      choice_field("way", {"swing", "lift", "drop", "pull"})
          .needed()
          .means("swing: about an upright edge; lift: about the upper edge, a lid about its rear "
                 "one; drop: about the lower edge; pull: straight out."),
      choice_field("hinge", face_names())
          .means("The side whose edge it turns about; otherwise left (back at a side face), top, "
                 "bottom, as the way says, and back for a lid."),
      text_field("leaf").means(
          "The box of the body that moves. Without it, the room in front is kept clear."),
      angle_field("angle")
          .above(0)
          .at_most(std::numbers::pi)
          .otherwise("90 deg")
          .means("How far it turns."),
      positive("reach").means(
          "How far it comes out of its face; otherwise what its size and angle make of it."),
  };
}

std::vector<Field> comes_out_fields() {
  return {
      choice_field("towards", face_names()).otherwise("front").means("The way it is taken out."),
      count_field("fasteners")
          .at_least(0)
          .at_most(1000)
          .otherwise("0")
          .means("To undo at its fixings."),
      text_field("tool").means("What undoes them: \"screwdriver\", \"spanner 10 mm\"."),
      flag_field("on_sled").otherwise("false").means("Whether its sled comes out with it."),
  };
}

std::vector<Field> port_fields() {
  return {
      choice_field("kind", {"water", "coolant", "waste", "drain", "gas", "air", "exhaust", "cable"})
          .needed()
          .means("What goes through it."),
      point("at").needed().means("Its middle."),
      choice_field("out", face_names()).needed().means("The face it leaves through."),
      positive("diameter").needed().means("Outside diameter of what leaves."),
  };
}

SchemaPtr equipment_schema() {
  return handed_schema(
      "equipment",
      "Something bought that stands or hangs in a module. x runs to the right as seen from in "
      "front, "
      "y from the front to the back, z up, from the lower front left corner of its main body: its "
      "first box, or without boxes all of it.",
      {
          mass().needed().means("Mass, full where it holds a liquid."),
          mass_field("empty_mass").at_least(0).means("Mass as bought; otherwise the same."),
          boxes().means("Boxes of its body; the first begins at 0, 0, 0."),
          rounds().means("Rounds of its body."),
          FieldMaker("shape", FieldKind::path)
              .means("Its real shape, a closed body: a .step, .stp, .glb, .obj, .ply or .stl file. "
                     "Boxes then only say what is its main body, and which leaves move."),
          choice_field("shape_unit", {"mm", "cm", "m", "in"})
              .means("Unit of that file; STEP and .glb files say it by themselves, and then it is only "
                     "needed where they are wrong."),
          choice_field("shape_up", {"y", "z"})
              .means("The axis of that file that points up; otherwise y for .glb, z for others."),
          count_field("shape_turned")
              .at_least(0)
              .at_most(3)
              .otherwise("0")
              .means(
                  "Quarter turns of that file, counter-clockwise seen from above, until its front "
                  "looks to -y."),
          point("shape_at")
              .means("Where the lowest corner of what is in that file lies; otherwise 0, 0, 0."),
          list_field("feet", {point("at").needed().means("Where the foot stands.")})
              .items(0, 50)
              .means("Points it stands on; otherwise its whole underside."),
          holes("fixing").means("Holes that it is fixed through."),
          table_field("air", air_fields()).means("Free air it needs around it."),
          table_field("hot", hot_fields()).means("Faces that get hot."),
          keyed_field("opens", opens_fields()).items(0, 20).means("Its own doors, lids, drawers."),
          table_field("comes_out", comes_out_fields())
              .means("How it is taken out when it has failed."),
          quantity_field("life", dimension::none)
              .above(0)
              .at_most(100)
              .means("Years it is expected to last."),
          keyed_field("port", port_fields())
              .items(0, 50)
              .means("Where hoses, cables and ducts leave it."),
          colour(),
      },
      "none");
}

}  // namespace

NamedSchemas equipment_schemas() {
  return {{"fitting", fitting_schema()}, {"equipment", equipment_schema()}};
}

}  // namespace ribbay::detail
