#include "base/tolerance.hpp"
#include "partition_wall.hpp"
#include "plank_row.hpp"
#include "shape/plate_edges.hpp"
#include "spec/fields.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <tuple>

namespace ribbay::detail {

namespace {

/// What the arc of an opening's corner may take of a board's end, mm, unseen.
constexpr double kLeastSag = 0.5;
/// Screws of a board keep this from its sides, groove and openings, mm. Common practice, no source.
constexpr double kScrewToSide = 8.0;
/// Places for screws are looked for in steps of this, mm.
constexpr double kSearchStep = 5.0;

class Planks {
 public:
  explicit Planks(const PlankedWall& wall)
      : w_{wall},
        r_{wall.request},
        shop_{wall.shop},
        fields_{wall.request.fields.table("planks")},
        order_{r_, shop_, fields_, r_.name},
        plank_{order_.plank()},
        upright_{fields_.text("run") == "vertical"} {}

  void make() {
    const auto gap = order_.gap();
    if (!gap || !read_datum()) return;
    trim_rows();
    const auto row = order_.row(far_ - near_, *gap);
    if (!row) return;
    row_ = *row;
    for (std::size_t i = 0; i < row_.widths.size(); ++i) add_board(i);
  }

 private:
  bool read_datum() {
    const std::string datum = fields_.text_or("datum", upright_ ? "left" : "bottom");
    const bool sideways = datum == "left" || datum == "right";
    if (sideways != upright_) {
      shop_.find(order_.fault("partition.datum", "datum").with("found", datum));
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
      // Where a corner of the opening is rounded, the board reaches into it as far as the arc lets
      // it.
      const double sag = std::max(arc_sag(pass, at(covered.lo, across) - at(hole.lo, across)),
                                  arc_sag(pass, at(hole.hi, across) - at(covered.hi, across)));
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

  /// How far a rounded corner of an opening stands into it, at a distance from its side; what a saw
  /// does not show is none.
  double arc_sag(const WallPass& pass, double from_side) const {
    const double radius = opening_radius(pass);
    const double off = std::max(radius - from_side, 0.0);
    const double sag = radius - std::sqrt(std::max(radius * radius - off * off, 0.0));
    return sag < kLeastSag ? 0.0 : sag;
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
    const double from = near_ + row_.from[i];
    const double to = from + row_.widths[i];
    const RowBoard row = row_board(order_, row_, i, across() * near_ + Vec3{0, plank_.thickness, 0},
                                   across(), {0, -1, 0});
    const double wood_end = from + row.to - row.from;
    std::vector<Loop> loops;
    for (const WallWindow& part : between_passes(strip(from, wood_end), strip(from, to))) {
      for (Loop& loop : inside_wall(rows_, part)) loops.push_back(std::move(loop));
    }
    warn_of_slivers(i, strip(from, to));
    for (std::size_t k = 0; k < loops.size(); ++k) {
      CutPlank board = row.board;
      board.name = "plank_" + std::to_string(i + 1);
      if (loops.size() > 1) board.name += ".part_" + std::to_string(k + 1);
      board.outline = {loops[k], {}};
      add_piece(std::move(board), (from + to) / 2);
    }
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
      for (const Vec2 place : screw_places(board, box, middle - across_of(board.frame.origin))) {
        const Vec3 front = board.frame.point({place.x, place.y, 0});
        const Vec3 at{front.x, r_.size.y, front.z};
        const double t = w_.sheet_thickness;
        w_.drill(at.x, clearance_hole(screw, at, {0, -1, 0}, t));
        std::vector<std::string> hosts = w_.behind(at.x);
        hosts.push_back(id);
        board.holes.push_back(pilot_hole(screw, at, {0, -1, 0}, t));
        hardware.push_back(
            shop_.add(Fastener{.name = board.name + ".screw_" + std::to_string(hardware.size() + 1),
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

  /// Told once, at the first board.
  bool screw_stays_in(const Bolt& screw) {
    if (!screw_fits_) screw_fits_ = order_.screw_fits(screw, w_.sheet_thickness);
    return *screw_fits_;
  }

  /// Where a board takes screws, in its own axes: from end to end of each stretch of whole wood.
  std::vector<Vec2> screw_places(const CutPlank& board, const Box& box, double middle) const {
    const double long_ = box.size().x;
    const double margin = std::min(kPlankScrewMargin, long_ / 2);
    const double groove = board.groove ? plank_.tongue_length() + plank_.play : 0.0;
    const double tongue = board.tongue ? plank_.cover : plank_.width;
    const Prism wood{.section = board.outline,
                     .height = plank_.thickness,
                     .cuts = board.cuts,
                     .bores = {},
                     .coarse = {}};
    const auto holds = [&](Vec2 at) {
      return at.y - groove > kScrewToSide - kSame && tongue - at.y > kScrewToSide - kSame &&
             is_within(wood, at) && to_edge(wood, at) > kScrewToSide - kSame &&
             is_within(wood, {at.x - margin + kGrid, at.y}) &&
             is_within(wood, {at.x + margin - kGrid, at.y});
    };
    // As near to the middle as whole wood allows.
    const auto across_at = [&](double along) -> std::optional<double> {
      for (double off = 0.0; off < plank_.width; off += kSearchStep) {
        for (const double y : {middle + off, middle - off}) {
          if (holds({along, y})) return y;
        }
      }
      return std::nullopt;
    };
    std::vector<Vec2> places;
    std::optional<double> from;
    const auto end_stretch = [&](double to) {
      if (!from) return;
      const int gaps = static_cast<int>(std::ceil((to - *from) / kPlankScrewPitch - kSame));
      for (int i = 0; i <= gaps; ++i) {
        const double along = *from + (gaps == 0 ? 0.0 : (to - *from) * i / gaps);
        if (const auto y = across_at(along)) places.push_back({along, *y});
      }
      from.reset();
    };
    const double last = long_ - margin;
    const int steps = static_cast<int>(std::ceil((last - margin) / kSearchStep - kSame));
    double before = margin;
    for (int i = 0; i <= steps; ++i) {
      const double along = steps == 0 ? margin : margin + (last - margin) * i / steps;
      const bool whole = across_at(along).has_value();
      if (whole && !from) from = along;
      if (!whole) end_stretch(before);
      before = along;
    }
    end_stretch(last);
    return places;
  }

  void warn_of_slivers(std::size_t i, const WallWindow& board) {
    const double least = plank_.cover * kLeastPlankShare / 2;
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
        shop_.find(
            std::move(finding.with("measured", rest, Unit::mm).with("required", least, Unit::mm)));
      }
    }
  }

  const PlankedWall& w_;
  const ModuleRequest& r_;
  Workshop& shop_;
  const Record& fields_;
  PlankOrder order_;
  const Plank& plank_;
  bool upright_;
  bool backwards_ = false;  ///< counted from the right or from the top
  std::optional<bool> screw_fits_;
  double near_ = 0.0;  ///< the datum edge and the far one, along across()
  double far_ = 0.0;
  std::vector<WallRow> rows_;
  WallWindow room_;
  PlankRow row_;
};

}  // namespace

Field planks_field() {
  std::vector<Field> fields =
      plank_fields("what lines the wall", "screw through the sheet into the middle of each board");
  const std::vector<Field> own{
      choice_field("run", {"vertical", "horizontal"})
          .otherwise("vertical")
          .means("the way the boards run"),
      choice_field("datum", {"left", "right", "bottom", "top"})
          .means("the edge that the boards are counted and laid from, groove first; by default "
                 "left, or bottom for horizontal boards"),
      length_field("trim").otherwise("0 mm").at_least(0).means(
          "what the boards keep from the sheet's outline, for a trim to cover"),
      length_field("reveal").otherwise("0 mm").at_least(-100).at_most(100).means(
          "how far the boards stay back from the edges of passes, so that a trim fits on the "
          "sheet; negative: they overhang")};
  fields.insert(fields.begin() + 1, own.begin(), own.end());
  return table_field("planks", std::move(fields))
      .means("tongue-and-groove boards before the sheet; they add to the partition's depth");
}

void add_planks(const PlankedWall& wall) {
  Planks(wall).make();
}

}  // namespace ribbay::detail
