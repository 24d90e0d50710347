#include "base/tolerance.hpp"
#include "bunk.hpp"
#include "layout/screw_hold.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace ribbay::detail {

namespace {

/// Air between two deck panels, so that they lift out. Common practice, no source.
constexpr double kDeckAir = 2.0;
constexpr double kGuardAir = 3.0;
/// Air around the head of a bolt that stands into the deck. Common practice, no source.
constexpr double kHeadAir = 1.0;
/// Screws along a deck edge stand at most this far apart. Common practice, no source.
constexpr double kScrewPitch = 250.0;
/// From the end of a deck panel to its outermost screws. Common practice, no source.
constexpr double kScrewFromEnd = 50.0;
/// Room for a driver beside a bearer, to the middle of a screw that comes from below. Common practice,
/// no source.
constexpr double kBesideBearer = 20.0;

/// A bed whose base lies higher counts as a bunk bed, and its guard ends at least so far above the
/// mattress. Source: 16 CFR 1213.2 and 1213.3, 30 in and 5 in, made for homes.
constexpr double kHighBunk = 30 * 25.4;
constexpr double kGuardAboveMattress = 5 * 25.4;

/// Makes pockets below a deck part for the heads of beam bolts that stand out of what they hold.
void clear_bolt_heads(BunkWork& w, Board& board) {
  const Bolt& bolt = entry(w.request.catalogue.bolts, w.request.fields.text("beam_bolt"));
  const double head = bolt.countersunk ? 0.0 : bolt.head_height;
  const double out = w.beams_bottom + head_seat(w) + head - w.deck_bottom;
  if (out < kContact) return;
  const double depth = std::min(out + kHeadAir, w.deck.thickness);
  for (std::size_t i = 0; i < w.beam_y.size(); ++i) {
    for (const bool left : {true, false}) {
      const double x = w.bolt_x(left);
      if (x < board.box.lo.x || x > board.box.hi.x) continue;
      board.holes.push_back({.at = {x, w.beam_y[i] + w.bolt_offset(), w.deck_bottom},
                             .direction = {0, 0, 1},
                             .diameter = bolt.head_diameter + 2 * kHeadAir,
                             .depth = depth,
                             .through = depth > w.deck.thickness - kSame,
                             .role = BoreRole::access,
                             .thread = {}});
      const std::string id = w.shop.id(BunkWork::bolt_name(w.request, i, left));
      const auto part = std::ranges::find(w.shop.made().parts, id, &Part::id);
      part->hosts.insert(part->hosts.begin(), w.shop.id(board.name));
    }
  }
}

void add_deck_board(BunkWork& w, const std::string& name, const char* title, double x0, double x1) {
  w.boards.push_back({.name = name,
                      .title = title,
                      .sheet = &w.deck,
                      .box = {{x0, w.front, w.deck_bottom}, {x1, w.request.size.y, w.deck_top}},
                      .normal = {0, 0, 1},
                      .along = {0, 1, 0},
                      .cuts = {},
                      .holes = {}});
  clear_bolt_heads(w, w.boards.back());
}

/// Where a deck screw passes a beam, beside its middle: through the flange of an upright beam, clear
/// of the web, and through the web of one that lies flat.
double screw_aside(const BunkWork& w) {
  return w.flat && w.beam.family == ProfileFamily::i_beam ? kGrid / 2 : w.beam_width * 0.25;
}

/// Heights above a beam's underside between which a deck screw passes its metal: the wall below the
/// deck, or all of a hollow beam.
std::pair<double, double> passed_by_screw(const BunkWork& w) {
  const std::vector<double> ys = crossings(w.upright(), screw_aside(w));
  const bool open = w.beam.family == ProfileFamily::i_beam || w.beam.family == ProfileFamily::angle;
  return {(open ? ys[ys.size() - 2] : ys.front()) + w.beam_height / 2,
          ys.back() + w.beam_height / 2};
}

/// A wood screw finds no hold in a beam: it comes from below and bites in the deck. Common practice,
/// no source.
bool deck_screw_fits(BunkWork& w, const Bolt& screw) {
  const double under = w.beam_height - passed_by_screw(w).first;
  const double shortest = under + kScrewHold * screw.diameter;
  const double longest = under + w.deck.thickness - kScrewSkin;
  if (screw.length >= shortest - kSame && screw.length <= longest + kSame) return true;
  Finding finding = input_error("bunk.deck_screw", w.request.fields.place("deck_screw"));
  finding.subjects = {w.request.name};
  finding.source = "common practice, no source";
  w.shop.find(std::move(finding.with("stock", screw.key)
                            .with("measured", screw.length, Unit::mm)
                            .with("under", under, Unit::mm)
                            .with("shortest", shortest, Unit::mm)
                            .with("longest", longest, Unit::mm)));
  return false;
}

/// Screws a deck part to the first and the last beam at x0 and x1 (once when they are the same).
void screw_down(BunkWork& w, Board& board, double x0, double x1) {
  const std::string& part = board.name;
  if (!w.request.fields.has("deck_screw")) {
    w.shop.join("joint." + part, "laid on beams", {w.shop.id(part), w.shop.id(w.beam_name(0))});
    return;
  }
  const Bolt& screw = entry(w.request.catalogue.bolts, w.request.fields.text("deck_screw"));
  if (!deck_screw_fits(w, screw)) return;
  const double aside = screw_aside(w);
  const auto [seat, top] = passed_by_screw(w);
  std::vector<std::string> hardware;
  std::vector<std::string> parts{w.shop.id(part)};
  std::vector<std::size_t> on{0};
  if (w.beam_y.size() > 1) on.push_back(w.beam_y.size() - 1);
  for (const std::size_t b : on) {
    parts.push_back(w.shop.id(w.beam_name(b)));
    int number = 0;
    for (const double x : x1 > x0 ? std::vector{x0, x1} : std::vector{x0}) {
      const Vec3 at{x, w.beam_y[b] + aside, w.beams_bottom + seat};
      w.beams[b].holes.push_back(clearance_hole(screw, at, {0, 0, 1}, top - seat));
      board.holes.push_back(pilot_hole(screw, at, {0, 0, 1}, w.deck_bottom - at.z));
      hardware.push_back(w.shop.add(Fastener{
          .name = part + ".screw_" + std::to_string(b + 1) + "_" + std::to_string(++number),
          .bolt = &screw,
          .at = at,
          .direction = {0, 0, 1},
          .hosts = {w.beam_name(b), part}}));
    }
  }
  w.shop.join("joint." + part, "screwed", std::move(parts), std::move(hardware));
}

void add_deck_panels(BunkWork& w) {
  const auto pieces = static_cast<int>(w.request.fields.number("deck_pieces"));
  const double pitch = w.request.size.x / pieces;
  // The same for all of them, so that they are alike.
  const double from_end = std::max(kScrewFromEnd, w.bearer.width + kBesideBearer);
  for (int i = 0; i < pieces; ++i) {
    const double air = kDeckAir / 2;
    const std::string name = "deck_" + std::to_string(i + 1);
    add_deck_board(w, name, "Deck panel", i * pitch + air, (i + 1) * pitch - air);
    screw_down(w, w.boards.back(), i * pitch + from_end, (i + 1) * pitch - from_end);
  }
}

/// The place nearest to x where a driver reaches a slat's screw from below, clear of the bearers; x
/// itself when that is none of the slat's.
double reached_from_below(const BunkWork& w, double x, const Board& board) {
  const double in = w.bearer.width + kBesideBearer;
  const double clear = std::clamp(x, in, w.request.size.x - in);
  const bool on_board = clear > board.box.lo.x + kContact && clear < board.box.hi.x - kContact;
  return on_board ? clear : x;
}

void add_slats(BunkWork& w) {
  const double width = w.request.fields.number("slat_width");
  const double gap = w.request.fields.number("slat_gap");
  const int count =
      std::max(1, static_cast<int>(std::floor((w.request.size.x + gap) / (width + gap))));
  const double rest = count > 1 ? (w.request.size.x - count * width) / (count - 1) : 0.0;
  for (int i = 0; i < count; ++i) {
    const double x = count > 1 ? i * (width + rest) : (w.request.size.x - width) / 2;
    const std::string name = "slat_" + std::to_string(i + 1);
    add_deck_board(w, name, "Slat", x, x + width);
    const double at = reached_from_below(w, x + width / 2, w.boards.back());
    screw_down(w, w.boards.back(), at, at);
  }
}

/// The walls lean in above the deck: the guard is as wide as they leave it over its whole height.
std::pair<double, double> guard_ends(const BunkWork& w, double top) {
  std::pair<double, double> ends{0.0, w.request.size.x};
  const Box van = w.shop.to_van(Box{{0, 0, w.beams_bottom}, {w.request.size.x, w.front, top}});
  if (const auto clear = clear_width(w.request.vehicle, van.lo.x, van.hi.x, van.lo.z, van.hi.z)) {
    const double a = w.request.from_van({van.lo.x, clear->left, 0}).x;
    const double b = w.request.from_van({van.lo.x, clear->right, 0}).x;
    ends = {std::max(std::min(a, b), 0.0), std::min(std::max(a, b), w.request.size.x)};
  }
  return {ends.first + kGuardAir, ends.second - kGuardAir};
}

}  // namespace

