#include "base/tolerance.hpp"
#include "layout/wood.hpp"
#include "partition_wall.hpp"
#include "plank_row.hpp"
#include "spec/fields.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace ribbay::detail {

namespace {

/// No board is narrower than this share of a whole one. Common practice, no source.
constexpr double kLeastShare = 1.0 / 3;
/// A tongue must stay in its groove by this much at the driest. Common practice, no source.
constexpr double kLeastTongue = 1.0;
/// Screws that hold a board stand at most this far apart. Common practice, no source.
constexpr double kScrewPitch = 400.0;
/// What must be left of a board in front of a screw's tip. Common practice, no source.
constexpr double kLeastBite = 4.0;  ///< of a screw in a board, mm. Common practice, no source
constexpr double kSkin = 1.0;
/// Screws keep this from the ends of a board and from openings, so that it does not split. Common
/// practice, no source.
constexpr double kScrewMargin = 30.0;

class Planks {
 public:
  explicit Planks(const PlankedWall& wall)
      : w_{wall},
        r_{wall.request},
        shop_{wall.shop},
        fields_{wall.request.fields.table("planks")},
        plank_{entry(wall.request.catalogue.planks, fields_.text("plank"))},
        upright_{fields_.text("run") == "vertical"} {}

  void make() {
    if (!read_moisture() || !read_datum()) return;
    trim_rows();
    const double span = far_ - near_;
    const std::optional<double> first = fields_.number_if("first");
    const double least = plank_.cover * kLeastShare;
    row_ = share_planks(span, plank_.cover, gap_, first, least);
    if (!wide_enough(least)) return;
    for (std::size_t i = 0; i < row_.widths.size(); ++i) add_board(i);
  }

 private:
  Finding fault(const char* code, const char* field) const {
    Finding finding = input_error(code, fields_.place(field));
    finding.subjects = {r_.name};
    return finding;
  }

  /// The gap that lets the boards swell until they touch; a tongue must reach over it when they are
  /// driest.
  bool read_moisture() {
    const std::vector<double>& range = fields_.numbers("moisture");
    const double dry = range.front();
    const double wet = range.back();
    const double today = fields_.number_if("today").value_or((dry + wet) / 2);
    if (dry < kDriestWood || wet > kWettestWood || dry > today || today > wet) {
      shop_.find(fault("partition.moisture", "moisture")
                     .with("dry", dry, Unit::percent)
                     .with("today", today, Unit::percent)
                     .with("wet", wet, Unit::percent));
      return false;
    }
    const Material& wood = entry(r_.catalogue.materials, plank_.material);
    const double coefficient = movement_coefficient(wood, plank_.quarter_sawn);
    if (coefficient <= 0.0) {
      shop_.find(fault("partition.no_movement", "plank").with("found", wood.key));
      return false;
    }
    gap_ = wood_movement(plank_.cover, coefficient, wet - today);
    const double widest = wood_movement(plank_.cover, coefficient, wet - dry);
    if (widest > plank_.tongue_length() - kLeastTongue) {
      Finding finding = fault("partition.tongue_out", "plank");
      finding.source = "Wood Handbook, FPL-GTR-190, equation 13-2 and table 13-5; 1 mm of tongue in "
                       "the groove: common practice, no source";
      shop_.find(std::move(finding.with("measured", widest, Unit::mm)
                               .with("required", plank_.tongue_length() - kLeastTongue, Unit::mm)));
    }
    return true;
  }

  bool read_datum() {
    const std::string datum = fields_.text_or("datum", upright_ ? "left" : "bottom");
    const bool sideways = datum == "left" || datum == "right";
    if (sideways != upright_) {
      shop_.find(fault("partition.datum", "datum").with("found", datum));
      return false;
    }
    backwards_ = datum == "right" || datum == "top";
    return true;
  }

  void trim_rows() {
    const double trim = fields_.number("trim");
    rows_ = w_.rows;
    for (WallRow& row : rows_) {
      row.left += trim;
      row.right -= trim;
    }
    room_ = {{rows_.front().left, trim}, {rows_.front().right, r_.size.z - trim}};
    for (const WallRow& row : rows_) {
      room_.lo.x = std::min(room_.lo.x, row.left);
      room_.hi.x = std::max(room_.hi.x, row.right);
    }
    const double lo = upright_ ? room_.lo.x : room_.lo.y;
    const double hi = upright_ ? room_.hi.x : room_.hi.y;
    near_ = backwards_ ? -hi : lo;
    far_ = backwards_ ? -lo : hi;
  }

