#include "base/tolerance.hpp"
#include "kind.hpp"
#include "spec/fields.hpp"
#include "workshop.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ribbay::detail {

namespace {

/// A beam stays this much short of each bearer's upright leg, so that it drops in. Common practice,
/// no source.
constexpr double kEndAir = 1.0;
/// Air between two deck panels, so that they lift out. Common practice, no source.
constexpr double kDeckAir = 2.0;
constexpr double kGuardAir = 3.0;
/// Screws along a deck edge stand at most this far apart. Common practice, no source.
constexpr double kScrewPitch = 250.0;
/// From the end of a deck panel to its outermost screws. Common practice, no source.
constexpr double kScrewFromEnd = 50.0;

/// Where a line x = const cuts a region: rising y of every crossing, in pairs. Arcs are taken as
/// chords.
std::vector<double> crossings(const Region& region, double x) {
  std::vector<double> ys;
  const auto cut = [&](Vec2 a, Vec2 b) {
    if ((a.x <= x) == (b.x <= x)) return;
    ys.push_back(a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x));
  };
  const auto walk = [&](const Loop& loop) {
    for (const Side& side : sides(loop)) {
      if (!side.arc) {
        cut(side.a, side.b);
        continue;
      }
      constexpr int chords = 16;
      const double start = std::atan2(side.a.y - side.centre.y, side.a.x - side.centre.x);
      double sweep = std::atan2(side.b.y - side.centre.y, side.b.x - side.centre.x) - start;
      if (side.counter_clockwise && sweep < 0) sweep += 2 * std::numbers::pi;
      if (!side.counter_clockwise && sweep > 0) sweep -= 2 * std::numbers::pi;
      Vec2 last = side.a;
      for (int i = 1; i <= chords; ++i) {
        const double angle = start + sweep * i / chords;
        const Vec2 next = i == chords
                              ? side.b
                              : side.centre + Vec2{std::cos(angle), std::sin(angle)} * side.radius;
        cut(last, next);
        last = next;
      }
    }
  };
  walk(region.outer);
  for (const Loop& hole : region.holes) walk(hole);
  std::ranges::sort(ys);
  return ys;
}

/// Thickness of an angle's lying leg, between the root's fillet and the toe's.
double lying_leg(const Profile& angle) {
  return crossings(angle.section, angle.width / 4).at(1) + angle.height / 2;
}

/// Radius of the fillet between an angle's legs: of the one corner that lies inside its bounding
/// box.
double root_radius(const Profile& angle) {
  for (const Corner& corner : angle.section.outer) {
    const bool inside = std::abs(corner.at.x) < angle.width / 2 - kSame &&
                        std::abs(corner.at.y) < angle.height / 2 - kSame;
    if (inside) return corner.radius;
  }
  return 0.0;
}

/// Beams from wall to wall on bearers, with a deck on them and a guard at the front.
///
///     x: wall | bearer leg | beam ............ | bearer leg | wall      y: guard | beams, deck z:
///     up
class Bunk {
 public:
  explicit Bunk(const ModuleRequest& request)
      : r_{request},
        shop_{request},
        beam_{entry(request.catalogue.profiles, request.fields.text("beam"))},
        bearer_{entry(request.catalogue.profiles, request.fields.text("bearer"))},
        deck_{entry(request.catalogue.sheets, request.fields.text("deck_sheet"))},
        flat_{request.fields.text("laid") == "flat"} {}

  ModuleParts make() {
    beam_height_ = flat_ ? beam_.width : beam_.height;
    beam_width_ = flat_ ? beam_.height : beam_.width;
    if (!measure()) return shop_.finish();
    add_bearers();
    add_beams();
    if (r_.fields.text("deck") == "panels") {
      add_deck_panels();
    } else {
      add_slats();
    }
    if (guard_ != nullptr) add_guard();
    for (const Board& board : boards_) shop_.add(board);
    for (const Bar& beam : beams_) shop_.add(beam);
    add_head_room();
    return shop_.finish();
  }

