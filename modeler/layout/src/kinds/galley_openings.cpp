#include "base/tolerance.hpp"
#include "galley.hpp"
#include "holds.hpp"
#include "spec/fields.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

/// Between what hangs in the counter and its opening (common practice, no source).
constexpr double kAround = 2.0;
/// So much more for each mm of corner radius, that a square body clears a round corner: 1 - 1/sqrt(2),
/// rounded up.
constexpr double kAtCorner = 0.3;
/// The counter reaches so far in over the edge of a bowl that is mounted under it (common practice,
/// no source).
constexpr double kOverBowl = 5.0;

/// A body of a bought thing, by its bounds.
struct Body {
  std::string name;
  Box box;
  bool round = false;
};

std::vector<Body> bodies_of(const Equipment& item) {
  std::vector<Body> bodies;
  for (const EquipmentBox& box : item.boxes) bodies.push_back({box.name, {box.at, box.at + box.size}});
  for (const BodyRound& round : item.rounds)
    bodies.push_back({round.name, bounds(body_shape({}, {round})), std::abs(round.axis.z) > 0.5});
  return bodies;
}

/// An item let into the counter: its opening in module axes, and where its own origin lies.
struct LetIn {
  const AskedBy asked;
  std::string name;
  const Equipment* item = nullptr;
  Box opening;         ///< x and y count
  double radius = 0.0;  ///< of its corners
  Vec3 at;
};

/// The opening in the item's own axes: round what hangs below its flange, or inside the bowl that
/// hangs under the counter. Nullopt, after "galley.no_flange" or "galley.nothing_below".
std::optional<LetIn> opening_for(const GalleyWork& work, const AskedBy& asked, const std::string& name,
                                 const Equipment& item) {
  const std::string& wanted = asked.fields.text("flange");
  const std::vector<Body> bodies = bodies_of(item);
  const auto flange = std::ranges::find(bodies, wanted, &Body::name);
  if (flange == bodies.end()) {
    work.shop.find(
        fault("galley.no_flange", asked).with("item", item.key).with("flange", wanted));
    return std::nullopt;
  }
  const bool under = asked.fields.text("mount") == "under";
  LetIn made{.asked = asked, .name = name, .item = &item, .opening = {}, .radius = 0.0, .at = {}};
  bool any = false;
  bool reaches = false;
  bool round = true;
  for (const Body& body : bodies) {
    if (body.name == wanted || body.box.lo.z >= flange->box.lo.z - kSame) continue;
    any = true;
    made.opening.add(body.box.lo);
    made.opening.add(body.box.hi);
    // What reaches up to the flange says how the opening looks; a trap further down goes through it.
    if (body.box.hi.z < flange->box.lo.z - kSame) continue;
    reaches = true;
    round = round && body.round;
  }
  if (!any) {
    work.shop.find(
        fault("galley.nothing_below", asked).with("item", item.key).with("flange", wanted));
    return std::nullopt;
  }
  const bool circle = reaches && round;
  const double corner = circle ? 0.0 : asked.fields.number("corner_radius");
  const double out = under ? -kOverBowl : std::max(kAround, kAtCorner * corner);
  made.opening = {made.opening.lo - Vec3{out, out, 0}, made.opening.hi + Vec3{out, out, 0}};
  const Vec3 size = made.opening.size();
  made.radius = circle ? std::min(size.x, size.y) / 2 : corner;
  made.at.z = under ? work.plan.carcass_top - flange->box.hi.z
                    : work.request.size.z - flange->box.lo.z;
  return made;
}

/// What the two stretchers leave free, as places y.
std::pair<double, double> between_stretchers(const GalleyPlan& plan) {
  return {plan.carcass_front + kFingerRoom + plan.stretcher, plan.back_face - plan.stretcher};
}

/// Moves it to its place in the counter; false after a finding.
bool place_opening(const GalleyWork& work, LetIn& made) {
  const Record& fields = made.asked.fields;
  const auto& columns = work.plan.columns;
  const auto column = std::ranges::find(columns, fields.text_or("column", ""), &GalleyColumn::key);
  if (fields.has("column") && column == columns.end()) {
    work.shop.find(detail::fault("galley.no_such_column", {fields, made.asked.path, "column"})
                       .with("found", fields.text("column")));
    return false;
  }
  const double centre = column == columns.end() ? work.request.size.x / 2
                                                : (column->left + column->right) / 2;
  const double x = fields.number_if("middle").value_or(centre);
  const auto [free_from, free_to] = between_stretchers(work.plan);
  const Vec3 size = made.opening.size();
  const double y = fields.number_if("from_front").value_or((free_from + free_to - size.y) / 2);
  const Vec3 moved{x - made.opening.centre().x, y - made.opening.lo.y, 0};
  made.opening = {made.opening.lo + moved, made.opening.hi + moved};
  made.at = {moved.x, moved.y, made.at.z};
  return true;
}

