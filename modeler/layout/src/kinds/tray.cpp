#include "base/tolerance.hpp"
#include "kind.hpp"
#include "spec/fields.hpp"
#include "tray_form.hpp"
#include "workshop.hpp"

#include <algorithm>
#include <array>

namespace ribbay::detail {

namespace {

/// Sheet that must stay between the edge of a hole and a bend or an edge, in thicknesses (common
/// practice, no source).
constexpr double kHoleMargin = 2.0;

constexpr std::array<std::string_view, 4> kSideNames = {"front", "left", "back", "right"};

/// A drip tray or open box, folded from one sheet of metal.
class Tray {
 public:
  explicit Tray(const ModuleRequest& request)
      : r_{request},
        shop_{request},
        sheet_{entry(request.catalogue.sheets, request.fields.text("sheet"))} {
    const Record& fields = request.fields;
    form_ = {.size = request.size,
             .thickness = sheet_.thickness,
             .radius = fields.number_if("bend_radius").value_or(sheet_.bend_radius),
             .k_factor = sheet_.k_factor,
             .walls = {},
             .lip = fields.number("lip"),
             .relief = fields.number_if("relief").value_or(sheet_.thickness),
             .gap = kTrayCornerGap};
    const std::vector<std::string>& walls = fields.texts("walls");
    for (std::size_t i = 0; i < 4; ++i)
      form_.walls[i] = std::ranges::find(walls, kSideNames[i]) != walls.end();
  }

  ModuleParts make() {
    if (!can_be_folded()) return shop_.finish();
    board_ = {.name = "tray",
              .title = "Tray",
              .sheet = &sheet_,
              .frame = {},
              .sheet_metal = tray_sheet(form_),
              .kind = PartKind::folded};
    frames_ = flat_frames(board_.sheet_metal);
    if (r_.fields.has("drain")) add_drain(r_.fields.table("drain"));
    for (const auto& [name, hole] : r_.fields.tables("holes")) add_hole(name, hole);
    shop_.add(board_);
    return shop_.finish();
  }

 private:
  void report(const char* code, const char* field, double measured, double required) {
    Finding finding = input_error(code, r_.fields.place(field));
    finding.subjects = {r_.name};
    finding.with("stock", sheet_.key)
        .with("measured", measured, Unit::mm)
        .with("required", required, Unit::mm);
    shop_.find(std::move(finding));
  }

  bool can_be_folded() {
    if (sheet_.bend_radius <= 0.0) {
      Finding finding = input_error("tray.not_for_folding", r_.fields.place("sheet"));
      finding.subjects = {r_.name};
      shop_.find(std::move(finding.with("found", sheet_.key)));
      return false;
    }
    bool good = true;
    const auto at_least = [&](const char* code, const char* field, double measured, double least) {
      if (measured >= least - kSame) return;
      report(code, field, measured, least);
      good = false;
    };
    at_least("tray.bend_too_tight", "bend_radius", form_.radius, sheet_.bend_radius);
    const double leg = form_.least_leg();
    at_least("tray.short_flange", "height", form_.size.z,
             form_.lip > 0.0 ? std::max(leg, 2 * form_.setback() + form_.thickness) : leg);
    if (form_.lip > 0.0)
      at_least("tray.short_flange", "lip", form_.lip + form_.thickness, leg);
    const Vec3 floor = form_.floor().size();
    const double least = 2 * (form_.relief + form_.thickness);
    at_least("tray.no_floor", "width", floor.x, least);
    at_least("tray.no_floor", "depth", floor.y, least);
    return good;
  }

  /// Distance from a point to the outline of a flat, in its axes; negative outside its bounds.
  static double margin(const Flat& flat, Vec3 at) {
    Box box;
    for (const Corner& corner : flat.outline.outer) box.add(Vec3{corner.at.x, corner.at.y, 0});
    return std::min({at.x - box.lo.x, box.hi.x - at.x, at.y - box.lo.y, box.hi.y - at.y});
  }

  /// Reports an opening that comes too near the edge of its flat.
  bool fits(const Flat& flat, Vec3 at, double diameter, const char* code, const Record& place) {
    const double measured = margin(flat, at);
    const double required = diameter / 2 + kHoleMargin * form_.thickness;
    if (measured >= required - kSame) return true;
    Finding finding = input_error(code, place.place());
    finding.subjects = {r_.name};
    finding.with("measured", measured, Unit::mm).with("required", required, Unit::mm);
    shop_.find(std::move(finding));
    return false;
  }

  void add_drain(const Record& drain) {
    const Fitting& fitting = bought(r_, r_.catalogue.fittings, drain.text("fitting"));
    if (fitting.cut_out <= 0.0) {
      Finding finding = input_error("tray.no_drain", drain.place("fitting"));
      finding.subjects = {r_.name};
      return shop_.find(std::move(finding.with("found", fitting.key)));
    }
    const Vec3 at{drain.number_if("from_left").value_or(r_.size.x / 2),
                  drain.number_if("from_front").value_or(r_.size.y / 2), 0};
    Flat& floor = board_.sheet_metal.flats.front();
    if (!fits(floor, at, fitting.cut_out, "tray.drain_off_floor", drain)) return;
    floor.cuts.push_back({circle({at.x, at.y}, fitting.cut_out), 0, form_.thickness});
    const Frame inside{at + Vec3{0, 0, form_.thickness}};
    for (const FixingHole& hole : fitting.holes) {
      const Vec3 p = inside.point(hole.at);
      floor.bores.push_back(through_floor({p.x, p.y}, hole.diameter));
    }
    shop_.add_fitting("drain", fitting, inside, {board_.name});
    tell_slope(at, drain.number("slope"));
  }