 private:
  bool measure() {
    if (bearer_.family != ProfileFamily::angle) {
      Finding finding = input_error("bunk.bearer", r_.fields.place("bearer"));
      finding.subjects = {r_.name};
      shop_.find(std::move(finding.with("found", bearer_.key)));
      return false;
    }
    leg_thickness_ = lying_leg(bearer_);
    if (r_.fields.number("guard_height") > 0) {
      if (!r_.fields.has("guard_sheet")) {
        Finding finding = input_error("bunk.no_guard_sheet", r_.fields.place("guard_height"));
        finding.subjects = {r_.name};
        shop_.find(std::move(finding));
        return false;
      }
      guard_ = &entry(r_.catalogue.sheets, r_.fields.text("guard_sheet"));
    }
    front_ = guard_ ? guard_->thickness : 0.0;
    beams_bottom_ = leg_thickness_;
    deck_bottom_ = beams_bottom_ + beam_height_;
    deck_top_ = deck_bottom_ + deck_.thickness;
    const double count = r_.fields.number("beams");
    const double needed = count * beam_width_;
    const double room = r_.size.y - front_;
    if (needed > room + kSame) {
      Finding finding = input_error("bunk.beams", r_.fields.place("beams"));
      finding.subjects = {r_.name};
      finding.with("count", count, Unit::count)
          .with("measured", needed, Unit::mm)
          .with("required", room, Unit::mm);
      shop_.find(std::move(finding));
      return false;
    }
    const double seat = bearer_.width - leg_thickness_;
    if (seat < 10 || r_.size.x < 4 * bearer_.width) {
      Finding finding = input_error("bunk.too_narrow", r_.fields.place());
      finding.subjects = {r_.name};
      finding.with("measured", r_.size.x, Unit::mm).with("required", 4 * bearer_.width, Unit::mm);
      shop_.find(std::move(finding));
      return false;
    }
    for (int i = 0; i < static_cast<int>(count); ++i) {
      const double from = front_ + beam_width_ / 2;
      const double to = r_.size.y - beam_width_ / 2;
      beam_y_.push_back(count < 2 ? (from + to) / 2 : from + (to - from) * i / (count - 1));
    }
    return true;
  }

  // -- bearers
  // ---------------------------------------------------------------------------------------------

  void add_bearers() {
    const double w = bearer_.width / 2;
    const double h = bearer_.height / 2;
    const double long_y = r_.size.y - front_;
    // The heel of the angle lies low at the wall; the legs run up the wall and out under the beams.
    shop_.add(Bar{.name = "bearer." + r_.left(),
                  .title = "Bearer",
                  .profile = &bearer_,
                  .from = {w, r_.size.y, h},
                  .direction = {0, -1, 0},
                  .across = {1, 0, 0},
                  .length = long_y,
                  .holes = wall_holes(true)});
    shop_.add(Bar{.name = "bearer." + r_.right(),
                  .title = "Bearer",
                  .profile = &bearer_,
                  .from = {r_.size.x - w, front_, h},
                  .direction = {0, 1, 0},
                  .across = {-1, 0, 0},
                  .length = long_y,
                  .holes = wall_holes(false)});
    for (const bool left : {true, false}) bolt_to_ribs(left);
  }

  double wall_bolt_height() const {
    return leg_thickness_ + (bearer_.height - leg_thickness_) * 0.6;
  }

  /// The ribs that a bearer passes, as places y along it with the rib's body id.
  std::vector<std::pair<double, std::string>> ribs_at(bool left) const {
    std::vector<std::pair<double, std::string>> found;
    const Box box = shop_.to_van(Box{{left ? 0.0 : r_.size.x, front_, 0},
                                     {left ? 0.0 : r_.size.x, r_.size.y, bearer_.height}});
    const bool van_left = box.lo.y > 0;
    for (const Rib& rib : r_.vehicle.ribs) {
      if ((rib.side == VanSide::left) != van_left) continue;
      const double z = box.lo.z + wall_bolt_height();
      if (rib.x < box.lo.x + 20 || rib.x > box.hi.x - 20 || z < rib.from || z > rib.to) continue;
      found.emplace_back(r_.from_van({rib.x, box.lo.y, z}).y, "vehicle/rib." + rib.name);
    }
    std::ranges::sort(found);
    return found;
  }

