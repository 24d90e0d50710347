#include "schemas.hpp"

#include "spec/fields.hpp"

#include <numbers>

namespace ribbay {

namespace {

constexpr Dimension kPerKelvin{.temperature = -1};

/// An entry's title, its own fields, and where its facts come from.
SchemaPtr entry_schema(std::string name, std::string meaning, std::vector<Field> own) {
  std::vector<Field> fields{text_field("title").means("What the shop calls it."), based_on_field()};
  fields.insert(fields.end(), own.begin(), own.end());
  fields.push_back(text_field("source").means(
      "Where the facts come from: standard, data sheet or measurement, with edition."));
  fields.push_back(date_field("date").means("When they were looked up."));
  fields.push_back(flag_field("assumption")
                       .otherwise("false")
                       .means("True when nobody has looked them up; then a source is not needed."));
  return std::make_shared<const Schema>(
      Schema{std::move(name), std::move(meaning), std::move(fields)});
}

/// Longer than any stock: a stated limit that keeps absurd sizes out of the geometry.
constexpr double kLongest = 100'000.0;

FieldMaker positive(std::string name) {
  return length_field(std::move(name)).above(0).at_most(kLongest);
}
FieldMaker optional_radius(std::string name) {
  return length_field(std::move(name)).at_least(0).at_most(kLongest);
}
FieldMaker point(std::string name) {
  return vector_field(std::move(name)).at_least(-kLongest).at_most(kLongest);
}
FieldMaker mass() {
  return mass_field("mass").at_least(0);
}
FieldMaker colour() {
  return text_field("colour").otherwise("#b0b0b0").means("For pictures, as #rrggbb.");
}

/// As above for things that a mirrored module needs the other way round.
SchemaPtr handed_schema(const std::string& name, std::string meaning, std::vector<Field> own,
                        std::string by_default) {
  own.push_back(choice_field("mirror", {"symmetric", "none"})
                    .otherwise(std::move(by_default))
                    .means("In a mirrored module: symmetric, it is its own mirror image; none, it "
                           "has no mirror image and stands there as it is."));
  own.push_back(
      reference_field("pair", name)
          .means("The item that is its mirror image, used instead in a mirrored module."));
  return entry_schema(name, std::move(meaning), std::move(own));
}

SchemaPtr material_schema() {
  return entry_schema(
      "material", "What stock is made of.",
      {
          quantity_field("density", dimension::density).needed().above(0).means("Mass per volume."),
          quantity_field("modulus", dimension::stress).above(0).means("Modulus of elasticity."),
          quantity_field("shear_modulus", dimension::stress).above(0).means("Shear modulus."),
          quantity_field("expansion", kPerKelvin).at_least(0).means("Expansion per kelvin."),
          colour(),
      });
}

std::vector<Field> slot_fields() {
  return {
      positive("opening").needed().means("Width at the surface."),
      positive("lip").needed().means("Thickness of the lips."),
      positive("cavity_width").needed().means("Width directly behind the lips."),
      positive("floor_width").needed().means("Width at the cavity floor."),
      positive("depth").needed().means("From the surface to the cavity floor."),
  };
}

SchemaPtr profile_schema() {
  return entry_schema(
      "profile", "A length of stock with a constant section.",
      {
          choice_field("family", {"slotted", "i_beam", "rectangular_tube", "angle", "flat"})
              .needed()
              .means("Shape of its section; says which of the sizes below it has."),
          reference_field("material", "material").needed().means("What it is made of."),
          positive("width").needed().means("Its size along x of the section."),
          positive("height").needed().means("Its size along y of the section."),
          positive("wall").means("Thickness of a tube's walls or an angle's legs."),
          optional_radius("outer_radius").means("Outer corners of a tube."),
          optional_radius("inner_radius").means("Inner corners of a tube."),
          positive("web").means("Thickness of an I-beam's web."),
          positive("flange").means("Thickness of an I-beam's flanges."),
          optional_radius("root_radius").means("Fillets of an I-beam or an angle."),
          optional_radius("toe_radius").means("Rounding of an angle's toes."),
          optional_radius("corner_radius").means("Corners of a flat or a slotted profile."),
          positive("cell").means(
              "Size of the square cells of a slotted profile; otherwise its smaller size."),
          table_field("slot", slot_fields()).means("The slots of a slotted profile."),
          positive("core_bore").means("Hole in the middle of each cell that takes an end thread."),
          lengths_field("stock_lengths")
              .above(0)
              .at_most(kLongest)
              .means("Lengths in which it is sold."),
          mass_field("metre_mass")
              .above(0)
              .means("Published mass of one metre; the section is checked against it."),
      });
}

SchemaPtr sheet_schema() {
  return entry_schema(
      "sheet", "Sheet material that panels are cut from.",
      {
          reference_field("material", "material").needed().means("What it is made of."),
          positive("nominal").needed().means("Thickness the shop calls it by."),
          positive("thickness").needed().means("Actual mean thickness: all geometry uses this."),
          positive("thinnest").means("Lower limit of the actual thickness; otherwise the mean."),
          positive("thickest").means("Upper limit of the actual thickness; otherwise the mean."),
          positive("length").needed().means("Length of a full sheet; the grain runs along it."),
          positive("width").needed().means("Width of a full sheet."),
          flag_field("grain").otherwise("false").means("Whether it has a grain to keep to."),
      });
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
              .at_least(-kLongest)
              .at_most(kLongest)
              .needed()
              .means("Turning axis from the door's hinge edge, towards the middle of the door."),
          length_field("axis_out")
              .at_least(-kLongest)
              .at_most(kLongest)
              .needed()
              .means("Turning axis in front of the door's outer face; negative: behind it."),
          mass().needed().means("Mass of one hinge with its plate."),
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

SchemaPtr bolt_schema() {
  return entry_schema(
      "bolt", "A bolt or screw with its head and holes.",
      {
          choice_field("kind", {"machine", "wood"})
              .otherwise("machine")
              .means("Metric thread, or a screw that cuts its own thread in wood."),
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
                           positive("hole_spacing").needed().means("Between its two screws."),
                           positive("hole_diameter").needed().means("Of the holes in the front."),
                           mass().needed().means("With its screws."),
                       },
                       "symmetric");
}

std::vector<Field> air_fields() {
  std::vector<Field> fields;
  for (const std::string& face : detail::face_names()) {
    fields.push_back(
        length_field(face).at_least(0).means("Free air beside its " + face + " face."));
  }
  return fields;
}

SchemaPtr equipment_schema() {
  return handed_schema(
      "equipment",
      "Something bought that stands or hangs in a module. x runs to the right as seen from in "
      "front, "
      "y from the front to the back, z up, from the lower front left corner of its first box.",
      {
          mass().needed().means("Mass, full where it holds a liquid."),
          keyed_field("box",
                      {
                          point("at").needed().means("Lowest corner: left, front, bottom."),
                          point("size").needed().means("Width, depth, height."),
                      })
              .needed()
              .items(1, 50)
              .means("The boxes that make its body; the first begins at 0, 0, 0."),
          list_field("feet", {point("at").needed().means("Where the foot stands.")})
              .items(0, 50)
              .means("Points it stands on; otherwise its whole underside."),
          table_field("air", air_fields()).means("Free air it needs around it."),
          positive("front_swing").means("Width of a door that opens at its front."),
          keyed_field("port",
                      {
                          choice_field("kind", {"water", "waste", "gas", "air", "exhaust", "cable"})
                              .needed()
                              .means("What goes through it."),
                          point("at").needed().means("Its middle."),
                          choice_field("out", detail::face_names())
                              .needed()
                              .means("The face it leaves through."),
                          positive("diameter").needed().means("Outside diameter of what leaves."),
                      })
              .items(0, 50)
              .means("Where hoses, cables and ducts leave it."),
          colour(),
      },
      "none");
}

}  // namespace

const std::vector<std::string>& detail::face_names() {
  static const std::vector<std::string> names{"front", "back", "left", "right", "top", "bottom"};
  return names;
}

const std::vector<std::pair<std::string, SchemaPtr>>& catalogue_schemas() {
  static const std::vector<std::pair<std::string, SchemaPtr>> schemas{
      {"material", material_schema()}, {"profile", profile_schema()},
      {"sheet", sheet_schema()},       {"slide", slide_schema()},
      {"hinge", hinge_schema()},       {"bracket", bracket_schema()},
      {"bolt", bolt_schema()},         {"nut", nut_schema()},
      {"handle", handle_schema()},     {"equipment", equipment_schema()},
  };
  return schemas;
}

SchemaPtr detail::catalogue_schema_of(std::string_view kind) {
  for (const auto& [name, schema] : catalogue_schemas()) {
    if (name == kind) return schema;
  }
  return nullptr;
}

}  // namespace ribbay
