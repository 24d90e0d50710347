#include "galley.hpp"

#include "base/tolerance.hpp"
#include "spec/fields.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

std::vector<Field> column_fields() {
  return {
      sizes_field("width").needed().items(1, 1).means(
          "clear width between the boards of the column: \"420 mm\", or \"1 share\" of what is "
          "left"),
      length_field("before").otherwise("0 mm").at_least(0).means(
          "width of an empty spacer at the left of the column, closed by a filler strip: it keeps "
          "drawers and doors clear of what stands beside them"),
      length_field("after").otherwise("0 mm").at_least(0).means(
          "width of an empty spacer at the right of the column"),
      sizes_field("drawers").items(1, 20).means(
          "heights of the drawer fronts from the top down: lengths, or shares of what is left"),
      choice_field("door", {"left", "right"})
          .means("a door, hinged at this side as seen from the front"),
      lengths_field("shelves").items(1, 20).at_least(0).means(
          "heights of the undersides of shelves above the bottom board, behind a door or in an "
          "open column"),
      flag_field("open").otherwise("false").means("true: the column has no front"),
      galley_holds_field(),
  };
}

std::vector<Field> galley_fields() {
  return {
      reference_field("sheet", kBoard)
          .needed()
          .means("sheet of the sides, bottoms, stretchers and shelves"),
      reference_field("back_sheet", kBoard).means("sheet of the backs; by default as `sheet`"),
      reference_field("front_sheet", kBoard)
          .means("sheet of fronts, doors and fillers; by default as `sheet`"),
      reference_field("drawer_sheet", kBoard)
          .means("sheet of the drawer boxes; by default as `sheet`"),
      reference_field("drawer_bottom_sheet", kBoard)
          .means("sheet of the drawer bottoms; by default as `back_sheet`"),
      reference_field("counter_sheet", kBoard).means("sheet of the counter; by default as `sheet`"),
      length_field("counter_overhang")
          .otherwise("20 mm")
          .at_least(0)
          .means("how far the counter reaches out over the fronts; `depth` includes it"),
      length_field("toe_height")
          .otherwise("80 mm")
          .at_least(0)
          .means("height of the toe space under the bottom boards, at least 20 mm; 0 for none"),
      length_field("toe_depth")
          .otherwise("50 mm")
          .at_least(0)
          .means("how far the toe board stands back from the front edges of the sides"),
      length_field("stretcher")
          .otherwise("80 mm")
          .at_least(40)
          .at_most(300)
          .means("width of the two stretchers under the counter; narrower ones leave more room for "
                 "what is let into it"),
      length_field("front_gap")
          .otherwise("3 mm")
          .above(0)
          .at_most(20)
          .means("gap between neighbouring fronts"),
      length_field("buffer").otherwise("2 mm").at_least(0).means(
          "room between fronts and carcass, for the buffers that keep them quiet and for doors to "
          "turn in"),
      length_field("pull_width")
          .otherwise("120 mm")
          .at_least(0)
          .means("width of the finger pull, a notch in the top edge of each drawer front and door; "
                 "0 for none"),
      length_field("pull_depth")
          .otherwise("22 mm")
          .above(0)
          .means("depth of the finger pull from the top edge down"),
      reference_field("handle", "handle")
          .means("bow handle on each drawer front and door; without it they have finger pulls"),
      reference_field("slide", "slide").means("drawer slides; needed for drawers"),
      reference_field("hinge", "hinge").means("door hinges; needed for doors"),
      reference_field("screw", kWoodScrew)
          .needed()
          .means("screw that holds a board's edge: carcass, toe board, back"),
      reference_field("panel_screw", kWoodScrew)
          .needed()
          .means("screw that holds two boards face to face: drawer fronts, counter, cleats"),
      reference_field("slide_screw", kWoodScrew)
          .means("screw for slides and hinges; needed for drawers and doors"),
      reference_field("shelf_pin", kShelfPin)
          .means(
              "pin under a shelf: its length is in the side, its head carries; needed for shelves"),
      reference_field("edge_band", kEdgeBand)
          .means("edge band round fronts and doors, and on the front edges of counter, sides, "
                 "bottoms and shelves; all sizes include it"),
      keyed_field("columns", column_fields())
          .needed()
          .items(1, 20)
          .means("the columns from left to right"),
      galley_openings_field(),
      reference_field("opening_screw", kWoodScrew)
          .means("screw of what is let into the counter; needed where it has fixing holes"),
  };
}

