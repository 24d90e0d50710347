#include "false_floor.hpp"

#include "base/tolerance.hpp"
#include "carcass.hpp"
#include "floor_plan.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace ribbay::detail {

namespace {

/// What a screw of the deck leaves of the batten below its tip (common practice, no source).
constexpr double kSkin = 1.0;
/// A screw should hold over at least this many diameters (common practice, no source).
constexpr double kHold = 1.5;
/// The first screw along a batten, from its end.
constexpr double kEnd = 30.0;
/// Sheet around a screw or a bolt: to the edge of a board, to an opening (common practice, no
/// source).
constexpr double kAround = 15.0;
/// Bolts through a batten stand at most this far apart (common practice, no source).
constexpr double kBoltPitch = 700.0;
/// Wood beside an opening in a batten; with less the batten ends there.
constexpr double kBeside = 12.0;

/// A false floor: battens across the van, boards of insulation between, sheets of deck on top.
class FalseFloor {
 public:
  explicit FalseFloor(const ModuleRequest& request)
      : r_{request},
        shop_{request},
        deck_{entry(request.catalogue.sheets, request.fields.text("sheet"))},
        batten_{entry(request.catalogue.sheets, request.fields.text("batten_sheet"))},
        width_{request.fields.number("batten_width")},
        plan_{request, request.fields.number("edge_gap")} {}

  ModuleParts make() {
    if (!lies_across() || !place_battens() || !read_seams()) return shop_.finish();
    read_passes();
    add_battens();
    for (std::size_t i = 0; i + 1 < seams_.size(); ++i) add_deck(i);
    if (r_.fields.has("insulation")) add_insulation();
    for (const ShapedBoard& board : boards_) shop_.add(board);
    tell_height();
    return shop_.finish();
  }

 private:
  /// A length of batten.
  struct Batten {
    std::size_t board = 0;  ///< index in boards_
    double from = 0.0;      ///< x
    double to = 0.0;
    double middle = 0.0;  ///< y
  };

  Finding fault(const char* code, const Place& place) const {
    Finding finding = input_error(code, place);
    finding.subjects = {r_.name};
    return finding;
  }

  bool lies_across() {
    const std::string& faces = r_.fields.text("faces");
    const double needed = deck_.thickness + batten_.thickness;
    bool good = true;
    if (faces != "front" && faces != "rear") {
      shop_.find(fault("floor.faces", r_.fields.place("faces")).with("found", faces));
      good = false;
    }
    if (std::abs(r_.size.z - needed) > kSame) {
      shop_.find(fault("floor.height", r_.fields.place("height"))
                     .with("measured", r_.size.z, Unit::mm)
                     .with("required", needed, Unit::mm));
      good = false;
    }
    if (good && plan_.empty()) {
      shop_.find(fault("floor.outside_survey", r_.fields.place()));
      good = false;
    }
    return good;
  }

  /// Middles of the battens: one at each end, and over the joists or evenly between.
  bool place_battens() {
    const double first = width_ / 2;
    const double last = r_.size.y - width_ / 2;
    if (last - first < width_) {
      shop_.find(fault("floor.too_short", r_.fields.place())
                     .with("measured", r_.size.y, Unit::mm)
                     .with("required", 2 * width_, Unit::mm));
      return false;
    }
    middles_ = {first};
    if (r_.fields.text("battens") == "on_joists") {
      std::vector<double> joists;
      for (const Joist& joist : r_.vehicle.joists) {
        if (joist.across) joists.push_back(r_.from_van({joist.at, 0, 0}).y);
      }
      std::ranges::sort(joists);
      for (const double y : joists) {
        if (y > middles_.back() + width_ && y < last - width_) middles_.push_back(y);
      }
    } else {
      const int spans = std::max(
          1,
          static_cast<int>(std::ceil((last - first) / r_.fields.number("batten_pitch") - kSame)));
      for (int i = 1; i < spans; ++i) middles_.push_back(first + (last - first) * i / spans);
    }
    middles_.push_back(last);
    return true;
  }

