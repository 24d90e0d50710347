#include "galley.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/tolerance.hpp"
#include "fields.hpp"

namespace ribbay::detail {

namespace {

std::vector<Field> column_fields() {
  return {
      sizes_field("width").needed().items(1, 1).means(
          "clear width between the boards of the column: \"420 mm\", or \"1 share\" of what is left"),
      length_field("before").otherwise("0 mm").at_least(0).means(
          "width of an empty spacer at the left of the column, closed by a filler strip: keeps drawers and "
          "doors clear of what stands beside them"),
      sizes_field("drawers").items(1, 20).means(
          "heights of the drawer fronts from the top down: lengths, or shares of what is left"),
      choice_field("door", {"left", "right"}).means("a door, hinged at this side as seen from the front"),
      lengths_field("shelves").items(1, 20).means(
          "heights of the undersides of shelves above the bottom board, behind a door or in an open column"),
      flag_field("open").otherwise("false").means("true: the column has no front"),
  };
}

std::vector<Field> galley_fields() {
  return {
      reference_field("sheet", "sheet").needed().means("sheet of the sides, bottoms, stretchers and shelves"),
      reference_field("back_sheet", "sheet").means("sheet of the backs; by default as `sheet`"),
      reference_field("front_sheet", "sheet").means("sheet of fronts, doors and fillers; by default as `sheet`"),
      reference_field("drawer_sheet", "sheet").means("sheet of the drawer boxes; by default as `sheet`"),
      reference_field("drawer_bottom_sheet", "sheet")
          .means("sheet of the drawer bottoms; by default as `back_sheet`"),
      reference_field("counter_sheet", "sheet").means("sheet of the counter; by default as `sheet`"),
      length_field("counter_overhang").otherwise("20 mm").at_least(0).means(
          "how far the counter reaches out over the fronts; `depth` includes it"),
      length_field("toe_height").otherwise("80 mm").at_least(0).means(
          "height of the toe space under the bottom boards; 0 for none"),
      length_field("toe_depth").otherwise("50 mm").at_least(0).means(
          "how far the toe board stands back from the front edges of the sides"),
      length_field("front_gap").otherwise("3 mm").above(0).means("gap between neighbouring fronts"),
      length_field("buffer").otherwise("2 mm").at_least(0).means(
          "room between fronts and carcass, for the buffers that keep them quiet and for doors to turn in"),
      length_field("pull_width").otherwise("120 mm").at_least(0).means(
          "width of the finger pull, a notch in the top edge of each drawer front and door; 0 for none"),
      length_field("pull_depth").otherwise("22 mm").above(0).means(
          "depth of the finger pull from the top edge down"),
      reference_field("slide", "slide").means("drawer slides; needed for drawers"),
      reference_field("hinge", "hinge").means("door hinges; needed for doors"),
      reference_field("screw", "bolt").needed().means("screw that holds a board's edge: carcass, toe board, back"),
      reference_field("panel_screw", "bolt").needed().means(
          "screw that holds two boards face to face: drawer fronts, counter, cleats"),
      reference_field("slide_screw", "bolt").means("screw for slides and hinges; needed for drawers and doors"),
      reference_field("shelf_pin", "bolt").means(
          "pin under a shelf: its length is in the side, its head carries; needed for shelves"),
      keyed_field("columns", column_fields()).needed().items(1, 20).means("the columns from left to right"),
  };
}

/// A carcass smaller than this cannot hold both stretchers, or has no inside.
bool large_enough(const ModuleRequest& request, const GalleyPlan& plan, Workshop& shop) {
  const auto too_small = [&](const char* axis, double needed, double measured) {
    if (measured >= needed) return false;
    Finding finding = input_error("galley.too_small", request.fields.place(axis));
    finding.subjects = {request.name + "." + axis};
    shop.find(std::move(finding)
                  .with("axis", axis)
                  .with("measured", measured, Unit::mm)
                  .with("required", needed, Unit::mm));
    return true;
  };
  const double between_stretchers = 1.0;
  const bool shallow =
      too_small("depth", plan.carcass_front + kFingerRoom + 2 * kStretcher + between_stretchers +
                             (request.size.y - plan.back_face),
                request.size.y);
  const bool low = too_small("height", plan.floor + kStretcher + (request.size.z - plan.ceiling),
                             request.size.z);
  return !shallow && !low;
}

/// A column has exactly one of drawers, door and open; shelves do not go with drawers.
bool fronts_are_clear(const GalleyWork& work, const GalleyColumn& column) {
  const bool drawers = column.fields->has("drawers");
  const int fronts = (drawers ? 1 : 0) + (column.fields->has("door") ? 1 : 0) +
                     (column.fields->flag("open") ? 1 : 0);
  if (fronts != 1) {
    work.shop.find(work.fault("galley.column_front", column, {}).with("count", fronts, Unit::count));
    return false;
  }
  if (drawers && column.fields->has("shelves")) {
    work.shop.find(work.fault("galley.shelves_behind_drawers", column, "shelves"));
    return false;
  }
  return true;
}

/// Divides the width: spacers and boards first, then the columns' own widths and shares.
bool divide_width(const GalleyWork& work, std::vector<GalleyColumn>& columns) {
  const double t = work.plan.carcass->thickness;
  double available = work.request.size.x - t;
  std::vector<Size> sizes;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    const bool own_left_side = i > 0 && columns[i].before > 0.0;
    available -= columns[i].before + (own_left_side ? 2 * t : t);
    sizes.push_back(columns[i].fields->sizes("width").front());
  }
  const auto total = [](const std::vector<double>& values) {
    return std::accumulate(values.begin(), values.end(), 0.0);
  };
  const auto widths = share_out(sizes, available);
  if (!widths || std::ranges::min(*widths) <= 0.0 || std::abs(total(*widths) - available) > kContact) {
    const double fixed = std::accumulate(sizes.begin(), sizes.end(), 0.0,
                                         [](double sum, const Size& size) { return sum + size.mm; });
    Finding finding = input_error("galley.columns_do_not_fit", work.request.fields.place("columns"));
    finding.subjects = {work.request.name + ".columns"};
    work.shop.find(std::move(finding)
                       .with("measured", fixed, Unit::mm)
                       .with("required", available, Unit::mm)
                       .with("difference", std::abs(fixed - available), Unit::mm));
    return false;
  }
  double x = 0.0;  // right face of the last board
  for (std::size_t i = 0; i < columns.size(); ++i) {
    GalleyColumn& column = columns[i];
    const bool first = i == 0;
    if (first || column.before > 0.0) x += column.before + t;
    column.left = x;
    column.right = x + (*widths)[i];
    x = column.right + t;
  }
  return true;
}

/// Names the boards between the columns, and ends the fronts: full overlay, in the middle of a board that
/// two fronts share.
void divide_fronts(const GalleyWork& work, std::vector<GalleyColumn>& columns) {
  const double t = work.plan.carcass->thickness;
  const double gap = work.plan.gap;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    GalleyColumn& column = columns[i];
    const bool first = i == 0;
    const bool last = i + 1 == columns.size();
    const bool spacer_after = !last && columns[i + 1].before > 0.0;
    column.left_free = first || column.before > 0.0;
    column.right_free = last || spacer_after;
    column.left_board = first               ? "side.left"
                        : column.left_free ? "side." + column.key
                                           : "divider." + columns[i - 1].key;
    column.right_board = last ? "side.right" : "divider." + column.key;
    const bool left_end = first && column.before == 0.0;  // nothing beside the front there
    column.front_left = left_end ? column.left - t + gap : column.left - t / 2 + gap / 2;
    column.front_right = last ? column.right + t - gap : column.right + t / 2 - gap / 2;
  }
}

