#include "bunk.hpp"

#include "base/tolerance.hpp"
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

ModuleParts make_bunk(const ModuleRequest& request) {
  BunkWork work(request);
  if (!measure(work)) return work.shop.finish();
  add_bearers(work);
  add_beams(work);
  add_deck(work);
  if (work.guard != nullptr) add_guard(work);
  for (const Board& board : work.boards) work.shop.add(board);
  for (const Bar& beam : work.beams) work.shop.add(beam);
  add_head_room(work);
  return work.shop.finish();
}

/// Height of the deck's top above the bearers' underside.
std::optional<double> deck_top(const EarlyFields& early) {
  const auto profile = [&](const char* field) -> const Profile* {
    const auto key = early.evaluator.text(early.path, field);
    const auto found = key ? early.catalogue.profiles.find(*key) : early.catalogue.profiles.end();
    return found == early.catalogue.profiles.end() ? nullptr : &found->second;
  };
  const Profile* beam = profile("beam");
  const Profile* bearer = profile("bearer");
  const auto laid = early.evaluator.text(early.path, "laid");
  const auto deck_key = early.evaluator.text(early.path, "deck_sheet");
  const auto deck =
      deck_key ? early.catalogue.sheets.find(*deck_key) : early.catalogue.sheets.end();
  if (!beam || !bearer || !laid || deck == early.catalogue.sheets.end()) return std::nullopt;
  const double lying = *laid == "flat" ? beam->width : beam->height;
  return lying_leg(*bearer) + lying + deck->second.thickness;
}

/// Height: from the underside of the bearers to the top of the guard, or of the deck without one.
std::optional<double> bunk_size(const EarlyFields& early, int axis) {
  if (axis != 2) return std::nullopt;
  const auto deck = deck_top(early);
  const auto guard = early.evaluator.number(early.path, "guard_height");
  if (!deck || !guard) return std::nullopt;
  return *deck + *guard;
}

}  // namespace

Kind bunk_kind() {
  return {.name = "bunk",
          .schema = module_schema(
              "bunk", "beams from wall to wall on bearers, with a deck and a guard at the front",
              {reference_field("beam", "profile").needed().means("profile of the beams"),
               choice_field("laid", {"upright", "flat"})
                   .otherwise("upright")
                   .means("upright: the profile's height stands; flat: it lies, for a lower bunk"),
               count_field("beams").otherwise("3").at_least(2).at_most(40).means(
                   "how many, evenly spaced from front to back"),
               reference_field("beam_bolt", kMachineBolt)
                   .needed()
                   .means("bolt from each beam end into the bearer"),
               reference_field("bearer", "profile")
                   .needed()
                   .means("angle along each wall that the beams rest on"),
               reference_field("wall_bolt", kMachineBolt)
                   .means("bolt from the bearer into each rib it passes; without it something else must hold "
                          "the bunk"),
               choice_field("deck", {"panels", "slats"})
                   .otherwise("panels")
                   .means("what lies on the beams"),
               reference_field("deck_sheet", kBoard)
                   .needed()
                   .means("what deck panels or slats are cut from"),
               count_field("deck_pieces")
                   .otherwise("2")
                   .at_least(1)
                   .at_most(20)
                   .means("number of deck panels, side by side"),
               length_field("slat_width").otherwise("70 mm").above(10).means("width of a slat"),
               length_field("slat_gap")
                   .otherwise("50 mm")
                   .at_least(0)
                   .means("smallest gap between slats"),
               reference_field("deck_screw", kWoodScrew)
                   .means("screw from the deck into the first and the last beam"),
               length_field("guard_height")
                   .otherwise("0 mm")
                   .at_least(0)
                   .means("height of the guard above the deck; 0 for none. Ask local rules what a "
                          "bunk this high needs"),
               reference_field("guard_sheet", kBoard).means("what the guard is cut from"),
               reference_field("guard_screw", kWoodScrew)
                   .means("screw through the guard into the deck's edge"),
               length_field("mattress")
                   .otherwise("0 mm")
                   .at_least(0)
                   .means("thickness of the mattress"),
               length_field("head_room")
                   .otherwise("0 mm")
                   .at_least(0)
                   .means("height kept clear above the mattress")}),
          .generate = make_bunk,
          .default_size = bunk_size,
          .wall_height = deck_top};
}

}  // namespace ribbay::detail