  /// Seams of the deck lie on the battens nearest to where they are said.
  bool read_seams() {
    const auto lengths = share_out(r_.fields.sizes("pieces"), r_.size.y);
    double y = 0.0;
    seams_ = {0.0};
    if (lengths) {
      for (const double length : *lengths) seams_.push_back(y += length);
    }
    if (!lengths || std::abs(y - r_.size.y) > kSame) {
      shop_.find(fault("floor.pieces", r_.fields.place("pieces"))
                     .with("measured", y, Unit::mm)
                     .with("required", r_.size.y, Unit::mm));
      return false;
    }
    for (std::size_t i = 1; i + 1 < seams_.size(); ++i) {
      const auto batten =
          std::ranges::min_element(middles_.begin() + 1, middles_.end() - 1, {},
                                   [&](double middle) { return std::abs(middle - seams_[i]); });
      if (middles_.size() > 2 && *batten > seams_[i - 1] + kSame) {
        seams_[i] = *batten;
        continue;
      }
      shop_.find(fault("floor.seam_batten", r_.fields.place("pieces"))
                     .with("seam", static_cast<double>(i), Unit::count));
      return false;
    }
    return true;
  }

  void read_passes() {
    const auto add = [&](Vec2 van, double diameter) {
      const Vec3 at = r_.from_van({van.x, van.y, 0});
      const double radius = diameter / 2;
      const bool on_it = at.x > -radius && at.x < r_.size.x + radius && at.y > -radius &&
                         at.y < r_.size.y + radius;
      if (on_it) passes_.push_back({{at.x, at.y}, diameter});
      return on_it;
    };
    if (r_.fields.flag("hard_points_open")) {
      for (const HardPoint& point : r_.vehicle.hard_points)
        add(point.at, r_.fields.number("hard_point_hole"));
    }
    for (const auto& [name, pass] : r_.fields.tables("passes")) {
      if (add({pass.number("x"), pass.number("y")}, pass.number("diameter"))) continue;
      Finding finding = fault("floor.pass_outside", pass.place());
      finding.subjects = {shop_.id("pass." + name)};
      shop_.find(std::move(finding));
    }
  }

  /// Frame of a board that lies flat, its face up, its grain across the van.
  static Frame flat_at(double z) { return {{0, 0, z}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}}; }

  ShapedBoard& start_board(std::string name, std::string title, const Sheet& sheet, double z,
                           Loop outline) {
    ShapedBoard board{.name = std::move(name),
                      .title = std::move(title),
                      .sheet = &sheet,
                      .frame = flat_at(z),
                      .outline = {std::move(outline), {}},
                      .cuts = {},
                      .holes = {}};
    for (const FloorPass& pass : passes_) {
      Box reach;
      for (const Corner& corner : board.outline.outer) reach.add(Vec3{corner.at.x, corner.at.y, 0});
      if (!near(reach,
                grown(Box{{pass.at.x, pass.at.y, 0}, {pass.at.x, pass.at.y, 0}}, pass.diameter / 2),
                0))
        continue;
      board.cuts.push_back({circle(pass.at, pass.diameter), 0, sheet.thickness, CutRole::cut_out});
    }
    boards_.push_back(std::move(board));
    return boards_.back();
  }

  void add_battens() {
    for (std::size_t i = 0; i < middles_.size(); ++i) {
      const double y0 = middles_[i] - width_ / 2;
      const double y1 = middles_[i] + width_ / 2;
      const auto strip = plan_.strip(y0, y1);
      if (!strip) continue;
      const auto parts = cut_at_passes(*strip, y0, y1, passes_, kBeside);
      for (std::size_t k = 0; k < parts.size(); ++k) {
        if (parts[k].y - parts[k].x < 2 * kEnd) continue;
        std::string name = "batten_" + std::to_string(i + 1);
        if (parts.size() > 1) name += "_" + std::to_string(k + 1);
        start_board(std::move(name), "Batten", batten_, 0,
                    rectangle({parts[k].x, y0}, {parts[k].y, y1}));
        battens_.push_back({boards_.size() - 1, parts[k].x, parts[k].y, middles_[i]});
        if (r_.fields.has("floor_bolt")) bolt_down(battens_.back());
      }
    }
  }