  bool wide_enough(double least) {
    for (const double width : row_.widths) {
      if (width >= least - kSame) continue;
      const double both = row_.widths.front() + row_.widths.back();
      Finding finding = fault("partition.narrow_board", "first");
      finding.with("measured", width, Unit::mm).with("required", least, Unit::mm);
      if (both / 2 >= least) finding.with("even", both / 2, Unit::mm);
      shop_.find(std::move(finding));
      return false;
    }
    return true;
  }

  // -- one board ----------------------------------------------------------------------------------

  /// Across the boards, away from the datum edge, in module axes.
  Vec3 across() const {
    const double sign = backwards_ ? -1.0 : 1.0;
    return upright_ ? Vec3{sign, 0, 0} : Vec3{0, 0, sign};
  }

  /// The part of the wall between two distances across the boards.
  WallWindow strip(double from, double to) const {
    if (backwards_) std::tie(from, to) = std::pair{-to, -from};
    return upright_ ? WallWindow{{from, room_.lo.y}, {to, room_.hi.y}}
                    : WallWindow{{room_.lo.x, from}, {room_.hi.x, to}};
  }

  /// A board that an opening takes in over its whole width is two: below and above it, or left and
  /// right.
  std::vector<WallWindow> between_passes(const WallWindow& board, const WallWindow& covered) const {
    std::vector<WallWindow> parts{board};
    const int across = upright_ ? 0 : 1;
    for (const WallPass& pass : w_.passes) {
      const WallWindow hole = opening(pass);
      const auto at = [](Vec2 p, int axis) { return axis == 0 ? p.x : p.y; };
      if (at(hole.lo, across) > at(covered.lo, across) + kSame ||
          at(hole.hi, across) < at(covered.hi, across) - kSame)
        continue;
      // Where a corner of the opening is rounded, its edge is cut below.
      const double radius = opening_radius(pass);
      const bool round = at(board.lo, across) < at(hole.lo, across) + radius ||
                         at(board.hi, across) > at(hole.hi, across) - radius;
      const double sag = round ? radius : 0.0;
      std::vector<WallWindow> next;
      for (const WallWindow& part : parts) {
        WallWindow before = part;
        WallWindow behind = part;
        double& end = upright_ ? before.hi.y : before.hi.x;
        double& start = upright_ ? behind.lo.y : behind.lo.x;
        end = std::min(end, at(hole.lo, 1 - across) + sag);
        start = std::max(start, at(hole.hi, 1 - across) - sag);
        for (const WallWindow& rest : {before, behind}) {
          if (rest.hi.x - rest.lo.x > kGrid && rest.hi.y - rest.lo.y > kGrid) next.push_back(rest);
        }
      }
      parts = std::move(next);
    }
    return parts;
  }

  WallWindow opening(const WallPass& pass) const {
    const double reveal = fields_.number("reveal");
    return {{pass.box.lo.x - reveal, pass.box.lo.z - reveal},
            {pass.box.hi.x + reveal, pass.box.hi.z + reveal}};
  }
  double opening_radius(const WallPass& pass) const {
    return pass.radius > 0.0 ? std::max(pass.radius + fields_.number("reveal"), 0.0) : 0.0;
  }

  void add_board(std::size_t i) {
    const bool last = i + 1 == row_.widths.size();
    const double from = near_ + row_.from[i];
    const double to = from + row_.widths[i];
    const bool ripped = i == 0 && row_.widths[i] < plank_.cover - kSame;
    const double tongue = last ? 0.0 : plank_.tongue_length();
    // A board is ripped from its groove, the last one from its tongue.
    const double groove_edge = ripped ? to - plank_.cover : from;
    std::vector<Loop> loops;
    for (const WallWindow& part : between_passes(strip(from, to + tongue), strip(from, to))) {
      for (Loop& loop : inside_wall(rows_, part)) loops.push_back(std::move(loop));
    }
    warn_of_slivers(i, strip(from, to));
    for (std::size_t k = 0; k < loops.size(); ++k) {
      std::string name = "plank_" + std::to_string(i + 1);
      if (loops.size() > 1) name += ".part_" + std::to_string(k + 1);
      add_piece({.name = std::move(name),
                 .title = "Plank",
                 .plank = &plank_,
                 .frame = board_frame(groove_edge),
                 .outline = {loops[k], {}},
                 .tongue = !last,
                 .groove = !ripped,
                 .order = static_cast<int>(i) + 1},
                (from + to) / 2);
    }
  }

