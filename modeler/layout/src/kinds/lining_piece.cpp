#include "lining_piece.hpp"

#include "base/tolerance.hpp"
#include "finishes.hpp"
#include "hatch_parts.hpp"
#include "screw_bores.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ribbay::detail {

namespace {

/// Sheet that must stay between an opening and the panel's edge (common practice, no source).
constexpr double kLeastMargin = 15.0;
/// What holds a panel stands at least this far from its edge (common practice, no source).
constexpr double kFixingEdge = 16.0;
/// And its middle at least this far from the edge of the rib or bow.
constexpr double kOnHolder = 8.0;
/// Where rows of fixings stand when none are given, from the edges.
constexpr double kRowInset = 60.0;
/// Share of a magnet's pull that keeps it from sliding. Source: a seller's statement (one fifth).
constexpr double kSliding = 0.2;

}  // namespace

LiningPiece::LiningPiece(const LiningPlan& plan, Workshop& shop, std::string name, double x0,
                         double x1, Allowance allowance)
    : plan_{plan},
      r_{plan.request},
      shop_{shop},
      name_{std::move(name)},
      x0_{x0},
      x1_{x1},
      allowance_{allowance} {}

void LiningPiece::report(const char* code, const Place& place, double measured, double required) {
  Finding finding = input_error(code, place);
  finding.subjects = {shop_.id(name_)};
  finding.with("stock", plan_.sheet.key)
      .with("measured", measured, Unit::mm)
      .with("required", required, Unit::mm);
  shop_.find(std::move(finding));
}

void LiningPiece::make() {
  const std::vector<RoomPoint> line = plan_.surface.line(x0_, x1_);
  if (line.size() < 2) {
    Finding finding = input_error("lining.outside_survey", r_.fields.place());
    finding.subjects = {shop_.id(name_)};
    return shop_.find(std::move(finding));
  }
  curve_ = shape(line);
  if (!curve_) return;
  folded_ = curve_->fold(x1_ - x0_, plan_.sheet.k_factor);
  for (const LiningOpening& opening : plan_.openings) {
    if (opening.x1 > x0_ && opening.x0 < x1_) add_opening(opening);
  }
  hold();
}

std::optional<LiningCurve> LiningPiece::shape(const std::vector<RoomPoint>& line) {
  const double t = plan_.sheet.thickness;
  if (r_.fields.flag("sprung")) {
    LiningCurve curve = sprung(line, plan_.gap, t);
    if (curve.flats() == 1) return curve;
    const double least = std::max(plan_.sheet.flex_radius, kSame);
    if (plan_.sheet.flex_radius > 0.0 && curve.radius() >= least - kSame) return curve;
    Finding finding = input_error(
        plan_.sheet.flex_radius > 0.0 ? "lining.sprung_too_tight" : "lining.stiff_sheet",
        r_.fields.place("sheet"));
    finding.subjects = {shop_.id(name_)};
    finding.with("stock", plan_.sheet.key)
        .with("bow", bow(curve), Unit::mm)
        .with("measured", curve.radius(), Unit::mm)
        .with("required", least, Unit::mm)
        .with("strain", 100 * t / (2 * curve.radius() + t), Unit::percent);
    shop_.find(std::move(finding));
    return std::nullopt;
  }
  LiningCurve curve = following(line, plan_.gap, r_.fields.number("smooth"), plan_.bend_radius, t);
  if (curve.flats() > 1 && plan_.sheet.flex_radius <= 0.0) {
    Finding finding = input_error("lining.stiff_sheet", r_.fields.place("sheet"));
    finding.subjects = {shop_.id(name_)};
    finding.with("stock", plan_.sheet.key).with("bow", bow(curve), Unit::mm);
    shop_.find(std::move(finding));
    return std::nullopt;
  }
  const auto tight = curve.tight_bend();
  if (!tight) return curve;
  const Vec3 there = r_.to_van(plan_.surface.in_module(x0_, {tight->s, 0}));
  Finding finding = input_error("lining.tight_bend", r_.fields.place("sheet"));
  finding.subjects = {shop_.id(name_)};
  finding.with("stock", plan_.sheet.key)
      .with("where", plan_.surface.roof() ? "y" : "z")
      .with("at", plan_.surface.roof() ? there.y : there.z, Unit::mm)
      .with("angle", tight->angle * 180 / std::numbers::pi, Unit::degree)
      .with("measured", tight->fits, Unit::mm)
      .with("required", plan_.bend_radius, Unit::mm);
  shop_.find(std::move(finding));
  return std::nullopt;
}

