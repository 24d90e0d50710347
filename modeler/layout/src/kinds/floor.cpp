#include "false_floor.hpp"
#include "spec/fields.hpp"

namespace ribbay::detail {

namespace {

std::optional<double> floor_size(const EarlyFields& early, int axis) {
  if (axis != 2) return std::nullopt;
  double height = 0.0;
  for (const char* field : {"sheet", "batten_sheet"}) {
    const auto key = early.evaluator.text(early.path, field);
    if (!key) return std::nullopt;
    const auto sheet = early.catalogue.sheets.find(*key);
    if (sheet == early.catalogue.sheets.end()) return std::nullopt;
    height += sheet->second.thickness;
  }
  return height;
}

std::vector<Field> fields() {
  return {
      reference_field("sheet", kBoard).needed().means("what the deck is cut from"),
      reference_field("batten_sheet", kBoard)
          .needed()
          .means("what the battens are cut from; its thickness is their height"),
      length_field("batten_width").otherwise("45 mm").at_least(20).means("of a batten, as it lies"),
      choice_field("battens", {"on_joists", "evenly"})
          .otherwise("evenly")
          .means("on_joists: over the joists that run across, and at both ends; evenly: no further "
                 "apart than batten_pitch"),
      length_field("batten_pitch")
          .otherwise("400 mm")
          .above(50)
          .means("largest distance of the battens from middle to middle"),
      reference_field("insulation", kInsulation).means("boards between the battens, no thicker"),
      length_field("edge_gap")
          .otherwise("5 mm")
          .at_least(0)
          .means("left free along walls, ribs and wheel arches"),
      sizes_field("pieces")
          .items(1, 20)
          .otherwise("[\"1 share\"]")
          .means("lengths of the deck's pieces along the van, from its front; each seam moves onto "
                 "the nearest batten"),
      length_field("seam_gap").otherwise("1 mm").at_least(0).at_most(20).means("left free at a seam"),
      reference_field("screw", kWoodScrew).needed().means("screw from the deck into the battens"),
      length_field("screw_pitch")
          .otherwise("200 mm")
          .at_least(50)
          .means("largest distance of the screws along a batten"),
      reference_field("floor_bolt", kMachineBolt)
          .means("bolt through the battens and the van's floor, its head sunk; without it the "
                 "battens are glued"),
      flag_field("hard_points_open")
          .otherwise("true")
          .means("true: openings over the van's hard points, so that they can be reached"),
      length_field("hard_point_hole").otherwise("80 mm").above(0).means("diameter of these"),
      keyed_field("passes", {length_field("x").needed().means("x of its middle, in the van"),
                             length_field("y").needed().means("y of its middle, in the van"),
                             length_field("diameter").needed().above(0).means("of it")})
          .means("round openings right through, for bolts of what stands on it, hoses and drains"),
  };
}

}  // namespace

Kind floor_kind() {
  return {.name = "floor",
          .schema = module_schema("floor",
                                  "a floor on the van's own: battens across, insulation between, a "
                                  "deck on top that other modules can stand on",
                                  fields()),
          .generate = make_false_floor,
          .default_size = floor_size,
          .lies_flat = true};
}

}  // namespace ribbay::detail