  Frame board_frame(double groove_edge) const {
    const Vec3 y = across();
    const Vec3 z{0, -1, 0};
    const Vec3 origin = y * groove_edge + Vec3{0, plank_.thickness, 0};
    return {origin, cross(y, z), y, z};
  }

  /// An outline given in x and z of the module becomes one along the board, begun at its end.
  void add_piece(CutPlank board, double middle) {
    const auto on_board = [&](Vec2 p) {
      const Vec3 local = board.frame.local_point({p.x, 0, p.y});
      return Vec2{local.x, local.y};
    };
    Box box;
    for (const Corner& corner : board.outline.outer) {
      const Vec2 p = on_board(corner.at);
      box.add(Vec3{p.x, p.y, 0});
    }
    board.frame.origin = board.frame.point({box.lo.x, 0, 0});
    for (Corner& corner : board.outline.outer) corner.at = on_board(corner.at);
    for (const WallPass& pass : w_.passes) {
      const WallWindow hole = opening(pass);
      const bool to_floor = pass.box.lo.z < kSame;
      const Vec2 a = on_board({hole.lo.x, to_floor ? -opening_radius(pass) - 1 : hole.lo.y});
      const Vec2 b = on_board(hole.hi);
      const Vec2 lo{std::min(a.x, b.x), std::min(a.y, b.y)};
      const Vec2 hi{std::max(a.x, b.x), std::max(a.y, b.y)};
      if (lo.x >= box.size().x - kSame || hi.x <= kSame || lo.y >= box.hi.y - kSame ||
          hi.y <= box.lo.y + kSame)
        continue;
      board.cuts.push_back(
          {rectangle(lo, hi, opening_radius(pass)), 0, plank_.thickness, CutRole::cut_out});
    }
    hold(board, box, middle);
    shop_.add(board);
  }

  /// One row of screws from behind, in the middle of the board: it moves to both sides of it.
  void hold(CutPlank& board, const Box& box, double middle) {
    const std::string id = shop_.id(board.name);
    std::vector<std::string> parts{id};
    std::vector<std::string> hardware;
    if (fields_.has("screw")) {
      const Bolt& screw = entry(r_.catalogue.bolts, fields_.text("screw"));
      if (!screw_stays_in(screw)) return;
      const double reach = box.size().x - 2 * kScrewMargin;
      const int count = std::max(1, static_cast<int>(std::ceil(reach / kScrewPitch)) + 1);
      for (int i = 0; i < count; ++i) {
        const double along = count == 1 ? box.size().x / 2 : kScrewMargin + reach * i / (count - 1);
        const Vec3 front = board.frame.point({along, middle - across_of(board.frame.origin), 0});
        const Vec3 at{front.x, r_.size.y, front.z};
        if (!holds_a_screw(board, at)) continue;
        const double t = w_.sheet_thickness;
        w_.drill(at.x, clearance_hole(screw, at, {0, -1, 0}, t));
        std::vector<std::string> hosts = w_.behind(at.x);
        hosts.push_back(id);
        board.holes.push_back(pilot_hole(screw, at, {0, -1, 0}, t));
        hardware.push_back(shop_.add(
            Fastener{.name = board.name + ".screw_" + std::to_string(hardware.size() + 1),
                     .bolt = &screw,
                     .at = at,
                     .direction = {0, -1, 0},
                     .hosts = std::move(hosts)}));
      }
    }
    for (const double end : {0.0, box.size().x}) {
      for (std::string& host : w_.behind(board.frame.point({end, box.centre().y, 0}).x)) {
        if (std::ranges::find(parts, host) == parts.end()) parts.push_back(std::move(host));
      }
    }
    const bool glued = fields_.flag("glued");
    shop_.join("joint." + board.name, glued ? "glued" : "screwed from behind", std::move(parts),
               std::move(hardware));
    shop_.made().joints.back().glued = glued;
  }

  double across_of(Vec3 p) const { return dot(p, across()); }