Frame LiningPiece::flat_frame(std::size_t flat) const {
  const CurvePoint start = curve_->at(curve_->flat_start(flat));
  return {plan_.surface.in_module(x0_, start.at),
          {1, 0, 0},
          plan_.surface.direction(start.along),
          plan_.surface.direction({start.along.y, -start.along.x})};
}

/// The flat that a place lies on and the distance from its start; nullopt on a bend.
std::optional<double> LiningPiece::run_on_flat(const LiningOpening& opening, double place,
                                               std::size_t& flat) const {
  if (!opening.on_sheet) {
    const CurvePoint point = curve_->at(place);
    if (!point.flat) return std::nullopt;
    flat = *point.flat;
    return point.from_start;
  }
  double run = place;
  for (flat = 0; flat < curve_->flats(); ++flat) {
    const double length = curve_->flat_length(flat);
    if (run <= length + kSame || flat + 1 == curve_->flats()) break;
    const Flat& next = folded_.flats[flat + 1];
    run -= length + bend_allowance(next.angle, next.radius, folded_.thickness, folded_.k_factor);
    if (run < -kSame) return std::nullopt;
  }
  return run;
}

void LiningPiece::add_opening(const LiningOpening& opening) {
  const auto fault = [&](const char* code, double measured, double required) {
    Finding finding = input_error(code, opening.fields->place());
    finding.subjects = {shop_.id("opening." + opening.name), shop_.id(name_)};
    finding.with("measured", measured, Unit::mm).with("required", required, Unit::mm);
    shop_.find(std::move(finding));
  };
  std::size_t flat = 0;
  std::size_t other = 0;
  const auto low = run_on_flat(opening, opening.low, flat);
  const auto high = run_on_flat(opening, opening.high, other);
  if (!low || !high || flat != other) {
    Finding finding = input_error("lining.opening_over_bend", opening.fields->place());
    finding.subjects = {shop_.id("opening." + opening.name), shop_.id(name_)};
    std::string flats;
    for (std::size_t i = 0; i < curve_->flats(); ++i) {
      const auto van = [&](double s) {
        const Vec3 p = r_.to_van(plan_.surface.in_module(x0_, {s, 0}));
        return length_text(plan_.surface.roof() ? p.y : p.z, LengthStyle::millimetres);
      };
      if (i > 0) flats += ", ";
      flats += van(curve_->flat_start(i)) + " to " + van(curve_->flat_end(i));
    }
    return shop_.find(std::move(finding.with("flats", flats)));
  }
  // Its hatch lies on the same flat.
  const bool has_hatch = opening.fields->has("hatch");
  const Vec2 size{opening.x1 - opening.x0, *high - *low};
  double around = 0.0;
  if (has_hatch) {
    const Record& hatch = opening.fields->table("hatch");
    around = hatch.number("flange") - hatch.number("hole_gap");
  }
  const double edge = std::max(around, kLeastMargin);
  const double before = flat == 0 ? edge : around;
  const double after = flat + 1 == curve_->flats() ? edge : around;
  const double spare = std::min({opening.x0 - x0_ - edge, x1_ - opening.x1 - edge, *low - before,
                                 curve_->flat_length(flat) - *high - after});
  if (spare < -kSame) return fault("lining.opening_off_panel", edge + spare, edge);
  const Vec2 lo{opening.x0 - x0_, *low};
  const Frame frame = flat_frame(flat);
  Box port;
  for (const double z : {0.0, folded_.thickness}) {
    port.add(r_.to_van(frame.point({lo.x, lo.y, z})));
    port.add(r_.to_van(frame.point({lo.x + size.x, lo.y + size.y, z})));
  }
  shop_.made().ports["opening_" + opening.name] = port;
  const double radius = opening.fields->number("radius");
  const double largest = std::min(size.x, size.y) / 2;
  if (has_hatch) return add_hatch(opening, flat, lo + size * 0.5, size);
  if (radius > largest + kSame) return fault("lining.opening_radius", radius, largest);
  folded_.flats[flat].cuts.push_back(
      {rectangle(lo, lo + size, radius), 0, folded_.thickness, CutRole::cut_out});
}

