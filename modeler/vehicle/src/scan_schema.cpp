#include "schema_fields.hpp"

namespace ribbay::detail {

namespace {

/// A point as the program that shows the scan tells it: three bare numbers in the scan's unit.
FieldMaker picked_field(std::string name) {
  return FieldMaker{std::move(name), FieldKind::vector, dimension::none}.items(3, 3);
}

}  // namespace

SchemaPtr scan_schema() {
  return schema(
      "scan",
      "The empty van as a scanned surface, and where to cut it into stations. Stations given by "
      "tape as well win over it; ribs, arches and openings are said as for a taped van.",
      {
          FieldMaker("file", FieldKind::path)
              .needed()
              .means("The surface: a .glb, .obj, .ply or .stl file."),
          choice_field("unit", {"mm", "cm", "m", "in"})
              .means("Unit of its coordinates; only a .glb file says it by itself (m)."),
          table_field(
              "points",
              {picked_field("sill_left")
                   .needed()
                   .means("A point of the floor at the rear sill, on the left, as picked on the "
                          "scan in its own axes and unit."),
               picked_field("sill_right")
                   .needed()
                   .means("The same on the right, as far from the centre line."),
               picked_field("floor_front")
                   .means("A point of the floor on the centre line, far in front. Without it the "
                          "centre line stands square on the sill."),
               position_field("sill_x").otherwise("0 mm").means(
                   "x of the two sill points; 0 at the rear edge of the load floor.")})
              .needed()
              .means("Points picked on the scan that say how the van lies in it."),
          lengths_field("stations")
              .at_least(-kFarthest)
              .at_most(kFarthest)
              .items(2, 60)
              .means("x of each station to cut."),
          count_field("count").at_least(2).at_most(60).means(
              "How many stations to cut, evenly spread over the floor; instead of `stations`."),
          lengths_field("heights").at_least(0).at_most(kFarthest).items(2, 60).means(
              "Heights to measure at, from 0 upward; otherwise those of the vehicle."),
          size_field("uncertainty")
              .means("By how much a point of the scan may be wrong, at least; otherwise as the "
                     "vehicle says. What the scan itself shows of its noise counts when it is "
                     "more."),
          size_field("stray_size")
              .otherwise("250 mm")
              .means("Loose pieces up to this size (and half a percent of the surface) are left "
                     "out."),
      });
}

}  // namespace ribbay::detail
