#include "table.hpp"

#include "base/tolerance.hpp"
#include "spec/fields.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

std::vector<Field> table_fields() {
  return {
      choice_field("stands", {"wall", "post", "slide"})
          .needed()
          .means("wall: a leaf at a wall rail that drops when its leg is folded; post: on posts "
                 "in sockets, it lifts off; slide: under a worktop, it slides out and its leg is "
                 "unfolded then"),
      reference_field("top_sheet", kBoard).needed().means("sheet of the top"),
      length_field("corner_radius").otherwise("40 mm").at_least(0).means("of the free corners"),
      reference_field("edge_band", kEdgeBand).means("edge band on the top; its size includes it"),
      length_field("knee_room")
          .otherwise("0 mm")
          .at_least(0)
          .means("height kept clear below the top"),
      reference_field("rail_sheet", kBoard)
          .means("sheet of the wall rail, or of what the slides are screwed to; by default as "
                 "`top_sheet`"),
      length_field("rail_height")
          .otherwise("80 mm")
          .at_least(30)
          .at_most(1000)
          .means("of the wall rail, or of the boards that carry the slides"),
      length_field("hinge_strip")
          .otherwise("65 mm")
          .at_least(30)
          .at_most(300)
          .means("depth of the strip on the wall rail that the leaf turns on"),
      length_field("wall_gap")
          .otherwise("2 mm")
          .at_least(0)
          .means("left free between the wall rail and the ribs"),
      reference_field("hinge", "butt_hinge").means("hinges of the leaf; needed at a wall"),
      reference_field("screw", kWoodScrew)
          .means("screw from the strip into the wall rail's edge, or through the sliding top into "
                 "its sides; needed at a wall and on slides"),
      reference_field("rib_screw", kWoodScrew).means("screw from the wall rail into each rib"),
      reference_field("leg", kLeg).means("folding leg of a leaf or a sliding top"),
      reference_field("leg_screw", kWoodScrew).means("screw of the leg; needed for it"),
      choice_field("leg_folds", {"left", "right", "back"})
          .otherwise("left")
          .means("the way the leg lies when it is folded, seen from the front"),
      length_field("leg_from_left")
          .at_least(0)
          .means("middle of the leg; by default near the end that it folds away from, or in the "
                 "middle when it folds to the back"),
      reference_field("slide", "slide").means("slides of the top; needed on slides"),
      reference_field("slide_screw", kWoodScrew).means("screw of the slides; needed on slides"),
      reference_field("carrier_screw", kWoodScrew)
          .means("screw of the boards that carry the slides, through them into `into`"),
      FieldMaker("into", FieldKind::texts)
          .items(2, 2)
          .means("the parts at its left and right that these screws hold in, as lists name them"),
      reference_field("post", kPost)
          .means("post, as long as the top is high; needed for posts"),
      count_field("posts").otherwise("1").at_least(1).at_most(2).means("how many, side by side"),
      reference_field("socket", kFoot)
          .means("socket of a post, on the floor and under the top; needed for posts"),
      reference_field("socket_screw", kWoodScrew).means("screw of the sockets; needed for posts"),
  };
}

ModuleParts make_table(const ModuleRequest& request) {
  Workshop shop{request};
  Joinery joinery{request, shop};
  const Record& fields = request.fields;
  TableWork work{{request, shop, joinery}, nullptr, nullptr};
  work.top = &work.sheet(fields.text("top_sheet"));
  if (fields.has("edge_band"))
    work.band = &entry(request.catalogue.finishes, fields.text("edge_band"));
  const std::string& stands = fields.text("stands");
  stands == "wall"   ? make_wall_table(work)
  : stands == "post" ? make_post_table(work)
                     : make_slide_table(work);
  joinery.finish();
  if (stands == "slide" && fields.has("slide")) check_slide_load(work);
  return shop.finish();
}

}  // namespace

bool add_top(const TableWork& work, const TopPlace& place) {
  const Vec2 size = place.to - place.from;
  const double radius = work.request.fields.number("corner_radius");
  const double largest =
      place.rear_free ? std::min(size.x, size.y) / 2 : std::min(size.x / 2, size.y);
  if (radius > largest + kSame) {
    work.shop.find(fault("table.radius_too_large", work.asked("corner_radius"))
                       .with("measured", radius, Unit::mm)
                       .with("required", largest, Unit::mm));
    return false;
  }
  const double rear = place.rear_free ? radius : 0.0;
  ShapedBoard top{
      .name = "top",
      .title = "Table top",
      .sheet = work.top,
      .frame = Frame{.origin = {place.from.x, place.from.y, place.under}},
      .outline = {{{{0, 0}, radius}, {{size.x, 0}, radius}, {size, rear}, {{0, size.y}, rear}}, {}},
      .cuts = {},
      .holes = {},
      .band = work.band,
      .banded = {0, 1, 3}};
  if (place.rear_free) top.banded.push_back(2);
  work.joinery.add(std::move(top));
  return true;
}

void add_knee_room(const TableWork& work, double y0, double y1, double under) {
  const double room = work.request.fields.number("knee_room");
  if (room <= 0.0) return;
  work.shop.made().zones.push_back(
      {.id = work.shop.id("knee_room"),
       .title = "room for knees below the table",
       .kind = ZoneKind::keep_clear,
       .shape = box_shape({0, y0, under - room}, {work.request.size.x, y1, under}),
       .frame = work.request.frame,
       .owner = work.request.name,
       .allowed = {work.request.name}});
}

Kind table_kind() {
  return {
      .name = "table",
      .schema = module_schema("table",
                              "A table top at a wall rail that drops, on posts that it lifts "
                              "off, or on slides under a worktop.",
                              table_fields()),
      .generate = make_table,
      .follows_walls = true};
}

}  // namespace ribbay::detail