  /// Bolts through the floor, their heads sunk into the batten.
  void bolt_down(const Batten& batten) {
    const Bolt& bolt = entry(r_.catalogue.bolts, r_.fields.text("floor_bolt"));
    ShapedBoard& board = boards_[batten.board];
    const double t = batten_.thickness;
    if (bolt.head_height > t - kHold * bolt.diameter / 2) {
      if (std::exchange(head_told_, true)) return;
      return shop_.find(fault("floor.bolt_head", r_.fields.place("floor_bolt"))
                            .with("stock", bolt.key)
                            .with("measured", bolt.head_height, Unit::mm)
                            .with("required", t - kHold * bolt.diameter / 2, Unit::mm));
    }
    std::vector<std::string> hardware;
    for (const double x : spread(batten.from + 2 * kEnd, batten.to - 2 * kEnd, kBoltPitch)) {
      const Vec3 van = shop_.to_van(Vec3{x, batten.middle, 0});
      if (near_pass({x, batten.middle})) continue;
      const Vec3 head{x, batten.middle, bolt.countersunk ? t : t - bolt.head_height};
      if (!bolt.countersunk) {
        board.holes.push_back({.at = {x, batten.middle, t},
                               .direction = {0, 0, -1},
                               .diameter = bolt.head_diameter,
                               .depth = bolt.head_height,
                               .through = false,
                               .role = BoreRole::bolt,
                               .thread = {}});
      }
      board.holes.push_back({.at = {x, batten.middle, t},
                             .direction = {0, 0, -1},
                             .diameter = bolt.clearance_hole,
                             .depth = t,
                             .through = true,
                             .role = BoreRole::bolt,
                             .thread = {}});
      const std::string name = board.name + ".bolt_" + std::to_string(hardware.size() + 1);
      hardware.push_back(shop_.add(Fastener{.name = name,
                                            .bolt = &bolt,
                                            .at = head,
                                            .direction = {0, 0, -1},
                                            .hosts = {board.name, "vehicle/floor"}}));
      shop_.made().floor_bolts.push_back(
          {.id = hardware.back(),
           .at = {van.x, van.y},
           .diameter = bolt.diameter,
           .over_joist = over_joist(r_.vehicle, {van.x, van.y}, bolt.diameter)});
    }
    if (hardware.empty()) {
      Finding finding = fault("floor.batten_loose", r_.fields.place("passes"));
      finding.severity = Severity::warning;
      finding.subjects = {shop_.id(board.name)};
      shop_.find(std::move(finding));
    }
    shop_.join("joint." + board.name, hardware.empty() ? "rests on" : "bolted to the floor",
               {shop_.id(board.name), "vehicle/floor"}, std::move(hardware));
  }

  bool near_pass(Vec2 at) const {
    return std::ranges::any_of(passes_, [&](const FloorPass& pass) {
      return length(pass.at - at) < pass.diameter / 2 + kAround;
    });
  }

  void add_deck(std::size_t i) {
    const double half = r_.fields.number("seam_gap") / 2;
    const double y0 = i == 0 ? 0.0 : seams_[i] + half;
    const double y1 = i + 2 == seams_.size() ? r_.size.y : seams_[i + 1] - half;
    const std::vector<Loop> parts = plan_.inside({0, y0}, {r_.size.x, y1});
    for (std::size_t k = 0; k < parts.size(); ++k) {
      std::string name = "deck_" + std::to_string(i + 1);
      if (parts.size() > 1) name += "_" + std::to_string(k + 1);
      start_board(std::move(name), "Deck", deck_, batten_.thickness, parts[k]);
      screw_down(boards_.size() - 1, y0, y1);
    }
  }

  void screw_down(std::size_t deck, double y0, double y1) {
    const Bolt& screw = entry(r_.catalogue.bolts, r_.fields.text("screw"));
    if (!is_right_length(screw)) return;
    const double t = deck_.thickness;
    for (const Batten& batten : battens_) {
      const double from = std::max(y0, batten.middle - width_ / 2);
      const double to = std::min(y1, batten.middle + width_ / 2);
      const double y = (from + to) / 2;
      const auto strip = plan_.strip(std::max(y - kAround, 0.0), std::min(y + kAround, r_.size.y));
      if (to - from < width_ / 4 || !strip) continue;
      const double x0 = std::max(batten.from, strip->x) + kEnd;
      const double x1 = std::min(batten.to, strip->y) - kEnd;
      if (x1 - x0 < kEnd) continue;
      ShapedBoard& under = boards_[batten.board];
      std::vector<std::string> hardware;
      const std::string pair = boards_[deck].name + "." + under.name;
      for (const double x : spread(x0, x1, r_.fields.number("screw_pitch"))) {
        if (near_pass({x, y})) continue;
        const Vec3 head{x, y, r_.size.z};
        boards_[deck].holes.push_back(clearance_hole(screw, head, {0, 0, -1}, t));
        under.holes.push_back(pilot_hole(screw, head, {0, 0, -1}, t));
        hardware.push_back(
            shop_.add(Fastener{.name = pair + ".screw_" + std::to_string(hardware.size() + 1),
                               .bolt = &screw,
                               .at = head,
                               .direction = {0, 0, -1},
                               .hosts = {boards_[deck].name, under.name}}));
      }
      shop_.join("joint." + pair, "screwed", {shop_.id(boards_[deck].name), shop_.id(under.name)},
                 std::move(hardware));
    }
  }