void add_deck(BunkWork& w) {
  if (w.request.fields.text("deck") == "panels") {
    add_deck_panels(w);
  } else {
    add_slats(w);
  }
}

void add_guard(BunkWork& w) {
  const double top = w.deck_top + w.request.fields.number("guard_height");
  const auto [left, right] = guard_ends(w, top);
  Board guard{.name = "guard",
              .title = "Guard",
              .sheet = w.guard,
              .box = {{left, 0, w.beams_bottom}, {right, w.front, top}},
              .normal = {0, -1, 0},
              .along = {1, 0, 0},
              .cuts = {},
              .holes = {}};
  std::vector<std::string> hardware;
  std::vector<std::string> parts{w.shop.id(guard.name)};
  if (w.request.fields.has("guard_screw") && w.request.fields.text("deck") == "panels") {
    const Bolt& screw = entry(w.request.catalogue.bolts, w.request.fields.text("guard_screw"));
    int number = 0;
    for (Board& deck : w.boards) {
      parts.push_back(w.shop.id(deck.name));
      const double x0 = deck.box.lo.x + kScrewFromEnd;
      const double x1 = deck.box.hi.x - kScrewFromEnd;
      const int count = std::max(2, static_cast<int>(std::ceil((x1 - x0) / kScrewPitch)) + 1);
      for (int k = 0; k < count; ++k) {
        const Vec3 at{x0 + (x1 - x0) * k / (count - 1), 0, (w.deck_bottom + w.deck_top) / 2};
        guard.holes.push_back(clearance_hole(screw, at, {0, 1, 0}, w.front));
        deck.holes.push_back(pilot_hole(screw, at, {0, 1, 0}, w.front));
        hardware.push_back(w.shop.add(Fastener{.name = "guard.screw_" + std::to_string(++number),
                                               .bolt = &screw,
                                               .at = at,
                                               .direction = {0, 1, 0},
                                               .hosts = {guard.name, deck.name}}));
      }
    }
  }
  w.boards.push_back(std::move(guard));
  w.shop.join("joint.guard", "screwed to the deck's edge", std::move(parts), std::move(hardware));
}

