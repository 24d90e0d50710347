#include "bunk.hpp"

#include "base/tolerance.hpp"
#include "bunk_fold.hpp"
#include "spec/fields.hpp"

#include <utility>

namespace ribbay::detail {

BunkWork::BunkWork(const ModuleRequest& module)
    : request{module},
      shop{module},
      beam{entry(module.catalogue.profiles, module.fields.text("beam"))},
      bearer{entry(module.catalogue.profiles, module.fields.text("bearer"))},
      deck{entry(module.catalogue.sheets, module.fields.text("deck_sheet"))},
      flat{module.fields.text("laid") == "flat"} {}

namespace {

bool measure(BunkWork& w) {
  if (w.bearer.family != ProfileFamily::angle) {
    Finding finding = input_error("bunk.bearer", w.request.fields.place("bearer"));
    finding.subjects = {w.request.name};
    w.shop.find(std::move(finding.with("found", w.bearer.key)));
    return false;
  }
  w.beam_height = w.flat ? w.beam.width : w.beam.height;
  w.beam_width = w.flat ? w.beam.height : w.beam.width;
  w.leg_thickness = lying_leg(w.bearer);
  if (w.request.fields.number("guard_height") > 0) {
    if (!w.request.fields.has("guard_sheet")) {
      Finding finding = input_error("bunk.no_guard_sheet", w.request.fields.place("guard_height"));
      finding.subjects = {w.request.name};
      w.shop.find(std::move(finding));
      return false;
    }
    w.guard = &entry(w.request.catalogue.sheets, w.request.fields.text("guard_sheet"));
  }
  w.front = w.guard ? w.guard->thickness : 0.0;
  w.beams_bottom = w.leg_thickness;
  w.deck_bottom = w.beams_bottom + w.beam_height;
  w.deck_top = w.deck_bottom + w.deck.thickness;
  const double count = w.request.fields.number("beams");
  const double needed = count * w.beam_width;
  const double room = w.request.size.y - w.front;
  if (needed > room + kSame) {
    Finding finding = input_error("bunk.beams", w.request.fields.place("beams"));
    finding.subjects = {w.request.name};
    finding.with("count", count, Unit::count)
        .with("measured", needed, Unit::mm)
        .with("required", room, Unit::mm);
    w.shop.find(std::move(finding));
    return false;
  }
  const double seat = w.bearer.width - w.leg_thickness;
  if (seat < 10 || w.request.size.x < 4 * w.bearer.width) {
    Finding finding = input_error("bunk.too_narrow", w.request.fields.place());
    finding.subjects = {w.request.name};
    finding.with("measured", w.request.size.x, Unit::mm)
        .with("required", 4 * w.bearer.width, Unit::mm);
    w.shop.find(std::move(finding));
    return false;
  }
  for (int i = 0; i < static_cast<int>(count); ++i) {
    const double from = w.front + w.beam_width / 2;
    const double to = w.request.size.y - w.beam_width / 2;
    w.beam_y.push_back(count < 2 ? (from + to) / 2 : from + (to - from) * i / (count - 1));
  }
  return true;
}

/// True when the fields name what a fixed bunk is made of.
bool is_complete(const ModuleRequest& request, ModuleParts& made) {
  bool all = true;
  for (const char* item : {"beam", "beam_bolt", "bearer"}) {
    if (request.fields.has(item)) continue;
    all = false;
    Finding finding = input_error("carcass.item_missing", request.fields.place());
    finding.subjects = {request.name};
    made.findings.push_back(
        std::move(finding.with("item", item).with("field", request.name + "." + item)));
  }
  return all;
}

ModuleParts make_bunk(const ModuleRequest& request) {
  if (request.fields.has("folds")) return make_folding_bunk(request);
  ModuleParts nothing;
  if (!is_complete(request, nothing)) return nothing;
  BunkWork work(request);
  if (!measure(work)) return work.shop.finish();
  add_bearers(work);
  add_beams(work);
  add_deck(work);
  if (work.guard != nullptr) add_guard(work);
  for (const Board& board : work.boards) work.shop.add(board);
  for (const Bar& beam : work.beams) work.shop.add(beam);
  add_bed(work.shop, request, work.front, work.deck_top);
  check_guard(work.shop, request, {.deck_underside = work.deck_bottom, .deck_top = work.deck_top});
  return work.shop.finish();
}

/// Catalogue entry that a field names: a null pointer inside when it names none, nullopt when what
/// it names is not there.
template <class T>
std::optional<const T*> named(const EarlyFields& early,
                              const std::map<std::string, T, std::less<>>& entries,
                              const char* field) {
  if (!early.evaluator.has(early.path, field)) return nullptr;
  const auto key = early.evaluator.text(early.path, field);
  const auto found = key ? entries.find(*key) : entries.end();
  if (found == entries.end()) return std::nullopt;
  return &found->second;
}

/// Height of the deck's top above the underside of the bearers. What is missing counts as nothing:
/// the bunk's maker tells.
std::optional<double> deck_top(const EarlyFields& early) {
  const auto deck = named(early, early.catalogue.sheets, "deck_sheet");
  const auto high = early.evaluator.number(early.path, "rail_height");
  if (!deck || *deck == nullptr || !high) return std::nullopt;
  if (early.evaluator.has(early.path, "folds")) return *high + (*deck)->thickness;
  const auto beam = named(early, early.catalogue.profiles, "beam");
  const auto bearer = named(early, early.catalogue.profiles, "bearer");
  const auto laid = early.evaluator.text(early.path, "laid");
  if (!beam || !bearer || !laid) return std::nullopt;
  double top = (*deck)->thickness;
  if (*bearer != nullptr) top += lying_leg(**bearer);
  if (*beam != nullptr) top += *laid == "flat" ? (*beam)->width : (*beam)->height;
  return top;
}

/// Height: from the underside of the bearers to the top of the guard, or of the deck without one.
std::optional<double> bunk_size(const EarlyFields& early, int axis) {
  if (axis != 2) return std::nullopt;
  const auto deck = deck_top(early);
  const auto guard = early.evaluator.number(early.path, "guard_height");
  if (!deck || !guard) return std::nullopt;
  return *deck + *guard;
}

std::vector<Field> bunk_fields() {
  return {
      choice_field("folds", {"up", "down"})
          .means("it turns on hinges along the side wall behind it, up against the wall or down; "
                 "without it the bunk is fixed. Nobody lies on it while the van moves unless local "
                 "rules say so"),
      reference_field("beam", "profile").means("profile of the beams; needed for a fixed bunk"),
      choice_field("laid", {"upright", "flat"})
          .otherwise("upright")
          .means("upright: the profile's height stands; flat: it lies, for a lower bunk"),
      count_field("beams").otherwise("3").at_least(2).at_most(40).means(
          "how many, evenly spaced from front to back"),
      reference_field("beam_bolt", kMachineBolt)
          .means("bolt from each beam end into the bearer; needed for a fixed bunk"),
      reference_field("bearer", "profile")
          .means("angle along each wall that the beams rest on; needed for a fixed bunk"),
      reference_field("wall_bolt", kMachineBolt)
          .means("bolt from the bearer into each rib it passes; without it something else must hold "
                 "the bunk"),
      choice_field("deck", {"panels", "slats"})
          .otherwise("panels")
          .means("what lies on the beams, or on the joists of a folding bunk: one panel there"),
      reference_field("deck_sheet", kBoard)
          .needed()
          .means("what deck panels or slats are cut from"),
      count_field("deck_pieces")
          .otherwise("2")
          .at_least(1)
          .at_most(20)
          .means("number of deck panels of a fixed bunk, side by side"),
      length_field("slat_width").otherwise("70 mm").above(10).means("width of a slat"),
      length_field("slat_gap").otherwise("50 mm").at_least(0).means("smallest gap between slats"),
      reference_field("deck_screw", kWoodScrew)
          .means("screw from below, through the first and the last beam into the deck, which it must not pierce"),
      length_field("guard_height")
          .otherwise("0 mm")
          .at_least(0)
          .means("height of the guard above the deck; 0 for none. Ask local rules what a "
                 "bunk this high needs"),
      reference_field("guard_sheet", kBoard).means("what the guard is cut from"),
      reference_field("guard_screw", kWoodScrew)
          .means("screw through the guard into the deck's edge, or into the front rail of a folding "
                 "bunk"),
      length_field("mattress").otherwise("0 mm").at_least(0).means("thickness of the mattress"),
      length_field("head_room")
          .otherwise("0 mm")
          .at_least(0)
          .means("height kept clear above the mattress"),
      reference_field("rail_sheet", kBoard)
          .means("of a folding bunk: what bearers, rails and joists are cut from; by default as "
                 "`deck_sheet`"),
      length_field("rail_height")
          .otherwise("70 mm")
          .at_least(40)
          .at_most(300)
          .means("of a folding bunk: height of bearers, rails and joists"),
      length_field("hinge_strip")
          .above(0)
          .means("of a folding bunk: depth of the strip at the wall that the leaf turns on; "
                 "otherwise as little as what folds leaves behind the hinges, mattress and guard or "
                 "rails and legs"),
      length_field("wall_gap")
          .otherwise("2 mm")
          .at_least(0)
          .means("of a folding bunk: left free between its wall bearer and the ribs"),
      reference_field("hinge", "butt_hinge").means("hinges of the leaf; needed to fold"),
      reference_field("screw", kWoodScrew)
          .means("screw through one board of a folding bunk into the edge of another; needed to "
                 "fold"),
      reference_field("rib_screw", kWoodScrew)
          .means("screw from the wall bearer of a folding bunk into each rib"),
      reference_field("leg", kLeg)
          .means("one of the two folding legs at the front; needed to fold"),
      reference_field("leg_screw", kWoodScrew).means("screw of the legs; needed for them"),
      reference_field("strap", kStrap)
          .means("strap that holds the folded leaf, on one or two ribs behind it"),
      reference_field("strap_screw", kWoodScrew).means("screw of the straps; needed for them"),
  };
}

}  // namespace

Kind bunk_kind() {
  return {.name = "bunk",
          .schema = module_schema("bunk",
                                  "beams from wall to wall on bearers, with a deck and a guard at "
                                  "the front; or a deck on hinges along a side wall, with folding "
                                  "legs",
                                  bunk_fields()),
          .generate = make_bunk,
          .default_size = bunk_size,
          .wall_height = deck_top};
}

}  // namespace ribbay::detail
