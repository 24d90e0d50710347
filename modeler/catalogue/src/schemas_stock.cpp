#include "schemas.hpp"

namespace ribbay::detail {

namespace {

constexpr Dimension kPerKelvin{.temperature = -1};
constexpr Dimension kPerLength{.length = -1};
constexpr Dimension kAreaMass{.length = -2, .mass = 1};

FieldMaker movement(std::string name) {
  return quantity_field(std::move(name), dimension::none).above(0).at_most(0.01);
}
FieldMaker stock_lengths() {
  return lengths_field("stock_lengths")
      .above(0)
      .means("Lengths in which it is sold.");
}

SchemaPtr material_schema() {
  return entry_schema(
      "material", "What stock is made of.",
      {
          quantity_field("density", dimension::density).needed().above(0).means("Mass per volume."),
          quantity_field("modulus", dimension::stress).above(0).means("Modulus of elasticity."),
          quantity_field("shear_modulus", dimension::stress).above(0).means("Shear modulus."),
          quantity_field("expansion", kPerKelvin).at_least(0).means("Expansion per kelvin."),
          quantity_field("anodic_index", dimension::volt)
              .at_least(-3)
              .at_most(3)
              .means("Contact potential of a metal: two that touch corrode the faster the further "
                     "apart theirs are."),
          movement("radial_movement")
              .means("Of solid wood: share by which a quarter-sawn board grows across the grain "
                     "with each percent point of moisture."),
          movement("tangential_movement").means("The same of a plain-sawn board."),
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
          not_negative("outer_radius").means("Outer corners of a tube."),
          not_negative("inner_radius").means("Inner corners of a tube."),
          positive("web").means("Thickness of an I-beam's web."),
          positive("flange").means("Thickness of an I-beam's flanges."),
          not_negative("root_radius").means("Fillets of an I-beam or an angle."),
          not_negative("toe_radius").means("Rounding of an angle's toes."),
          not_negative("corner_radius").means("Corners of a flat or a slotted profile."),
          positive("cell").means(
              "Size of the square cells of a slotted profile; otherwise its smaller size."),
          table_field("slot", slot_fields()).means("The slots of a slotted profile."),
          positive("core_bore").means("Hole in the middle of each cell that takes an end thread."),
          stock_lengths(),
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
          positive("bend_radius")
              .means("Smallest inside radius it is folded to; without it it is not folded."),
          quantity_field("k_factor", dimension::none)
              .at_least(0)
              .at_most(0.5)
              .otherwise("0.5")
              .means("Where the fibre lies that a fold does not stretch, in thicknesses from the "
                     "inside."),
          positive("flex_radius")
              .means("Smallest radius it is sprung to; without it it stays flat."),
          flag_field("quarter_sawn")
              .otherwise("false")
              .means("Of solid wood: moves radially across the grain, not tangentially."),
          flag_field("insulation")
              .otherwise("false")
              .means("Whether it only keeps heat in: it carries nothing and holds no screws."),
      });
}

SchemaPtr plank_schema() {
  return entry_schema(
      "plank", "Boards with tongue and groove. The face is the better side.",
      {
          reference_field("material", "material").needed().means("What it is made of."),
          length_field("covers").at_least(10).needed().means("Width it covers when laid without a gap."),
          positive("width").needed().means("Width over all, tongue included."),
          positive("thickness").needed().means("Actual thickness."),
          positive("tongue").needed().means("Thickness of the tongue, in the middle of the board."),
          not_negative("play").otherwise("0.5 mm").means(
              "By which the groove is wider and deeper than the tongue."),
          flag_field("quarter_sawn")
              .otherwise("false")
              .means("Moves radially across its width, not tangentially."),
          stock_lengths(),
      });
}

SchemaPtr finish_schema() {
  return entry_schema(
      "finish", "What covers a face or an edge.",
      {
          choice_field("kind", {"coat", "film", "edge_band"})
              .needed()
              .means("coat: painted or oiled, bought by the litre; film: laid on or wrapped round, "
                     "bought by the area; edge_band: on sawn edges, bought by the length."),
          not_negative("thickness").needed().at_most(20).means("Of all coats together, dry."),
          count_field("coats").at_least(1).at_most(20).means("Of a coat; otherwise 1."),
          quantity_field("covers", kPerLength)
              .above(0)
              .means("Of a coat: area that a volume covers once, \"12 m2/l\"."),
          positive("width").means("Of a film or an edge band, as bought; otherwise any."),
          not_negative("turn_over")
              .means("Of a film: how far it is laid round each edge onto the back; otherwise 0."),
          quantity_field("area_mass", kAreaMass).above(0).means("Dry mass per area, all coats."),
          colour(),
      });
}

}  // namespace

NamedSchemas stock_schemas() {
  return {{"material", material_schema()},
          {"profile", profile_schema()},
          {"sheet", sheet_schema()},
          {"plank", plank_schema()},
          {"finish", finish_schema()}};
}

}  // namespace ribbay::detail