  std::vector<Hole> wall_holes(bool left) const {
    std::vector<Hole> holes;
    if (!r_.fields.has("wall_bolt")) return holes;
    const Bolt& bolt = entry(r_.catalogue.bolts, r_.fields.text("wall_bolt"));
    for (const auto& [y, rib] : ribs_at(left)) {
      holes.push_back(
          {.at = {left ? leg_thickness_ : r_.size.x - leg_thickness_, y, wall_bolt_height()},
           .direction = {left ? -1.0 : 1.0, 0, 0},
           .diameter = bolt.clearance_hole,
           .depth = leg_thickness_,
           .through = true,
           .role = BoreRole::bolt,
           .thread = {}});
    }
    for (const double y : beam_y_) holes.push_back(beam_hole(left, y, 0.0, leg_thickness_, true));
    return holes;
  }

  void bolt_to_ribs(bool left) {
    if (!r_.fields.has("wall_bolt")) return;
    const Bolt& bolt = entry(r_.catalogue.bolts, r_.fields.text("wall_bolt"));
    const std::string side = left ? r_.left() : r_.right();
    const std::string bearer = shop_.id("bearer." + side);
    const auto ribs = ribs_at(left);
    const std::string wall =
        shop_.to_van(Vec3{left ? 0.0 : r_.size.x, 0, 0}).y > 0 ? "left" : "right";
    std::vector<std::string> hardware;
    for (std::size_t i = 0; i < ribs.size(); ++i) {
      hardware.push_back(
          shop_.add(Fastener{.name = "bearer." + side + ".wall_bolt_" + std::to_string(i + 1),
                             .bolt = &bolt,
                             .at = {left ? leg_thickness_ : r_.size.x - leg_thickness_,
                                    ribs[i].first, wall_bolt_height()},
                             .direction = {left ? -1.0 : 1.0, 0, 0},
                             .hosts = {bearer, ribs[i].second, "vehicle/wall." + wall}}));
      shop_.join("joint.bearer." + side + "." + std::to_string(i + 1), "bolted to a rib",
                 {bearer, ribs[i].second}, {hardware.back()});
    }
    if (ribs.size() >= 2) return;
    Finding finding;
    finding.code = "bunk.few_ribs";
    finding.severity = Severity::warning;
    finding.subjects = {bearer};
    finding.with("measured", static_cast<double>(ribs.size()), Unit::count)
        .with("required", 2, Unit::count);
    shop_.find(std::move(finding));
  }

  // -- beams
  // -----------------------------------------------------------------------------------------------

  /// Offset of the beam bolt from the beam's middle: beside the web of an upright I-beam.
  double bolt_offset() const {
    return beam_.family == ProfileFamily::i_beam && !flat_ ? beam_width_ * 0.3 : 0.0;
  }

  /// Height above the beam's underside where the bolt's head rests: the lowest wall that it passes,
  /// or the beam's top when it is hollow.
  double head_seat() const {
    const Region upright = flat_ ? turned(beam_.section) : beam_.section;
    const std::vector<double> ys = crossings(upright, bolt_offset() + kGrid / 2);
    const double top = beam_.family == ProfileFamily::i_beam || beam_.family == ProfileFamily::angle
                           ? ys.at(1)
                           : ys.back();
    return top + beam_height_ / 2;
  }

  /// True when the bolt has passed all of the beam below its head: the web of an I-beam that lies
  /// flat, both walls of a tube.
  bool nothing_above(double seat) const {
    const Region upright = flat_ ? turned(beam_.section) : beam_.section;
    return seat > crossings(upright, bolt_offset() + kGrid / 2).back() + beam_height_ / 2 - kSame;
  }