/// Below the counter stretchers and boards are in the way.
bool hangs_free(const GalleyWork& work, const LetIn& made) {
  const auto [free_from, free_to] = between_stretchers(work.plan);
  const auto tell = [&](const char* code, double from, double to, double least, double most) {
    work.shop.find(detail::fault(code, made.asked)
                       .with("from", from, Unit::mm)
                       .with("to", to, Unit::mm)
                       .with("least", least, Unit::mm)
                       .with("most", most, Unit::mm));
    return false;
  };
  const Box& o = made.opening;
  if (o.lo.y < free_from - kSame || o.hi.y > free_to + kSame)
    return tell("galley.opening_over_stretcher", o.lo.y, o.hi.y, free_from, free_to);
  const auto& columns = work.plan.columns;
  const bool in_one = std::ranges::any_of(columns, [&](const GalleyColumn& column) {
    return o.lo.x >= column.left - kSame && o.hi.x <= column.right + kSame;
  });
  if (in_one) return true;
  const auto nearest = std::ranges::min_element(columns, {}, [&](const GalleyColumn& column) {
    return std::abs((column.left + column.right) / 2 - o.centre().x);
  });
  return tell("galley.opening_over_board", o.lo.x, o.hi.x, nearest->left, nearest->right);
}

/// What is left of the counter beside an opening must not break.
void check_rim(const GalleyWork& work, const LetIn& made, const std::vector<LetIn>& others) {
  const double required = made.asked.fields.number("rim");
  const Box& o = made.opening;
  const Vec3 size = work.request.size;
  double rim = std::min({o.lo.x, o.lo.y, size.x - o.hi.x, size.y - o.hi.y});
  for (const LetIn& other : others) {
    const Box& p = other.opening;
    const double beside = std::max(p.lo.x - o.hi.x, o.lo.x - p.hi.x);
    rim = std::min(rim, std::max({beside, p.lo.y - o.hi.y, o.lo.y - p.hi.y}));
  }
  if (rim >= required - kSame) return;
  Finding finding = detail::fault("galley.narrow_rim", made.asked);
  finding.severity = Severity::warning;
  work.shop.find(
      std::move(finding.with("measured", rim, Unit::mm).with("required", required, Unit::mm)));
}

void cut_counter(const GalleyWork& work, const LetIn& made) {
  const Box& o = made.opening;
  work.joinery.board("counter").cuts.push_back(
      {.box = {{o.lo.x, o.lo.y, work.plan.carcass_top - kPast},
               {o.hi.x, o.hi.y, work.request.size.z + kPast}},
       .role = CutRole::cut_out,
       .radius = made.radius});
}

/// Screws through its fixing holes; without holes its own clamps hold it.
void fix(const GalleyWork& work, const LetIn& made) {
  std::vector<std::string> screws;
  if (!made.item->fixings.empty() && !names_item(work, made.asked, "opening_screw")) return;
  for (const FixingHole& hole : made.item->fixings) {
    screws.push_back(work.joinery.screw({.name = made.name + ".screw." + hole.name,
                                         .field = "opening_screw",
                                         .at = made.at + hole.at,
                                         .direction = hole.direction,
                                         .from = made.name,
                                         .into = "counter"}));
  }
  const char* kind = screws.empty() ? "clamped in its opening" : "screwed";
  work.joinery.join(kind, made.name, "counter", std::move(screws));
}

void hang(const GalleyWork& work, const LetIn& made) {
  cut_counter(work, made);
  const std::string id = work.shop.add_equipment(made.name, *made.item, made.at, 0);
  // The counter lies at its sides.
  for (Zone& zone : work.shop.made().zones) {
    if (zone.owner == id) zone.allowed.push_back(work.shop.id("counter"));
  }
  fix(work, made);
}

}  // namespace

void make_openings(const GalleyWork& work) {
  std::vector<LetIn> all;
  for (const auto& [name, fields] : work.request.fields.tables("openings")) {
    const AskedBy asked{fields, work.request.name + ".openings." + name};
    const Equipment* item =
        held_item(work.request, fields, work.shop.id(name), work.shop.made().findings);
    if (item == nullptr) continue;
    auto made = opening_for(work, asked, name, *item);
    if (!made || !place_opening(work, *made) || !hangs_free(work, *made)) continue;
    check_rim(work, *made, all);
    hang(work, *made);
    all.push_back(std::move(*made));
  }
}

Field galley_openings_field() {
  return keyed_field(
             "openings",
             held_item_fields(
                 "what is let into the counter",
                 {choice_field("mount", {"over", "under"})
                      .otherwise("over")
                      .means("over: its flange lies on the counter; under: its flange lies against "
                             "the counter from below, which reaches 5 mm in over the bowl"),
                  text_field("column").means("the column that it is let in over, in its middle"),
                  length_field("middle").at_least(0).means(
                      "its middle from the galley's left end; otherwise that of `column`, or of "
                      "the galley"),
                  length_field("from_front")
                      .at_least(0)
                      .means("from the counter's front edge to the opening; otherwise midway "
                             "between the stretchers"),
                  text_field("flange").otherwise("flange").means(
                      "the box or round of its body that rests on the counter: what is below it "
                      "says how large the opening is"),
                  length_field("corner_radius")
                      .otherwise("10 mm")
                      .at_least(0)
                      .means("of the corners of an opening that is not round: that of the cutter"),
                  length_field("rim").otherwise("50 mm").at_least(0).means(
                      "what must be left of the counter at its edges and beside another opening "
                      "(common practice, no source)")}))
      .means("hobs, sinks and the like that are let into the counter. Gas, mains voltage and hot "
             "water are the business of those who are licensed for them, by local rules");
}

}  // namespace ribbay::detail