void add_bed(Workshop& shop, const ModuleRequest& request, double front, double deck_top) {
  const double room = request.fields.number("head_room");
  const double from = deck_top + request.fields.number("mattress");
  Box mattress;
  mattress.add(shop.to_van(Vec3{0, front, deck_top}));
  mattress.add(shop.to_van(Vec3{request.size.x, request.size.y, from}));
  shop.made().beds.push_back({request.name, mattress});
  if (room <= 0) return;
  shop.made().zones.push_back(
      {.id = shop.id("head_room"),
       .title = "head room above the bunk",
       .kind = ZoneKind::head_room,
       .shape = box_shape({0, front, from}, {request.size.x, request.size.y, from + room}),
       .frame = request.frame,
       .owner = request.name,
       .allowed = {request.name}});
}

void check_guard(Workshop& shop, const ModuleRequest& request, const GuardHeights& heights) {
  const double underside = shop.to_van(Vec3{0, 0, heights.deck_underside}).z;
  const double above =
      request.fields.number("guard_height") - request.fields.number("mattress");
  if (underside <= kHighBunk || above >= kGuardAboveMattress - kSame) return;
  Finding finding;
  finding.code = "bunk.low_guard";
  finding.severity = Severity::warning;
  finding.subjects = {request.name};
  finding.place = request.fields.place("guard_height");
  shop.find(std::move(
      finding.with("height", underside, Unit::mm)
          .with("measured", above, Unit::mm)
          .with("required", kGuardAboveMattress, Unit::mm)
          .with("guard", kGuardAboveMattress + request.fields.number("mattress"), Unit::mm)));
}

}  // namespace ribbay::detail