void LiningPiece::add_hatch(const LiningOpening& opening, std::size_t flat, Vec2 middle,
                            Vec2 size) {
  const Record& fields = opening.fields->table("hatch");
  HatchMaker maker(r_, shop_);
  const HatchForm form = read_hatch(fields, r_.catalogue, size, true);
  if (!maker.can_be_made(form, fields)) return;
  folded_.flats[flat].cuts.push_back(
      {moved(form.outline(form.hole_gap), middle), 0, folded_.thickness, CutRole::cut_out});
  const double covering = covering_on(r_.fields, r_.catalogue, name_, BoardSide::face);
  HatchPlace place{"hatch." + opening.name + ".",
                   flat_frame(flat),
                   {shop_.id(name_)},
                   folded_.thickness + covering};
  place.frame.origin = place.frame.point({middle.x, middle.y, folded_.thickness + covering});
  const Bolt& screw = entry(r_.catalogue.bolts, fields.text("ring_screw"));
  for (const Vec2 at : maker.make(form, fields, place)) {
    folded_.flats[flat].bores.push_back(
        {.at = {middle.x + at.x, middle.y + at.y, folded_.thickness},
         .direction = {0, 0, -1},
         .diameter = pilot_diameter(screw),
         .depth = folded_.thickness,
         .through = true,
         .thread = {},
         .role = BoreRole::pilot});
  }
  if (!plan_.surface.roof()) maker.check_ribs(form, fields, place, plan_.surface.side());
}

/// The place on a flat next to s, where something can be screwed on.
double LiningPiece::nearest_flat(double s) const {
  double best = s;
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < curve_->flats(); ++i) {
    const double middle = (curve_->flat_start(i) + curve_->flat_end(i)) / 2;
    const double low = std::min(curve_->flat_start(i) + kFixingEdge, middle);
    const double high = std::max(curve_->flat_end(i) - kFixingEdge, middle);
    const double there = std::clamp(s, low, high);
    if (std::abs(there - s) >= least) continue;
    least = std::abs(there - s);
    best = there;
  }
  return best;
}

/// Where a fixing stands on a rib: in its middle, or beside it where the panel ends on the rib.
std::optional<double> LiningPiece::on_holder(const Holder& holder) const {
  const double x = std::clamp(holder.x, x0_ + kFixingEdge, x1_ - kFixingEdge);
  if (std::abs(x - holder.x) > holder.width / 2 - kOnHolder) return std::nullopt;
  return x;
}

bool LiningPiece::in_opening(double x, double s) const {
  return std::ranges::any_of(plan_.openings, [&](const LiningOpening& opening) {
    double around = kFixingEdge;
    if (opening.fields->has("hatch")) around += opening.fields->table("hatch").number("flange");
    if (x < opening.x0 - around || x > opening.x1 + around) return false;
    if (!opening.on_sheet) return s > opening.low - around && s < opening.high + around;
    std::size_t flat = 0;
    const auto low = run_on_flat(opening, opening.low, flat);
    if (!low) return false;
    const double from = curve_->flat_start(flat) + *low * curve_->at(s).along.x;
    return s > from - around && s < from + opening.high - opening.low + around;
  });
}