  static Region turned(Region region) {
    const auto turn = [](Loop& loop) {
      for (Corner& corner : loop) corner.at = perpendicular(corner.at);
    };
    turn(region.outer);
    for (Loop& hole : region.holes) turn(hole);
    return region;
  }

  double bolt_x(bool left) const {
    const double from_wall = leg_thickness_ + (bearer_.width - leg_thickness_) / 2;
    return left ? from_wall : r_.size.x - from_wall;
  }

  /// The hole for a beam bolt, drilled upwards from a lying face at height `under`.
  Hole beam_hole(bool left, double y, double under, double depth, bool through) const {
    const Bolt& bolt = entry(r_.catalogue.bolts, r_.fields.text("beam_bolt"));
    return {.at = {bolt_x(left), y + bolt_offset(), under},
            .direction = {0, 0, 1},
            .diameter = bolt.clearance_hole,
            .depth = depth,
            .through = through,
            .role = BoreRole::bolt,
            .thread = {}};
  }

  std::string beam_name(std::size_t i) const { return "beam_" + std::to_string(i + 1); }

  void add_beams() {
    const Bolt& bolt = entry(r_.catalogue.bolts, r_.fields.text("beam_bolt"));
    const double from = leg_thickness_ + std::max(kEndAir, root_radius(bearer_));
    const double seat = head_seat();
    if (bolt.length < seat + leg_thickness_) {
      Finding finding;
      finding.code = "layout.bolt_too_short";
      finding.severity = Severity::warning;
      finding.subjects = {r_.name};
      finding.with("stock", bolt.key)
          .with("measured", bolt.length, Unit::mm)
          .with("shortest", seat + leg_thickness_ + bolt.diameter, Unit::mm)
          .with("longest", seat + leg_thickness_ + 3 * bolt.diameter, Unit::mm);
      shop_.find(std::move(finding));
    }
    for (std::size_t i = 0; i < beam_y_.size(); ++i) {
      Bar bar{.name = beam_name(i),
              .title = "Beam",
              .profile = &beam_,
              .from = {from, beam_y_[i], beams_bottom_ + beam_height_ / 2},
              .direction = {1, 0, 0},
              .across = flat_ ? Vec3{0, 0, 1} : Vec3{0, 1, 0},
              .length = r_.size.x - 2 * from,
              .holes = {}};
      for (const bool left : {true, false}) {
        bar.holes.push_back(beam_hole(left, beam_y_[i], beams_bottom_, seat, nothing_above(seat)));
      }
      const std::string id = shop_.id(bar.name);
      beams_.push_back(std::move(bar));
      for (const bool left : {true, false}) {
        const std::string side = left ? r_.left() : r_.right();
        const std::string bearer = shop_.id("bearer." + side);
        const std::string bolt_id = shop_.add(
            Fastener{.name = beam_name(i) + ".bolt_" + side,
                     .bolt = &bolt,
                     .at = {bolt_x(left), beam_y_[i] + bolt_offset(), beams_bottom_ + seat},
                     .direction = {0, 0, -1},
                     .hosts = {id, bearer}});
        shop_.join("joint." + beam_name(i) + "." + side, "bolted", {id, bearer}, {bolt_id});
      }
    }
  }

  // -- deck
  // ------------------------------------------------------------------------------------------------

  void add_deck_board(const std::string& name, const char* title, double x0, double x1) {
    boards_.push_back({.name = name,
                       .title = title,
                       .sheet = &deck_,
                       .box = {{x0, front_, deck_bottom_}, {x1, r_.size.y, deck_top_}},
                       .normal = {0, 0, 1},
                       .along = {0, 1, 0},
                       .cuts = {},
                       .holes = {}});
  }