/// A carcass smaller than this cannot hold both stretchers, or has no inside.
bool large_enough(const GalleyWork& work) {
  const GalleyPlan& plan = work.plan;
  const Vec3 size = work.request.size;
  const double between_stretchers = 1.0;
  const bool shallow = is_too_small(work, "depth",
                                    plan.carcass_front + kFingerRoom + 2 * plan.stretcher +
                                        between_stretchers + (size.y - plan.back_face),
                                    size.y);
  const bool low =
      is_too_small(work, "height", plan.floor + plan.stretcher + (size.z - plan.ceiling), size.z);
  constexpr double least_toe = 20.0;  // takes a screw
  const bool no_toe =
      plan.toe_height > 0.0 && is_too_small(work, "toe_height", least_toe, plan.toe_height);
  return !shallow && !low && !no_toe;
}

/// A column has exactly one of drawers, door and open; shelves do not go with drawers.
bool fronts_are_clear(const GalleyWork& work, const GalleyColumn& column) {
  const bool drawers = column.fields->has("drawers");
  const int fronts = (drawers ? 1 : 0) + (column.fields->has("door") ? 1 : 0) +
                     (column.fields->flag("open") ? 1 : 0);
  if (fronts != 1) {
    work.shop.find(
        work.fault("galley.column_front", column, {}).with("count", fronts, Unit::count));
    return false;
  }
  for (const char* field : {"shelves", "holds"}) {
    if (!drawers || !column.fields->has(field)) continue;
    work.shop.find(work.fault("galley.shelves_behind_drawers", column, field));
    return false;
  }
  return true;
}

/// Width of the spacer at the left of column `i`, or behind the last one.
double spacer_before(const std::vector<GalleyColumn>& columns, std::size_t i) {
  const double after = i > 0 ? columns[i - 1].fields->number("after") : 0.0;
  return after + (i < columns.size() ? columns[i].fields->number("before") : 0.0);
}

/// Width of the spacers at the left of each column and at the right of the last one.
std::vector<double> spacers_of(const std::vector<GalleyColumn>& columns) {
  std::vector<double> spacers;
  for (std::size_t i = 0; i <= columns.size(); ++i) spacers.push_back(spacer_before(columns, i));
  return spacers;
}

/// Lists the spacers; false when one is too narrow for the cleat that stands in it.
bool list_spacers(const GalleyWork& work, GalleyPlan& plan) {
  const double t = plan.carcass->thickness;
  const double needed = t + kPast;
  bool usable = true;
  for (std::size_t i = 0; i <= plan.columns.size(); ++i) {
    const double width = spacer_before(plan.columns, i);
    if (width <= 0.0) continue;
    const bool last = i == plan.columns.size();
    const bool before = !last && plan.columns[i].fields->number("before") > 0.0;
    const GalleyColumn& asks = plan.columns[before ? i : i - 1];
    const std::string field = before ? "before" : "after";
    if (width < needed) {
      work.shop.find(work.fault("galley.spacer_too_narrow", asks, field)
                         .with("measured", width, Unit::mm)
                         .with("required", needed, Unit::mm));
      usable = false;
      continue;
    }
    const double left = i == 0 ? 0.0 : plan.columns[i - 1].right + t;
    plan.spacers.push_back({.name = field + "." + asks.key,
                            .left = left,
                            .right = left + width,
                            .left_board = i == 0 ? "" : plan.columns[i - 1].right_board,
                            .right_board = last ? "" : plan.columns[i].left_board});
  }
  return usable;
}

