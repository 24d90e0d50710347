#include "table.hpp"

#include "base/tolerance.hpp"
#include "spec/fields.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

std::vector<Field> table_fields() {
  return {
      choice_field("stands", {"wall", "post"})
          .needed()
          .means("wall: a leaf at a wall rail that drops when its leg is folded; post: on posts "
                 "in sockets, it lifts off"),
      reference_field("top_sheet", "sheet").needed().means("sheet of the top"),
      length_field("corner_radius").otherwise("40 mm").at_least(0).means("of the free corners"),
      reference_field("edge_band", "finish").means("edge band on the top; its size includes it"),
      length_field("knee_room")
          .otherwise("0 mm")
          .at_least(0)
          .means("height kept clear below the top"),
      reference_field("rail_sheet", "sheet")
          .means("of a wall table: sheet of the wall rail; by default as `top_sheet`"),
      length_field("rail_height").otherwise("80 mm").at_least(30).means("of the wall rail"),
      length_field("hinge_strip")
          .otherwise("65 mm")
          .at_least(30)
          .means("depth of the strip on the wall rail that the leaf turns on"),
      length_field("wall_gap")
          .otherwise("2 mm")
          .at_least(0)
          .means("left free between the wall rail and the ribs"),
      reference_field("hinge", "butt_hinge").means("hinges of the leaf; needed at a wall"),
      reference_field("screw", "bolt")
          .means("screw from the strip into the wall rail's edge; needed at a wall"),
      reference_field("rib_screw", "bolt").means("screw from the wall rail into each rib"),
      reference_field("leg", "fitting").means("folding leg of the leaf"),
      reference_field("leg_screw", "bolt").means("screw of the leg; needed for it"),
      reference_field("post", "fitting")
          .means("post, as long as the top is high; needed for posts"),
      count_field("posts").otherwise("1").at_least(1).at_most(2).means("how many, side by side"),
      reference_field("socket", "fitting")
          .means("socket of a post, on the floor and under the top; needed for posts"),
      reference_field("socket_screw", "bolt").means("screw of the sockets; needed for posts"),
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
  fields.text("stands") == "wall" ? make_wall_table(work) : make_post_table(work);
  joinery.finish();
  return shop.finish();
}

}  // namespace

bool add_top(const TableWork& work, Vec2 size, bool rear_free) {
  const double radius = work.request.fields.number("corner_radius");
  const double largest = rear_free ? std::min(size.x, size.y) / 2 : std::min(size.x / 2, size.y);
  if (radius > largest + kSame) {
    work.shop.find(fault("table.radius_too_large", work.asked("corner_radius"))
                       .with("measured", radius, Unit::mm)
                       .with("required", largest, Unit::mm));
    return false;
  }
  const double rear = rear_free ? radius : 0.0;
  ShapedBoard top{
      .name = "top",
      .title = "Table top",
      .sheet = work.top,
      .frame = Frame{.origin = {0, 0, work.under()}},
      .outline = {{{{0, 0}, radius}, {{size.x, 0}, radius}, {size, rear}, {{0, size.y}, rear}}, {}},
      .cuts = {},
      .holes = {},
      .band = work.band,
      .banded = {0, 1, 3}};
  if (rear_free) top.banded.push_back(2);
  work.joinery.add(std::move(top));
  return true;
}

void add_knee_room(const TableWork& work, double y0, double y1) {
  const double room = work.request.fields.number("knee_room");
  if (room <= 0.0) return;
  work.shop.made().zones.push_back(
      {.id = work.shop.id("knee_room"),
       .title = "room for knees below the table",
       .kind = ZoneKind::keep_clear,
       .shape = box_shape({0, y0, work.under() - room}, {work.request.size.x, y1, work.under()}),
       .frame = work.request.frame,
       .owner = work.request.name,
       .allowed = {work.request.name}});
}

Kind table_kind() {
  return {
      .name = "table",
      .schema = module_schema("table",
                              "A table top at a wall rail that drops, or on posts that it lifts "
                              "off.",
                              table_fields()),
      .generate = make_table,
      .follows_walls = true};
}

}  // namespace ribbay::detail