bool spacer_is_wide_enough(const GalleyWork& work, const GalleyColumn& column) {
  const double needed = work.plan.carcass->thickness + kPast;  // the cleat stands in it
  if (column.before == 0.0 || column.before >= needed) return true;
  work.shop.find(work.fault("galley.spacer_too_narrow", column, "before")
                     .with("measured", column.before, Unit::mm)
                     .with("required", needed, Unit::mm));
  return false;
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
  plan.gap = fields.number("front_gap");
  plan.buffer = fields.number("buffer");
  plan.pull_width = fields.number("pull_width");
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
  const GalleyWork work{request, plan, shop, joinery};
  for (const auto& [key, fields] : request.fields.tables("columns")) {
    plan.columns.push_back({.key = key,
                            .fields = &fields,
                            .before = fields.number("before"),
                            .left_board = {},
                            .right_board = {}});
  }
  bool usable = large_enough(request, plan, shop);
  for (const GalleyColumn& column : plan.columns) {
    usable &= fronts_are_clear(work, column);
    usable &= spacer_is_wide_enough(work, column);
  }
  usable &= divide_width(work, plan.columns);
  if (!usable) return shop.finish();
  divide_fronts(work, plan.columns);

  make_carcass(work);
  for (const GalleyColumn& column : plan.columns) {
    if (column.fields->has("drawers")) make_drawers(work, column);
    if (column.fields->has("door")) make_door(work, column);
    if (column.fields->has("shelves")) make_shelves(work, column);
  }
  joinery.finish();
  return shop.finish();
}

}  // namespace

double dado_depth(const Sheet& sheet) { return std::max(std::floor(sheet.thickness / 1.5) / 2, 1.0); }

Finding GalleyWork::fault(std::string code, const GalleyColumn& column, std::string_view field) const {
  Finding finding = input_error(std::move(code),
                                field.empty() ? column.fields->place() : column.fields->place(field));
  std::string subject = request.name + ".columns." + column.key;
  if (!field.empty()) subject += "." + std::string(field);
  finding.subjects = {std::move(subject)};
  return finding;
}

bool GalleyWork::names(const GalleyColumn& column, std::string_view needed_by,
                       const std::string& field) const {
  if (request.fields.has(field)) return true;
  shop.find(fault("galley.item_missing", column, needed_by)
                .with("item", field)
                .with("field", request.name + "." + field));
  return false;
}

std::string GalleyWork::gives_way(const GalleyColumn& column) const {
  return request.name + ".columns." + column.key + ".before";
}

Kind galley_kind() {
  return {.name = "galley",
          .schema = module_schema("galley",
                                  "A row of kitchen cabinets under one counter: drawers, doors and open "
                                  "columns.",
                                  galley_fields()),
          .generate = make_galley};
}

}  // namespace ribbay::detail