GalleyPlan common_sizes(const ModuleRequest& request) {
  const Record& fields = request.fields;
  const std::string& carcass = fields.text("sheet");
  const std::string back = fields.text_or("back_sheet", carcass);
  const auto sheet = [&](const std::string& key) { return &entry(request.catalogue.sheets, key); };

  GalleyPlan plan;
  plan.carcass = sheet(carcass);
  plan.back = sheet(back);
  plan.front = sheet(fields.text_or("front_sheet", carcass));
  plan.drawer = sheet(fields.text_or("drawer_sheet", carcass));
  plan.drawer_bottom = sheet(fields.text_or("drawer_bottom_sheet", back));
  plan.counter = sheet(fields.text_or("counter_sheet", carcass));
  if (fields.has("edge_band"))
    plan.band = &entry(request.catalogue.finishes, fields.text("edge_band"));
  plan.gap = fields.number("front_gap");
  plan.buffer = fields.number("buffer");
  plan.stretcher = fields.number("stretcher");
  if (fields.has("handle"))
    plan.handle = &bought(request, request.catalogue.handles, fields.text("handle"));
  plan.pull_width = plan.handle != nullptr ? 0.0 : fields.number("pull_width");
  plan.pull_depth = fields.number("pull_depth");
  plan.dado = dado_depth(*plan.carcass);

  plan.front_face = fields.number("counter_overhang");
  plan.front_back = plan.front_face + plan.front->thickness;
  plan.carcass_front = plan.front_back + plan.buffer;
  plan.back_face = request.size.y - plan.back->thickness;
  plan.toe_height = fields.number("toe_height");
  plan.floor = plan.toe_height + plan.carcass->thickness;
  plan.carcass_top = request.size.z - plan.counter->thickness;
  plan.ceiling = plan.carcass_top - plan.carcass->thickness;
  plan.fronts_top = plan.carcass_top - plan.gap;
  return plan;
}

ModuleParts make_galley(const ModuleRequest& request) {
  Workshop shop{request};
  Joinery joinery{request, shop};
  GalleyPlan plan = common_sizes(request);
  const GalleyWork work{{request, shop, joinery}, plan};
  plan.columns = bays_of(request.fields, "columns");
  bool usable = large_enough(work);
  for (const GalleyColumn& column : plan.columns) usable &= fronts_are_clear(work, column);
  const std::vector<double> spacers = spacers_of(plan.columns);
  const double t = plan.carcass->thickness;
  if (!divide_width(work, "columns", plan.columns, spacers, t)) return shop.finish();
  divide_fronts(work, plan.columns, spacers, t, plan.gap);
  usable &= list_spacers(work, plan);
  if (!usable) return shop.finish();

  make_carcass(work);
  for (const GalleyColumn& column : plan.columns) {
    if (column.fields->has("drawers")) make_drawers(work, column);
    if (column.fields->has("door")) make_door(work, column);
    if (column.fields->has("shelves")) make_shelves(work, column);
    make_held(work, column);
  }
  make_openings(work);
  joinery.finish();
  return shop.finish();
}

}  // namespace

Finding GalleyWork::fault(std::string code, const GalleyColumn& column,
                          std::string_view field) const {
  return detail::fault(std::move(code), asked(column, field));
}

void GalleyWork::band_front(Board& board) const {
  board.band = plan.band;
  board.banded = {{-1, 0, 0}, {1, 0, 0}, {0, 0, -1}, {0, 0, 1}};
}

void GalleyWork::band_front_edge(Board& board) const {
  board.band = plan.band;
  board.banded = {{0, -1, 0}};
}

bool GalleyWork::names(const GalleyColumn& column, std::string_view needed_by,
                       const std::string& field) const {
  return names_item(*this, asked(column, needed_by), field);
}

std::string GalleyWork::gives_way(const GalleyColumn& column) const {
  const bool at_right_end = column.right_board == "side." + request.right() &&
                            column.left_board != "side." + request.left();
  const bool after = column.fields->given("after") || at_right_end;
  const bool use_after = after && !column.fields->given("before");
  return request.name + ".columns." + column.key + (use_after ? ".after" : ".before");
}

Kind galley_kind() {
  return {.name = "galley",
          .schema =
              module_schema("galley",
                            "A row of kitchen cabinets under one counter: drawers, doors and open "
                            "columns.",
                            galley_fields()),
          .generate = make_galley};
}

}  // namespace ribbay::detail