  void add_deck_panels() {
    const auto pieces = static_cast<int>(r_.fields.number("deck_pieces"));
    const double pitch = r_.size.x / pieces;
    for (int i = 0; i < pieces; ++i) {
      const double air = kDeckAir / 2;
      const std::string name = "deck_" + std::to_string(i + 1);
      add_deck_board(name, "Deck panel", i * pitch + air, (i + 1) * pitch - air);
      screw_down(boards_.back(), i * pitch + kScrewFromEnd, (i + 1) * pitch - kScrewFromEnd);
    }
  }

  void add_slats() {
    const double width = r_.fields.number("slat_width");
    const double gap = r_.fields.number("slat_gap");
    const int count = std::max(1, static_cast<int>(std::floor((r_.size.x + gap) / (width + gap))));
    const double rest = count > 1 ? (r_.size.x - count * width) / (count - 1) : 0.0;
    for (int i = 0; i < count; ++i) {
      const double x = count > 1 ? i * (width + rest) : (r_.size.x - width) / 2;
      const std::string name = "slat_" + std::to_string(i + 1);
      add_deck_board(name, "Slat", x, x + width);
      screw_down(boards_.back(), x + width / 2, x + width / 2);
    }
  }

  /// Where a deck screw enters a beam, beside its middle: into the flange of an upright I-beam
  /// clear of the web, into the upright flange of one that lies flat.
  double screw_aside() const {
    if (!flat_ || beam_.family != ProfileFamily::i_beam) return beam_width_ * 0.25;
    const double flange = crossings(beam_.section, beam_.width * 0.4).at(1) + beam_.height / 2;
    return beam_width_ / 2 - flange / 2;
  }

  /// Thickness of a beam's material below its top, `aside` from its middle: how deep a pilot need
  /// go.
  double top_wall(double aside) const {
    const std::vector<double> ys = crossings(flat_ ? turned(beam_.section) : beam_.section, aside);
    return ys.back() - ys[ys.size() - 2];
  }

  /// Screws a deck part to the first and the last beam at x0 and x1 (once when they are the same).
  void screw_down(Board& board, double x0, double x1) {
    const std::string& part = board.name;
    if (!r_.fields.has("deck_screw")) {
      shop_.join("joint." + part, "laid on beams", {shop_.id(part), shop_.id(beam_name(0))});
      return;
    }
    const Bolt& screw = entry(r_.catalogue.bolts, r_.fields.text("deck_screw"));
    const double aside = screw_aside();
    std::vector<std::string> hardware;
    std::vector<std::string> parts{shop_.id(part)};
    std::vector<std::size_t> on{0};
    if (beam_y_.size() > 1) on.push_back(beam_y_.size() - 1);
    for (const std::size_t b : on) {
      parts.push_back(shop_.id(beam_name(b)));
      int number = 0;
      for (const double x : x1 > x0 ? std::vector{x0, x1} : std::vector{x0}) {
        const Vec3 at{x, beam_y_[b] + aside, deck_top_};
        board.holes.push_back(clearance_hole(screw, at, {0, 0, -1}, deck_.thickness));
        beams_[b].holes.push_back(pilot_hole(screw, at, {0, 0, -1}, deck_.thickness));
        double& depth = beams_[b].holes.back().depth;
        depth = std::min(depth, top_wall(aside));
        hardware.push_back(shop_.add(Fastener{
            .name = part + ".screw_" + std::to_string(b + 1) + "_" + std::to_string(++number),
            .bolt = &screw,
            .at = at,
            .direction = {0, 0, -1},
            .hosts = {part, beam_name(b)}}));
      }
    }
    shop_.join("joint." + part, "screwed", std::move(parts), std::move(hardware));
  }

  // -- guard and head room
  // -----------------------------------------------------------------------------------

