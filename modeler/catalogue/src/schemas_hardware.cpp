#include "schemas.hpp"

#include <numbers>

namespace ribbay::detail {

namespace {

/// A point or a size in a plane.
FieldMaker flat_point(std::string name) {
  return vector_field(std::move(name)).items(2, 2);
}

SchemaPtr slide_schema() {
  return handed_schema(
      "slide", "A pair of side-mounted drawer slides.",
      {
          positive("length").needed().means("Closed."),
          positive("travel").needed().means("How far the drawer comes out."),
          positive("thickness").needed().means("Space each slide takes beside the drawer."),
          positive("height").needed().means("Its size upright."),
          mass_field("load").needed().above(0).means("Permitted load of the pair."),
          mass().needed().means("Mass of the pair."),
          flag_field("locks_in").otherwise("false").means(
              "Whether it stays closed until it is released by hand."),
          flag_field("locks_out").otherwise("false").means("The same when it is out."),
      },
      "symmetric");
}

SchemaPtr hinge_schema() {
  return handed_schema(
      "hinge", "A concealed hinge with a cup in the door.",
      {
          angle_field("opening")
              .needed()
              .above(0)
              .at_most(std::numbers::pi)
              .means("Largest angle it opens to."),
          positive("cup_diameter").needed().means("Of the cup in the door."),
          positive("cup_depth").needed().means("Of the cup in the door."),
          positive("cup_edge").needed().means("Middle of the cup from the door's edge."),
          length_field("axis_inset")
              .needed()
              .means("Turning axis from the door's hinge edge, towards the middle of the door."),
          length_field("axis_out")
              .needed()
              .means("Turning axis in front of the door's outer face; negative: behind it."),
          mass().needed().means("Mass of one hinge with its plate."),
      },
      "symmetric");
}

SchemaPtr butt_hinge_schema() {
  return handed_schema(
      "butt_hinge",
      "A hinge of two flat leaves on a pin. A continuous one is bought in lengths and sawn off.",
      {
          reference_field("material", "material").needed().means("What it is made of."),
          positive("leaf").needed().means("Width of one leaf, from the axis of the pin."),
          positive("length").needed().means("Along the pin; of a continuous one, as bought."),
          positive("thickness").needed().means("Of a leaf."),
          positive("knuckle").needed().means("Outside diameter of the rolled part round the pin."),
          angle_field("opening")
              .above(0)
              .at_most(2 * std::numbers::pi)
              .otherwise("180 deg")
              .means("Largest angle between its leaves; closed they lie on each other."),
          flag_field("continuous").otherwise("false").means("Whether it is sawn to length."),
          reference_field("screw", "bolt").needed().means("What goes into each hole."),
          positive("hole_row").needed().means("Its holes from the axis of the pin."),
          positive("first_hole").needed().means("Its outermost holes from each end."),
          length_field("hole_spacing").at_least(5).needed().means("Largest distance from hole to hole."),
          mass().needed().means("Mass of one; of a continuous one, of the length as bought."),
      },
      "symmetric");
}

SchemaPtr bracket_schema() {
  return handed_schema(
      "bracket", "An inside-corner bracket: two flat legs at a right angle.",
      {
          reference_field("material", "material").needed().means("What it is made of."),
          positive("leg").needed().means("Outside length of each leg."),
          positive("thickness").needed().means("Thickness of the legs."),
          positive("width").needed().means("Its width."),
          positive("hole_from_corner")
              .needed()
              .means("Middle of the bolt hole from the outside of the corner."),
          reference_field("bolt", "bolt").needed().means("Bolt it takes, one in each leg."),
          reference_field("nut", "nut").means("Slot nut behind each bolt."),
      },
      "symmetric");
}

SchemaPtr plate_schema() {
  return handed_schema(
      "plate", "A flat plate over the faces of members that meet at a right angle.",
      {
          reference_field("material", "material").needed().means("What it is made of."),
          positive("thickness").needed().means("Its thickness."),
          flat_point("size").above(0).needed().means(
              "From its inner corner: along one member, along the other."),
          flag_field("triangle").otherwise("false").means("Whether its outer corner is cut off."),
          list_field("holes", {flat_point("at").needed().means("Its middle.")})
              .needed()
              .items(2, 50)
              .means("Its bolt holes, from the inner corner."),
          reference_field("bolt", "bolt").needed().means("Bolt in each hole."),
          reference_field("nut", "nut").means("Slot nut behind each bolt."),
      },
      "symmetric");
}

SchemaPtr connector_schema() {
  return entry_schema(
      "connector",
      "A connector that hides in the end of a slotted member and pulls it to the slot of another.",
      {
          positive("bore").needed().means("Diameter of the cross hole in the member that ends."),
          positive("from_end").needed().means("Middle of the cross hole from the end."),
          positive("depth").needed().means("Depth of the cross hole."),
          positive("foot_length").needed().means("Of its foot in the slot of the other member."),
          positive("foot_height").needed().means("Of its foot."),
          mass().needed().means("Mass of one."),
      });
}

SchemaPtr bolt_schema() {
  return entry_schema(
      "bolt", "A bolt or screw with its head and holes.",
      {
          choice_field("kind", {"machine", "wood", "pin"})
              .otherwise("machine")
              .means("Metric thread; a screw that cuts its own thread in wood; a pin without thread "
                     "that carries a shelf."),
          positive("diameter").needed().means("Outside diameter of the thread."),
          positive("length").needed().means("Under the head; of a countersunk one over all."),
          positive("head_diameter").needed().means("Largest diameter of the head."),
          positive("head_height").needed().means("Height of the head."),
          flag_field("countersunk")
              .otherwise("false")
              .means("Whether the head goes into the material."),
          positive("clearance_hole").needed().means("Diameter of the hole it passes through."),
          positive("pilot_hole").means("Diameter of the hole a wood screw bites in."),
          positive("spanner").means("Across the flats of its drive."),
          text_field("strength_class").means("By ISO 898-1 or ISO 3506-1, \"8.8\"."),
          mass().means("Mass of one; otherwise shank and head as full steel cylinders."),
      });
}

SchemaPtr nut_schema() {
  return entry_schema("nut", "A nut for a slot.",
                      {
                          positive("diameter").needed().means("Of the thread."),
                          positive("width").needed().means("Across the slot."),
                          positive("length").needed().means("Along the slot."),
                          positive("height").needed().means("Its thickness."),
                          quantity_field("pull_out", dimension::force)
                              .above(0)
                              .means("Permitted pull out of the slot."),
                          mass().needed().means("Mass of one."),
                      });
}

SchemaPtr handle_schema() {
  return handed_schema("handle", "A bow handle with two screws.",
                       {
                           positive("length").needed().means("Over all."),
                           positive("width").needed().means("Of its bow."),
                           positive("projection").needed().means("How far it stands out."),
                           length_field("hole_spacing").at_least(5).needed().means("Between its two screws."),
                           positive("hole_diameter").needed().means("Of the holes in the front."),
                           mass().needed().means("With its screws."),
                       },
                       "symmetric");
}

SchemaPtr dowel_schema() {
  return entry_schema(
      "dowel", "A round pin in blind holes of two parts.",
      {
          reference_field("material", "material").needed().means("What it is made of."),
          positive("diameter").needed().means("Its diameter, and of its holes."),
          positive("length").needed().means("Its length."),
      });
}

SchemaPtr gasket_schema() {
  return entry_schema(
      "gasket", "A strip that a panel is pressed on.",
      {
          positive("width").needed().means("Its width."),
          positive("thickness").needed().means("As bought."),
          positive("compressed").needed().means("Its thickness when the panel is screwed down."),
          mass_field("metre_mass").at_least(0).needed().means("Mass of one metre."),
      });
}

}  // namespace

NamedSchemas hardware_schemas() {
  return {{"slide", slide_schema()},
          {"hinge", hinge_schema()},
          {"butt_hinge", butt_hinge_schema()},
          {"bracket", bracket_schema()},
          {"plate", plate_schema()},
          {"connector", connector_schema()},
          {"bolt", bolt_schema()},
          {"nut", nut_schema()},
          {"dowel", dowel_schema()},
          {"gasket", gasket_schema()},
          {"handle", handle_schema()}};
}

}  // namespace ribbay::detail