  bool is_right_length(const Bolt& screw) {
    const double shortest = deck_.thickness + kHold * screw.diameter;
    const double longest = deck_.thickness + batten_.thickness - kSkin;
    if (screw.length >= shortest - kSame && screw.length <= longest + kSame) return true;
    if (std::exchange(screw_told_, true)) return false;
    Finding finding = fault("floor.screw_length", r_.fields.place("screw"));
    finding.source = "common practice, no source";
    finding.with("stock", screw.key)
        .with("measured", screw.length, Unit::mm)
        .with("shortest", shortest, Unit::mm)
        .with("longest", longest, Unit::mm);
    shop_.find(std::move(finding));
    return false;
  }

  /// Boards between each two battens, in as many columns as the stock asks for.
  void add_insulation() {
    const Sheet& sheet = entry(r_.catalogue.sheets, r_.fields.text("insulation"));
    if (sheet.thickness > batten_.thickness + kSame) {
      shop_.find(fault("floor.thick_insulation", r_.fields.place("insulation"))
                     .with("stock", sheet.key)
                     .with("measured", sheet.thickness, Unit::mm)
                     .with("required", batten_.thickness, Unit::mm));
      return;
    }
    const double longest = std::max(sheet.length, sheet.width);
    const int columns = static_cast<int>(std::ceil(r_.size.x / longest - kSame));
    for (std::size_t i = 0; i + 1 < middles_.size(); ++i) {
      const double y0 = middles_[i] + width_ / 2;
      const double y1 = middles_[i + 1] - width_ / 2;
      int count = 0;
      for (int c = 0; c < columns; ++c) {
        const Vec2 lo{r_.size.x * c / columns, y0};
        const Vec2 hi{r_.size.x * (c + 1) / columns, y1};
        for (Loop& outline : plan_.inside(lo, hi)) {
          start_board("insulation_" + std::to_string(i + 1) + "_" + std::to_string(++count),
                      "Insulation", sheet, 0, std::move(outline));
        }
      }
    }
  }

  /// What it takes from the room, and what is left along the middle.
  void tell_height() {
    const Box van = shop_.to_van(Box{{r_.size.x / 2, 0, 0}, {r_.size.x / 2, r_.size.y, r_.size.z}});
    const auto roof = clear_height(r_.vehicle, van.lo.x, van.hi.x, van.lo.y, van.hi.y);
    if (!roof) return;
    Finding finding;
    finding.code = "floor.takes_height";
    finding.severity = Severity::note;
    finding.status = Status::pass;
    finding.subjects = {r_.name};
    finding.with("measured", r_.size.z, Unit::mm).with("left", *roof - van.hi.z, Unit::mm);
    shop_.find(std::move(finding));
  }

  const ModuleRequest& r_;
  Workshop shop_;
  const Sheet& deck_;
  const Sheet& batten_;
  double width_;  ///< of a batten
  FloorPlan plan_;
  std::vector<double> middles_;  ///< y of the battens
  std::vector<double> seams_;    ///< y of the deck's seams, ends included
  std::vector<FloorPass> passes_;
  std::vector<ShapedBoard> boards_;  ///< until all their holes are known
  std::vector<Batten> battens_;
  bool screw_told_ = false;
  bool head_told_ = false;
};

}  // namespace

ModuleParts make_false_floor(const ModuleRequest& request) {
  return FalseFloor(request).make();
}

}  // namespace ribbay::detail
