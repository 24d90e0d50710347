#include "locker.hpp"

#include "spec/fields.hpp"
#include "wall_fixing.hpp"

#include <algorithm>
#include <numbers>

namespace ribbay::detail {

namespace {

/// A locker that is less deep inside holds nothing.
constexpr double kLeastDepth = 80.0;

std::vector<Field> bay_fields() {
  return {
      sizes_field("width")
          .items(1, 1)
          .otherwise("[\"1 share\"]")
          .means("clear width between the boards of the bay: \"420 mm\", or \"1 share\" of what is "
                 "left"),
      choice_field("door", {"lift", "drop", "left", "right"})
          .means("hinged at its top, at its bottom, or at a side as seen from the front"),
      flag_field("open").otherwise("false").means("true: the bay has no door"),
      angle_field("opens")
          .otherwise("90 deg")
          .above(0)
          .at_most(std::numbers::pi)
          .means("how far the door must open"),
      mass_field("load").otherwise("0 kg").at_least(0).means("what lies in the bay"),
  };
}

std::vector<Field> locker_fields() {
  return {
      reference_field("sheet", kBoard).needed().means("sheet of uprights, bottoms and tops"),
      reference_field("front_sheet", kBoard).means("sheet of the doors; by default as `sheet`"),
      reference_field("back_sheet", kBoard)
          .means("sheet of the back; without it the wall's lining is the back"),
      reference_field("rail_sheet", kBoard).means("sheet of the rails; by default as `sheet`"),
      length_field("rail_height")
          .otherwise("60 mm")
          .at_least(30)
          .means("of the two rails that carry the locker"),
      length_field("wall_gap")
          .otherwise("3 mm")
          .at_least(0)
          .means("left free at the wall and its ribs, for scribing"),
      count_field("facets").otherwise("1").at_least(1).at_most(6).means(
          "1: the back is one slope; more: it follows the wall in as many straight stretches"),
      length_field("front_gap").otherwise("3 mm").above(0).at_most(20).means("gap between neighbouring doors"),
      length_field("buffer").otherwise("2 mm").at_least(0).means(
          "room between doors and carcass, for buffers and for doors to turn in"),
      reference_field("hinge", "hinge").means("door hinges; needed for doors"),
      reference_field("screw", kWoodScrew).needed().means("screw that holds a board's edge"),
      reference_field("slide_screw", kWoodScrew).means("screw for hinges; needed for doors"),
      reference_field("rib_screw", kWoodScrew).means("screw from the rails into each rib they pass"),
      reference_field("latch", kLatch).means("latch in each door, at its free edge"),
      reference_field("latch_screw", kWoodScrew).means("screw of the latches; needed for them"),
      reference_field("stay", kStay).means("stay that holds each lifted door"),
      reference_field("stay_screw", kWoodScrew).means("screw of the stays; needed for them"),
      reference_field("edge_band", kEdgeBand)
          .means("edge band on doors and on the front edges of the carcass; sizes include it"),
      length_field("head_room")
          .otherwise("0 mm")
          .at_least(0)
          .means("height kept clear below the locker"),
      keyed_field("bays", bay_fields()).needed().items(1, 20).means("the bays from left to right"),
  };
}

LockerPlan common_sizes(const ModuleRequest& request) {
  const Record& fields = request.fields;
  const std::string& main = fields.text("sheet");
  const auto sheet = [&](const std::string& key) { return &entry(request.catalogue.sheets, key); };
  LockerPlan plan;
  plan.sheet = sheet(main);
  plan.front = sheet(fields.text_or("front_sheet", main));
  plan.rail = sheet(fields.text_or("rail_sheet", main));
  if (fields.has("back_sheet")) plan.back = sheet(fields.text("back_sheet"));
  if (fields.has("edge_band"))
    plan.band = &entry(request.catalogue.finishes, fields.text("edge_band"));
  plan.t = plan.sheet->thickness;
  plan.carcass_front = plan.front->thickness + fields.number("buffer");
  plan.gap = fields.number("front_gap");
  plan.rail_height = fields.number("rail_height");
  plan.dado = dado_depth(*plan.sheet);
  plan.bays = bays_of(fields, "bays");
  return plan;
}

/// Reads the wall behind the locker; false after saying why it cannot stand there.
bool follow_wall(const LockerWork& work, LockerPlan& plan) {
  const ModuleRequest& request = work.request;
  const AskedBy at{request.fields, request.name, "faces"};
  if (!backs_to_wall(request)) {
    work.shop.find(fault("locker.not_at_wall", at).with("found", request.fields.text("faces")));
    return false;
  }
  plan.wall = wall_line(request, 0.0, request.size.x, request.fields.number("wall_gap"));
  if (plan.wall.empty()) {
    work.shop.find(fault("locker.outside_survey", {request.fields, request.name}));
    return false;
  }
  const double top = work.height();
  plan.bottom_rear = nearest_wall(plan.wall, 0.0, plan.t);
  plan.top_rear = nearest_wall(plan.wall, top - plan.t, top);
  plan.facets = divide_back(plan.wall, plan.t, top - plan.t,
                            static_cast<int>(request.fields.number("facets")));
  return true;
}

/// The rails must find room one above the other, and something must fit in front of them.
bool large_enough(const LockerWork& work) {
  const LockerPlan& plan = work.plan;
  const double deep =
      std::min(plan.bottom_rear, plan.top_rear) - plan.lining() - plan.carcass_front;
  if (deep < kLeastDepth) {
    work.shop.find(fault("locker.too_shallow", {work.request.fields, work.request.name, "depth"})
                       .with("measured", deep, Unit::mm)
                       .with("required", kLeastDepth, Unit::mm)
                       .with("depth", work.request.size.y + kLeastDepth - deep, Unit::mm));
    return false;
  }
  const bool sloped = plan.facets.size() == 1;
  for (const std::size_t i : {std::size_t{0}, plan.facets.size() - 1}) {
    const LayerSpan span =
        span_of(plan.facets, i, 0.0, plan.lining(), plan.t, work.height() - plan.t);
    const double needed = (sloped ? 2 : 1) * plan.rail_height;
    if (span.to - span.from >= needed) continue;
    work.shop.find(
        fault("locker.rails_no_room", {work.request.fields, work.request.name, "rail_height"})
            .with("measured", needed, Unit::mm)
            .with("required", span.to - span.from, Unit::mm));
    return false;
  }
  return true;
}

/// Each bay has a door or is open.
bool fronts_are_clear(const LockerWork& work) {
  bool clear = true;
  for (const Bay& bay : work.plan.bays) {
    if (bay.fields->has("door") != bay.fields->flag("open")) continue;
    work.shop.find(fault("locker.bay_front", work.asked(bay, {})));
    clear = false;
  }
  return clear;
}

void add_head_room(const LockerWork& work) {
  const double room = work.request.fields.number("head_room");
  if (room <= 0.0) return;
  work.shop.made().zones.push_back(
      {.id = work.shop.id("head_room"),
       .title = "head room below the locker",
       .kind = ZoneKind::head_room,
       .shape = box_shape({0, 0, -room}, {work.request.size.x, work.plan.bottom_rear, 0}),
       .frame = work.request.frame,
       .owner = work.request.name,
       .allowed = {work.request.name}});
}

ModuleParts make_locker(const ModuleRequest& request) {
  Workshop shop{request};
  Joinery joinery{request, shop};
  LockerPlan plan = common_sizes(request);
  const LockerWork work{{request, shop, joinery}, plan};
  bool usable = fronts_are_clear(work);
  // Between its bottom and its top there must be a back, for one rail at least.
  if (is_too_small(work, "height", 2 * plan.t + plan.rail_height, work.height()))
    return shop.finish();
  if (!follow_wall(work, plan) || !large_enough(work)) return shop.finish();
  const std::vector<double> none(plan.bays.size() + 1, 0.0);
  if (!divide_width(work, "bays", plan.bays, none, plan.t) || !usable) return shop.finish();
  divide_fronts(work, plan.bays, none, plan.t, plan.gap);
  make_locker_carcass(work);
  for (const Bay& bay : plan.bays) {
    if (bay.fields->has("door")) make_locker_front(work, bay);
  }
  add_head_room(work);
  joinery.finish();
  return shop.finish();
}

}  // namespace

Kind locker_kind() {
  return {.name = "locker",
          .schema = module_schema("locker",
                                  "An overhead locker whose back follows the side wall, held by "
                                  "rails that are screwed to the ribs.",
                                  locker_fields()),
          .generate = make_locker,
          .follows_walls = true};
}

}  // namespace ribbay::detail
