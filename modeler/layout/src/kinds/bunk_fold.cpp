#include "bunk_fold.hpp"

#include "base/tolerance.hpp"
#include "bunk.hpp"
#include "wall_fixing.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace ribbay::detail {

namespace {

/// Air behind what is folded, for a strap too (common practice, no source).
constexpr double kFoldAir = 15.0;
/// Between a hinge's leaf and the rail or bearer beside it.
constexpr double kBesideHinge = 2.0;
/// Joists stand at most this far apart, pieces between the bearers too (common practice, no source).
constexpr double kJoistPitch = 450.0;
constexpr double kCrossPitch = 600.0;
/// Least clear width between the two bearers: takes a hand (common practice, no source).
constexpr double kBetweenBearers = 40.0;
/// Least depth of the leaf: somebody lies on it (common practice, no source).
constexpr double kLeastLeaf = 300.0;
/// Least length: two pads with their legs, and a joist between (common practice, no source).
constexpr double kLeastLength = 900.0;
/// Screws into the two ends of a short piece stand at these shares of its height: in line they would
/// meet in its middle.
constexpr double kFrontScrews[] = {0.2, 0.6};
constexpr double kRearScrews[] = {0.4, 0.8};
/// A screw into a rib and one along it keep this apart.
constexpr double kBesideRib = 25.0;

/// y of the wall or its ribs behind the bunk between two heights; nullopt outside the survey.
std::optional<double> wall_between(const ModuleRequest& request, double z0, double z1) {
  const Vec3 a = request.to_van({0, 0, z0});
  const Vec3 b = request.to_van({request.size.x, 0, z1});
  const auto clear = clear_width(request.vehicle, std::min(a.x, b.x), std::max(a.x, b.x), a.z, b.z);
  if (!clear) return std::nullopt;
  const bool left = request.direction_to_van({0, 1, 0}).y > 0.0;
  return request.from_van({a.x, left ? clear->left : clear->right, a.z}).y;
}

/// How far what folds reaches behind the pin.
double behind_pin(const FoldWork& work) {
  const Record& fields = work.request.fields;
  if (work.plan.up) return std::max(fields.number("mattress"), fields.number("guard_height"));
  const double deep = work.plan.deck_bottom - work.plan.low;
  if (!fields.has("leg")) return deep;
  const Fitting& leg =
      bought(work.request, work.request.catalogue.fittings, fields.text("leg"));
  if (!leg.folds) return deep;
  std::vector<EquipmentBox> boxes = leg.boxes;
  std::vector<BodyRound> rounds = leg.rounds;
  const auto still = [&](const auto& body) {
    return std::ranges::find(leg.folds->moves, body.name) == leg.folds->moves.end();
  };
  std::erase_if(boxes, still);
  std::erase_if(rounds, still);
  const double thick = bounds(body_shape(boxes, rounds)).hi.x;  // standing; folded it lies so thick
  return deep + work.plan.rail->thickness + leg.folds->at.z + thick;
}

/// Depth of the strip that the bearers and a hinge take.
double least_strip(const FoldPlan& plan) {
  const double overhang = plan.inner - plan.strip_front();
  return overhang + 2 * plan.rail->thickness + kBetweenBearers;
}

/// The inner bearer stands behind the hinges, and behind what folds down past it.
double inner_behind_pin(const FoldPlan& plan) {
  const double rails = plan.up ? 0.0 : plan.deck_bottom - plan.low;
  return std::max(plan.hinge->leaf, rails) + kBesideHinge;
}

/// Sets the pin as near to the wall as what folds allows, or where `hinge_strip` says.
bool place_pin(const FoldWork& work, FoldPlan& plan) {
  const ModuleRequest& request = work.request;
  const auto set = [&](double strip) {
    plan.pin = plan.wall - strip - kFoldGap / 2;
    plan.inner = plan.pin + inner_behind_pin(plan);
    plan.rear_rail = plan.pin - plan.hinge->leaf - kBesideHinge - plan.rail->thickness;
  };
  set(0.0);
  const double least = least_strip(plan);
  const auto given = request.fields.number_if("hinge_strip");
  if (given && is_too_small(work, "hinge_strip", least, *given)) return false;
  if (given) {
    set(*given);
  } else {
    const double deepest = plan.wall - least;
    const double floor = request.from_van({}).z;
    const double from = plan.up ? plan.deck_top : std::max(plan.deck_bottom - deepest, floor);
    const double to = plan.up ? plan.deck_top + deepest : plan.low;
    const double behind = from < to ? wall_between(request, from, to).value_or(plan.wall) : plan.wall;
    const double needed = behind_pin(work) + kFoldAir + std::max(plan.wall - behind, 0.0);
    set(std::max(least, needed - kFoldGap / 2));
  }
  return !is_too_small(work, "depth", request.size.y + kLeastLeaf - (plan.rear_rail - plan.front),
                       request.size.y);
}

/// All sizes; false after a finding.
bool plan_fold(const FoldWork& work, FoldPlan& plan) {
  const ModuleRequest& request = work.request;
  const Record& fields = request.fields;
  const double guard = fields.number("guard_height");
  plan.deck = &work.sheet(fields.text("deck_sheet"));
  plan.rail = &work.sheet(fields.text_or("rail_sheet", plan.deck->key));
  plan.hinge = &bought(request, request.catalogue.butt_hinges, fields.text("hinge"));
  plan.up = fields.text("folds") == "up";
  if (guard > 0.0) plan.guard = &work.sheet(fields.text("guard_sheet"));
  plan.front = plan.guard != nullptr ? plan.guard->thickness : 0.0;
  plan.deck_top = request.size.z - guard;
  plan.deck_bottom = plan.deck_top - plan.deck->thickness;
  plan.low = plan.deck_bottom - fields.number("rail_height");
  if (plan.low < -kSame && is_too_small(work, "height", request.size.z - plan.low, request.size.z))
    return false;
  if (is_too_small(work, "width", kLeastLength, request.size.x)) return false;
  const auto line = wall_line(request, 0.0, request.size.x, fields.number("wall_gap"));
  if (line.empty()) {
    work.shop.find(fault("bunk.outside_survey", {fields, request.name}));
    return false;
  }
  plan.wall = nearest_wall(line, plan.low, plan.deck_top);
  const double t = plan.rail->thickness;
  plan.joists = spread(t / 2, request.size.x - t / 2, kJoistPitch);
  if (fields.has("rib_screw")) {
    for (const RibBehind& rib : ribs_behind(request, kFoldScrewEnd / 2,
                                            request.size.x - kFoldScrewEnd / 2,
                                            plan.low + 0.7 * (plan.deck_bottom - plan.low)))
      plan.ribs.push_back(rib.x);
  }
  return place_pin(work, plan);
}

/// The place, or beside the rib that stands there, towards the middle.
double clear_of_ribs(const FoldWork& work, double x) {
  const double step = x < work.request.size.x / 2 ? 2 * kBesideRib : -2 * kBesideRib;
  const bool met = std::ranges::any_of(work.plan.ribs, [&](double rib) {
    return std::abs(rib - x) < kBesideRib;
  });
  return met ? x + step : x;
}

/// Places of the pieces between the bearers.
std::vector<double> cross_places(const FoldWork& work) {
  const double t = work.plan.rail->thickness;
  std::vector<double> places;
  for (const double x : spread(t / 2, work.request.size.x - t / 2, kCrossPitch))
    places.push_back(clear_of_ribs(work, x));
  return places;
}

/// Screws from the strip down into a bearer, midway between the pieces that stand across.
void screw_strip(const FoldWork& work, const std::string& bearer, double y) {
  const std::vector<double> across = cross_places(work);
  std::vector<std::string> screws;
  for (std::size_t i = 0; i + 1 < across.size(); ++i) {
    for (const double share : {0.25, 0.75}) {
      const double x = clear_of_ribs(work, across[i] + share * (across[i + 1] - across[i]));
      screws.push_back(work.joinery.screw(
          {.name = "strip.screw." + bearer + "_" + std::to_string(screws.size() + 1),
           .field = "screw",
           .at = {x, y, work.plan.deck_top},
           .direction = {0, 0, -1},
           .from = "strip",
           .into = bearer}));
    }
  }
  work.joinery.join("screwed", "strip", bearer, std::move(screws));
}

/// A piece between the two bearers, screwed through both.
void add_cross(const FoldWork& work, const std::string& name, double x) {
  const FoldPlan& plan = work.plan;
  const double t = plan.rail->thickness;
  work.joinery.add(fold_board(name, "Piece between the bearers", *plan.rail,
                              {{x - t / 2, plan.inner + t, plan.low},
                               {x + t / 2, plan.wall - t, plan.deck_bottom}},
                              {1, 0, 0}, {0, 1, 0}));
  for (const bool front : {true, false}) {
    const std::string bearer = front ? "bearer.inner" : "bearer.wall";
    std::vector<std::string> screws;
    for (const double share : front ? kFrontScrews : kRearScrews) {
      screws.push_back(work.joinery.screw(
          {.name = name + ".screw." + (front ? "front_" : "rear_") +
                   std::to_string(screws.size() + 1),
           .field = "screw",
           .at = {x, front ? plan.inner : plan.wall,
                  plan.low + share * (plan.deck_bottom - plan.low)},
           .direction = {0, front ? 1.0 : -1.0, 0},
           .from = bearer,
           .into = name}));
    }
    work.joinery.join("screwed", name, bearer, std::move(screws));
  }
}

void screw_to_ribs(const FoldWork& work) {
  const FoldPlan& plan = work.plan;
  const ModuleRequest& request = work.request;
  if (!request.fields.has("rib_screw")) return;
  const Bolt& screw = entry(request.catalogue.bolts, request.fields.text("rib_screw"));
  const double t = plan.rail->thickness;
  const double z = plan.low + 0.7 * (plan.deck_bottom - plan.low);
  std::size_t made = 0;
  for (const RibBehind& behind : ribs_behind(request, kFoldScrewEnd / 2,
                                             request.size.x - kFoldScrewEnd / 2, z)) {
    const Vec3 head{behind.x, plan.wall - t, z};
    work.joinery.drill("bearer.wall", clearance_hole(screw, head, {0, 1, 0}, t));
    screw_to_rib(work,
                 {.name = "bearer.rib_screw_" + std::to_string(++made),
                  .screw = &screw,
                  .at = head,
                  .direction = {0, 1, 0},
                  .clamped = t,
                  .boards = {"bearer.wall"}},
                 *behind.rib);
  }
  check_ribs(work, "bearer.wall", made);
}

/// What stays at the wall: two bearers, what holds them apart, and the strip on them.
void make_bearers(const FoldWork& work) {
  const FoldPlan& plan = work.plan;
  const double t = plan.rail->thickness;
  const double wide = work.request.size.x;
  work.joinery.add(fold_board("bearer.wall", "Wall bearer", *plan.rail,
                              {{0, plan.wall - t, plan.low}, {wide, plan.wall, plan.deck_bottom}},
                              {0, -1, 0}, {1, 0, 0}));
  work.joinery.add(fold_board("bearer.inner", "Inner bearer", *plan.rail,
                              {{0, plan.inner, plan.low}, {wide, plan.inner + t, plan.deck_bottom}},
                              {0, -1, 0}, {1, 0, 0}));
  work.joinery.add(
      fold_board("strip", "Hinge strip", *plan.deck,
                 {{0, plan.strip_front(), plan.deck_bottom}, {wide, plan.wall, plan.deck_top}},
                 {0, 0, 1}, {1, 0, 0}));
  int number = 0;
  for (const double x : cross_places(work)) add_cross(work, "cross_" + std::to_string(++number), x);
  screw_strip(work, "bearer.wall", plan.wall - t / 2);
  screw_strip(work, "bearer.inner", plan.inner + t / 2);
  screw_to_ribs(work);
}

/// True when the fields name all that a folding bunk is made of, and its back is at a side wall.
bool is_complete(const FoldWork& work) {
  const Record& fields = work.request.fields;
  bool all = true;
  for (const char* item : {"hinge", "screw", "leg"}) all &= names_item(work, work.asked("folds"), item);
  const bool guard = fields.number("guard_height") > 0.0;
  if (guard) {
    for (const char* item : {"guard_sheet", "guard_screw"})
      all &= names_item(work, work.asked("guard_height"), item);
  }
  if (backs_to_wall(work.request)) return all;
  work.shop.find(
      fault("bunk.not_at_wall", work.asked("faces")).with("found", fields.text("faces")));
  return false;
}

/// Folded up, the mattress stands between deck and wall.
void check_mattress(const FoldWork& work) {
  const FoldPlan& plan = work.plan;
  const double thick = work.request.fields.number("mattress");
  const auto behind = wall_between(work.request, plan.deck_top, plan.deck_top + plan.pin - plan.front);
  if (!plan.up || thick <= 0.0 || !behind || *behind - plan.pin >= thick - kSame) return;
  Finding finding = fault("bunk.mattress_no_room", work.asked("mattress"));
  finding.severity = Severity::warning;
  work.shop.find(std::move(finding.with("measured", thick, Unit::mm)
                               .with("required", std::max(*behind - plan.pin, 0.0), Unit::mm)));
}

}  // namespace

std::vector<double> FoldWork::between_joists() const {
  std::vector<double> places;
  for (std::size_t i = 0; i + 1 < plan.joists.size(); ++i)
    places.push_back((plan.joists[i] + plan.joists[i + 1]) / 2);
  return places;
}

Board fold_board(std::string name, std::string title, const Sheet& sheet, const Box& box, Vec3 normal,
                 Vec3 along) {
  return {.name = std::move(name),
          .title = std::move(title),
          .sheet = &sheet,
          .box = box,
          .normal = normal,
          .along = along,
          .cuts = {},
          .holes = {}};
}

ModuleParts make_folding_bunk(const ModuleRequest& request) {
  Workshop shop{request};
  Joinery joinery{request, shop};
  FoldPlan plan;
  const FoldWork work{{request, shop, joinery}, plan};
  if (!is_complete(work) || !plan_fold(work, plan)) return shop.finish();
  make_bearers(work);
  make_leaf(work);
  add_straps(work);
  check_mattress(work);
  check_guard(shop, request, {.deck_underside = plan.deck_bottom, .deck_top = plan.deck_top});
  add_bed(shop, request, plan.front, plan.deck_top);
  joinery.finish();
  check_straps(work);
  return shop.finish();
}

}  // namespace ribbay::detail