  /// The walls lean in above the deck: the guard is as wide as they leave it over its whole height.
  std::pair<double, double> guard_ends(double top) const {
    std::pair<double, double> ends{0.0, r_.size.x};
    const Box van = shop_.to_van(Box{{0, 0, beams_bottom_}, {r_.size.x, front_, top}});
    if (const auto clear = clear_width(r_.vehicle, van.lo.x, van.hi.x, van.lo.z, van.hi.z)) {
      const double a = r_.from_van({van.lo.x, clear->left, 0}).x;
      const double b = r_.from_van({van.lo.x, clear->right, 0}).x;
      ends = {std::max(std::min(a, b), 0.0), std::min(std::max(a, b), r_.size.x)};
    }
    return {ends.first + kGuardAir, ends.second - kGuardAir};
  }

  void add_guard() {
    const double top = deck_top_ + r_.fields.number("guard_height");
    const auto [left, right] = guard_ends(top);
    Board guard{.name = "guard",
                .title = "Guard",
                .sheet = guard_,
                .box = {{left, 0, beams_bottom_}, {right, front_, top}},
                .normal = {0, -1, 0},
                .along = {1, 0, 0},
                .cuts = {},
                .holes = {}};
    std::vector<std::string> hardware;
    std::vector<std::string> parts{shop_.id(guard.name)};
    if (r_.fields.has("guard_screw") && r_.fields.text("deck") == "panels") {
      const Bolt& screw = entry(r_.catalogue.bolts, r_.fields.text("guard_screw"));
      int number = 0;
      for (Board& deck : boards_) {
        parts.push_back(shop_.id(deck.name));
        const double x0 = deck.box.lo.x + kScrewFromEnd;
        const double x1 = deck.box.hi.x - kScrewFromEnd;
        const int count = std::max(2, static_cast<int>(std::ceil((x1 - x0) / kScrewPitch)) + 1);
        for (int k = 0; k < count; ++k) {
          const Vec3 at{x0 + (x1 - x0) * k / (count - 1), 0, (deck_bottom_ + deck_top_) / 2};
          guard.holes.push_back(clearance_hole(screw, at, {0, 1, 0}, front_));
          deck.holes.push_back(pilot_hole(screw, at, {0, 1, 0}, front_));
          hardware.push_back(shop_.add(Fastener{.name = "guard.screw_" + std::to_string(++number),
                                                .bolt = &screw,
                                                .at = at,
                                                .direction = {0, 1, 0},
                                                .hosts = {guard.name, deck.name}}));
        }
      }
    }
    boards_.push_back(std::move(guard));
    shop_.join("joint.guard", "screwed to the deck's edge", std::move(parts), std::move(hardware));
  }

  void add_head_room() {
    const double room = r_.fields.number("head_room");
    if (room <= 0) return;
    const double from = deck_top_ + r_.fields.number("mattress");
    shop_.made().zones.push_back(
        {.id = shop_.id("head_room"),
         .title = "head room above the bunk",
         .kind = ZoneKind::head_room,
         .shape = box_shape({0, front_, from}, {r_.size.x, r_.size.y, from + room}),
         .frame = r_.frame,
         .owner = r_.name,
         .allowed = {r_.name}});
  }

  const ModuleRequest& r_;
  Workshop shop_;
  const Profile& beam_;
  const Profile& bearer_;
  const Sheet& deck_;
  const Sheet* guard_ = nullptr;
  bool flat_;
  double beam_height_ = 0.0;
  double beam_width_ = 0.0;
  double leg_thickness_ = 0.0;  ///< of the bearer's lying leg
  double front_ = 0.0;          ///< y behind the guard
  double beams_bottom_ = 0.0;
  double deck_bottom_ = 0.0;
  double deck_top_ = 0.0;
  std::vector<double> beam_y_;
  std::vector<Board> boards_;  ///< deck and guard, until all their holes are known
  std::vector<Bar> beams_;     ///< likewise
};

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
                   .means("bolt from the bearer into each rib it passes"),
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
          .generate = [](const ModuleRequest& request) { return Bunk(request).make(); },
          .default_size = bunk_size,
          .wall_height = deck_top};
}

}  // namespace ribbay::detail