  bool screw_stays_in(const Bolt& screw) {
    const double longest = w_.sheet_thickness + plank_.thickness - kSkin;
    const double shortest = w_.sheet_thickness + kLeastBite;
    if (screw.length >= shortest - kSame && screw.length <= longest + kSame) return true;
    if (!told_screw_ && screw.length < shortest) {
      shop_.find(fault("partition.screw_short", "screw")
                     .with("stock", screw.key)
                     .with("measured", screw.length, Unit::mm)
                     .with("required", shortest, Unit::mm));
    } else if (!told_screw_) {
      shop_.find(fault("partition.screw_comes_out", "screw")
                     .with("stock", screw.key)
                     .with("measured", screw.length, Unit::mm)
                     .with("required", longest, Unit::mm));
    }
    told_screw_ = true;
    return false;
  }

  /// True where the wood around a point of the board is whole.
  bool holds_a_screw(const CutPlank& board, Vec3 at) const {
    const Vec3 local = board.frame.local_point(at);
    const double keep = kScrewMargin / 2;
    const Loop around = rectangle({local.x - keep, local.y - keep}, {local.x + keep, local.y + keep});
    // What a square of wood around the screw loses to the outline and the openings.
    Prism square{.section = board.outline,
                 .height = plank_.thickness,
                 .cuts = board.cuts,
                 .bores = {},
                 .coarse = {}};
    const double before = volume(Shape{{{square, {}}}});
    square.cuts.push_back({around, 0, plank_.thickness, CutRole::cut_out});
    const double lost = before - volume(Shape{{{square, {}}}});
    return lost > 4 * keep * keep * plank_.thickness - 1.0;
  }

  void warn_of_slivers(std::size_t i, const WallWindow& board) {
    const double least = plank_.cover * kLeastShare / 2;
    for (const WallPass& pass : w_.passes) {
      const WallWindow hole = opening(pass);
      const double below = upright_ ? hole.lo.x - board.lo.x : hole.lo.y - board.lo.y;
      const double above = upright_ ? board.hi.x - hole.hi.x : board.hi.y - hole.hi.y;
      for (const double rest : {below, above}) {
        if (rest <= kSame || rest >= least) continue;
        Finding finding;
        finding.code = "partition.sliver";
        finding.severity = Severity::warning;
        finding.subjects = {shop_.id("plank_" + std::to_string(i + 1)),
                            shop_.id("pass." + pass.name)};
        finding.place = fields_.place();
        finding.source = "common practice, no source";
        shop_.find(std::move(finding.with("measured", rest, Unit::mm)
                                 .with("required", least, Unit::mm)));
      }
    }
  }

  const PlankedWall& w_;
  const ModuleRequest& r_;
  Workshop& shop_;
  const Record& fields_;
  const Plank& plank_;
  bool upright_;
  bool backwards_ = false;  ///< counted from the right or from the top
  bool told_screw_ = false;
  double gap_ = 0.0;
  double near_ = 0.0;  ///< the datum edge and the far one, along across()
  double far_ = 0.0;
  std::vector<WallRow> rows_;
  WallWindow room_;
  PlankRow row_;
};

}  // namespace

Field planks_field() {
  return table_field(
             "planks",
             {reference_field("plank", "plank").needed().means("what lines the wall"),
              choice_field("run", {"vertical", "horizontal"})
                  .otherwise("vertical")
                  .means("the way the boards run"),
              choice_field("datum", {"left", "right", "bottom", "top"})
                  .means("the edge that the boards are counted and laid from, groove first; by "
                         "default left, or bottom for horizontal boards"),
              length_field("first").above(0).means(
                  "what the first board covers; by default a whole board, or half of what the "
                  "first and the last have when the last would be narrower than a third"),
              length_field("trim").otherwise("0 mm").at_least(0).means(
                  "what the boards keep from the sheet's outline, for a trim to cover"),
              length_field("reveal")
                  .otherwise("0 mm")
                  .at_least(-100)
                  .at_most(100)
                  .means("how far the boards stay back from the edges of passes, so that a trim "
                         "fits on the sheet; negative: they overhang"),
              FieldMaker{"moisture", FieldKind::quantities, dimension::none}
                  .items(2, 2)
                  .otherwise("[8, 14]")
                  .means("driest and wettest that the boards will be, in percent of their dry "
                         "mass, within 6 to 14"),
              quantity_field("today", dimension::none)
                  .means("moisture when they are laid, in percent; by default the middle"),
              reference_field("screw", kWoodScrew)
                  .means("screw through the sheet into the middle of each board"),
              flag_field("glued").otherwise("false").means("true: the boards are glued on")})
      .means("tongue-and-groove boards before the sheet; they add to the partition's depth");
}

void add_planks(const PlankedWall& wall) {
  Planks(wall).make();
}

}  // namespace ribbay::detail