  Bore through_floor(Vec2 at, double diameter) const {
    return {.at = {at.x, at.y, form_.thickness},
            .direction = {0, 0, -1},
            .diameter = diameter,
            .depth = form_.thickness,
            .through = true,
            .thread = {},
            .role = BoreRole::screw};
  }

  /// A floor folded level runs dry only when the tray is packed up on the far side of the drain.
  void tell_slope(Vec3 drain, double slope) {
    if (slope <= 0.0) return;
    const Box floor = form_.floor();
    const double x = std::max(drain.x - floor.lo.x, floor.hi.x - drain.x);
    const double y = std::max(drain.y - floor.lo.y, floor.hi.y - drain.y);
    Finding finding;
    finding.code = "tray.slope";
    finding.severity = Severity::note;
    finding.status = Status::pass;
    finding.subjects = {shop_.id(board_.name)};
    finding.source = "slope as asked for";
    finding.with("slope", 100 * slope, Unit::percent)
        .with("along", std::max(x, y), Unit::mm)
        .with("measured", slope * std::max(x, y), Unit::mm);
    shop_.find(std::move(finding));
  }

  void add_hole(const std::string& name, const Record& hole) {
    const std::string& where = hole.text("in");
    std::size_t index = 0;
    if (where != "floor") {
      const auto side = static_cast<TraySide>(std::ranges::find(kSideNames, where) -
                                              kSideNames.begin());
      const auto wall = wall_flat(form_, side);
      if (!wall) {
        Finding finding = input_error("tray.no_wall", hole.place("in"));
        finding.subjects = {shop_.id("holes." + name)};
        return shop_.find(std::move(finding.with("found", where)));
      }
      index = *wall;
    }
    const Vec2 at = hole.vec2("at");
    const bool side_wall = where == "left" || where == "right";
    const Vec3 module_point = where == "floor" ? Vec3{at.x, at.y, 0}
                              : side_wall      ? Vec3{0, at.x, at.y}
                                               : Vec3{at.x, 0, at.y};
    const Vec3 local = frames_[index].local_point(module_point);
    const double diameter = hole.number("diameter");
    Flat& flat = board_.sheet_metal.flats[index];
    if (!fits(flat, local, diameter, "tray.hole_off_flat", hole)) return;
    flat.bores.push_back(through_floor({local.x, local.y}, diameter));
  }

  const ModuleRequest& r_;
  Workshop shop_;
  const Sheet& sheet_;
  TrayForm form_;
  BentBoard board_;
  std::vector<Frame> frames_;  ///< of its flats
};

}  // namespace

Kind tray_kind() {
  return {
      .name = "tray",
      .schema = module_schema(
          "tray", "a drip tray or open box, folded from one sheet of metal",
          {reference_field("sheet", "sheet")
               .needed()
               .means("what it is folded from: a sheet with a bend_radius"),
           FieldMaker{"walls", FieldKind::texts}
               .of({"front", "back", "left", "right"})
               .items(1, 4)
               .otherwise("[\"front\", \"back\", \"left\", \"right\"]")
               .means("the sides that are folded up; the module's height is theirs"),
           length_field("lip").otherwise("0 mm").at_least(0).means(
               "how far the tops of the walls are folded outwards; it counts in width and depth"),
           length_field("bend_radius")
               .at_least(0)
               .means("inside radius of the folds; by default the smallest that the sheet takes"),
           length_field("relief").at_least(0).means(
               "what folds that meet at a corner keep from each other, so that the sheet does not "
               "tear; by default its thickness"),
           table_field(
               "drain",
               {reference_field("fitting", "fitting").needed().means("a fitting with a cut_out"),
                length_field("from_left").at_least(0).means("of its middle; by default half the width"),
                length_field("from_front").at_least(0).means("of its middle; by default half the depth"),
                quantity_field("slope", dimension::none)
                    .otherwise("0 %")
                    .at_least(0)
                    .at_most(0.2)
                    .means("fall towards it: a note tells how far to pack the tray up for it")})
               .means("an outlet in the floor, put in from above"),
           keyed_field(
               "holes",
               {choice_field("in", {"floor", "front", "back", "left", "right"})
                    .otherwise("floor")
                    .means("the floor or a wall"),
                FieldMaker{"at", FieldKind::vector, dimension::length}.items(2, 2).needed().means(
                    "its middle: in the floor from the left and from the front; in a wall from "
                    "the left (front and back) or from the front (left and right), and from the "
                    "underside"),
                length_field("diameter").needed().above(0).means("of the hole")})
               .means("holes that it is screwed down by")}),
      .generate = [](const ModuleRequest& request) { return Tray(request).make(); }};
}

}  // namespace ribbay::detail