/// Where each row crosses each rib or bow, but for openings.
std::vector<LiningPiece::Fixing> LiningPiece::fixings(const std::vector<Holder>& holders) const {
  std::vector<double> rows;
  if (r_.fields.has("rows")) {
    for (const double row : r_.fields.numbers("rows")) rows.push_back(plan_.surface.along(row));
    std::ranges::sort(rows);
  } else {
    rows = {kRowInset, plan_.surface.extent() - kRowInset};
  }
  std::vector<Fixing> all;
  for (const Holder& holder : holders) {
    const auto x = on_holder(holder);
    if (!x) continue;
    for (const double row : rows) {
      const double s = nearest_flat(row);
      if (s < holder.from + kOnHolder || s > holder.to - kOnHolder || in_opening(*x, s)) continue;
      const auto free = plan_.surface.free_at(*x, s);
      if (!free) continue;
      const CurvePoint on = curve_->at(s);
      all.push_back({&holder, *x, on, (*free - on.at.y) * on.along.x});
    }
  }
  return all;
}

void LiningPiece::hold() {
  const std::vector<Holder> holders = plan_.surface.holders(x0_, x1_);
  const std::vector<Fixing> all = fixings(holders);
  const bool has_fitting = r_.fields.has("fitting");
  const bool has_screw = r_.fields.has("screw");
  if ((has_fitting || has_screw) && all.empty()) {
    Finding finding =
        input_error("lining.nothing_behind", r_.fields.place(has_fitting ? "fitting" : "screw"));
    finding.subjects = {shop_.id(name_)};
    finding.with("what", plan_.surface.roof() ? "bow" : "rib");
    shop_.find(std::move(finding));
  }
  int count = 0;
  for (const Fixing& fixing : all) {
    const std::string number = std::to_string(++count);
    if (has_fitting) add_fitting(fixing, name_ + ".fitting_" + number);
    if (has_screw) add_screw(fixing, name_ + ".screw_" + number);
  }
  add_panel();
  check_distances(all);
  if (has_fitting) check_magnets(all);
}

void LiningPiece::add_fitting(const Fixing& fixing, const std::string& name) {
  const Fitting& fitting = bought(r_, r_.catalogue.fittings, r_.fields.text("fitting"));
  const Frame flat = flat_frame(*fixing.on.flat);
  const Vec3 at = plan_.surface.in_module(fixing.x, fixing.on.at);
  const Frame frame = frame_zx(at, -flat.z, flat.x);
  for (const FixingHole& hole : fitting.holes) {
    const Vec3 p = flat.local_point(frame.point(hole.at));
    folded_.flats[*fixing.on.flat].bores.push_back({.at = {p.x, p.y, folded_.thickness},
                                                    .direction = {0, 0, -1},
                                                    .diameter = hole.diameter,
                                                    .depth = folded_.thickness,
                                                    .through = true,
                                                    .thread = {},
                                                    .role = BoreRole::screw});
  }
  const std::string id = shop_.add_fitting(name, fitting, frame, {name_, fixing.holder->id});
  shop_.join("joint." + name, fitting.use, {shop_.id(name_), fixing.holder->id}, {id});
}

void LiningPiece::add_screw(const Fixing& fixing, const std::string& name) {
  const Bolt& screw = entry(r_.catalogue.bolts, r_.fields.text("screw"));
  const Frame flat = flat_frame(*fixing.on.flat);
  const Vec3 back = plan_.surface.in_module(fixing.x, fixing.on.at);
  const Vec3 head = back + flat.z * folded_.thickness;
  const Vec3 p = flat.local_point(head);
  if (screw.countersunk && screw.head_height < folded_.thickness - kContact) {
    const Hole recess = head_recess(screw, p, {0, 0, -1});
    folded_.flats[*fixing.on.flat].bores.push_back({.at = p,
                                                    .direction = recess.direction,
                                                    .diameter = recess.diameter,
                                                    .depth = recess.depth,
                                                    .through = false,
                                                    .thread = {},
                                                    .role = recess.role});
  }
  folded_.flats[*fixing.on.flat].bores.push_back({.at = p,
                                                  .direction = {0, 0, -1},
                                                  .diameter = screw.clearance_hole,
                                                  .depth = folded_.thickness,
                                                  .through = true,
                                                  .thread = {},
                                                  .role = BoreRole::screw});
  const std::string id = shop_.add(Fastener{.name = name,
                                            .bolt = &screw,
                                            .at = head,
                                            .direction = -flat.z,
                                            .hosts = {name_, fixing.holder->id}});
  shop_.join("joint." + name, "screwed", {shop_.id(name_), fixing.holder->id}, {id});
}

void LiningPiece::add_panel() {
  BentBoard board{.name = name_,
                  .title = plan_.surface.roof() ? "Ceiling panel" : "Wall panel",
                  .sheet = &plan_.sheet,
                  .frame = flat_frame(0),
                  .sheet_metal = folded_,
                  .kind = PartKind::panel,
                  .spring_in = r_.fields.number("flexible")};
  if (allowance_.any()) board.blank = enlarged(folded_, allowance_);
  if (r_.fields.text("grain") == "across") {
    const double width = x1_ - x0_;
    board.sheet_metal = turned(std::move(board.sheet_metal), width);
    if (board.blank)
      board.blank = turned(std::move(*board.blank), width + allowance_.left + allowance_.right);
    const Frame first = board.frame;
    board.frame = {first.point({width, 0, 0}), first.y, -first.x, first.z};
  }
  shop_.add(board);
}

/// A straight-lined panel cannot follow a wall that is hollow or twisted along the van.
void LiningPiece::check_distances(const std::vector<Fixing>& all) {
  if (all.empty()) return;
  double reach = plan_.gap;
  if (r_.fields.has("fitting")) {
    const Fitting& fitting = entry(r_.catalogue.fittings, r_.fields.text("fitting"));
    reach = bounds(body_shape(fitting.boxes, fitting.rounds)).hi.z;
  }
  const auto worst = std::ranges::max_element(all, {}, &Fixing::distance);
  const double off = worst->distance - reach;
  const double most = r_.fields.number("shim");
  if (off <= most + kSame) return;
  Finding finding = input_error("lining.stands_off", r_.fields.place("shim"));
  finding.severity = Severity::warning;
  finding.subjects = {shop_.id(name_), worst->holder->id};
  finding.at = r_.to_van(plan_.surface.in_module(worst->x, worst->on.at));
  finding.with("measured", off, Unit::mm).with("required", most, Unit::mm);
  shop_.find(std::move(finding));
}

void LiningPiece::check_magnets(const std::vector<Fixing>& all) {
  const Fitting& fitting = entry(r_.catalogue.fittings, r_.fields.text("fitting"));
  if (fitting.use != "magnet") return;
  std::size_t hold = 0;
  std::string told;
  for (const Fixing& fixing : all) {
    if (fixing.holder->steel) {
      ++hold;
    } else if (fixing.holder->id != told) {
      told = fixing.holder->id;
      Finding finding = input_error("lining.not_steel", r_.fields.place("fitting"));
      finding.subjects = {shop_.id(name_), told};
      shop_.find(std::move(finding.with("found", fitting.key)));
    }
  }
  if (r_.fields.text("mount") != "floating" || fitting.hold_n <= 0.0 || hold == 0) return;
  const double share = plan_.surface.roof() ? 1.0 : kSliding;
  const double held = static_cast<double>(hold) * fitting.hold_n * share;
  Finding finding = input_error("lining.magnets_weak", r_.fields.place("fitting"));
  finding.subjects = {shop_.id(name_)};
  if (!plan_.surface.roof()) finding.source = "a magnet slides at a fifth of its pull: one seller";
  finding.with("count", static_cast<double>(hold), Unit::count).with("found", fitting.key);
  shop_.made().hung.push_back({shop_.id(name_), held, std::move(finding)});
}

}  // namespace ribbay::detail
