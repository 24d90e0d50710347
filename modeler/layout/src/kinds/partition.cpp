#include "base/tolerance.hpp"
#include "kind.hpp"
#include "partition_wall.hpp"
#include "spec/fields.hpp"
#include "walls.hpp"
#include "workshop.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

/// Screws along a seam or a cleat stand at most this far apart. Common practice, no source.
constexpr double kScrewPitch = 250.0;
/// A cleat's screws keep this from the shoulders of a lap, where half the wood is gone. Common
/// practice, no source.
constexpr double kOffShoulder = 15.0;
/// Wood that must remain between a pass-through opening and the partition's edge.
constexpr double kLeastMargin = 15.0;

/// A wall of sheet across the van whose edges follow the walls, in one or more pieces that are
/// joined by half-laps, with pass-through openings and floor cleats.
class Partition {
 public:
  explicit Partition(const ModuleRequest& request)
      : r_{request},
        shop_{request},
        sheet_{entry(request.catalogue.sheets, request.fields.text("sheet"))},
        edge_{request.fields.number("edge_gap")},
        lap_{request.fields.number("lap")},
        front_{plank_thickness(request)} {}

  ModuleParts make() {
    if (!read_outline() || !read_seams()) return shop_.finish();
    read_passes();
    for (std::size_t i = 0; i + 1 < seams_.size(); ++i) start_piece(i, seams_.size() - 1);
    for (std::size_t i = 1; i + 1 < seams_.size(); ++i) screw_seam(i);
    for (const auto& [name, cleat] : r_.fields.tables("cleats")) add_cleat(name, cleat);
    if (r_.fields.has("planks")) line_with_planks();
    for (const ShapedBoard& piece : pieces_) shop_.add(piece);
    return shop_.finish();
  }

 private:
  static double plank_thickness(const ModuleRequest& request) {
    if (!request.fields.has("planks")) return 0.0;
    const std::string& plank = request.fields.table("planks").text("plank");
    return entry(request.catalogue.planks, plank).thickness;
  }

  bool read_outline() {
    const Box van = shop_.to_van(Box{{0, 0, 0}, r_.size});
    for (const WallHeight& height :
         wall_outline(r_.vehicle, van.lo.x, van.hi.x, van.lo.z, van.hi.z, edge_)) {
      const double a = r_.from_van({0, height.clear.left, height.z}).x;
      const double b = r_.from_van({0, height.clear.right, height.z}).x;
      rows_.push_back({height.z - van.lo.z, std::max(std::min(a, b) + edge_, 0.0),
                       std::min(std::max(a, b) - edge_, r_.size.x)});
    }
    const std::string& faces = r_.fields.text("faces");
    if (!rows_.empty() && (faces == "front" || faces == "rear")) return true;
    Finding finding = input_error("partition.not_across", r_.fields.place("faces"));
    finding.subjects = {r_.name};
    shop_.find(std::move(finding.with("found", faces)));
    return false;
  }

  bool read_seams() {
    const auto widths = share_out(r_.fields.sizes("pieces"), r_.size.x);
    double x = 0.0;
    seams_.push_back(x);
    if (widths) {
      for (const double width : *widths) seams_.push_back(x += width);
    }
    if (widths && std::abs(x - r_.size.x) < kSame) return true;
    Finding finding = input_error("partition.pieces", r_.fields.place("pieces"));
    finding.subjects = {r_.name};
    finding.with("measured", x, Unit::mm).with("required", r_.size.x, Unit::mm);
    shop_.find(std::move(finding));
    return false;
  }

  /// Openings in module axes; one outside the outline is reported and left out.
  void read_passes() {
    for (const auto& [name, pass] : r_.fields.tables("passes")) {
      const Vec3 a = r_.from_van({0, pass.number("left"), pass.number("bottom")});
      const Vec3 b = r_.from_van({0, pass.number("right"), pass.number("top")});
      Box box;
      box.add(Vec3{a.x, 0, a.z});
      box.add(Vec3{b.x, r_.size.y, b.z});
      const bool upright = pass.number("left") > pass.number("right") + kSame &&
                           pass.number("top") > pass.number("bottom") + kSame;
      const double margin = margin_of(box);
      if (!upright || margin < kLeastMargin) {
        Finding finding = input_error(
            upright ? "partition.pass_outside" : "partition.pass_reversed", pass.place());
        finding.subjects = {shop_.id("pass." + name)};
        if (upright) {
          finding.with("measured", margin, Unit::mm).with("required", kLeastMargin, Unit::mm);
        }
        shop_.find(std::move(finding));
        continue;
      }
      const double largest = std::min(box.hi.x - box.lo.x, box.hi.z - box.lo.z) / 2;
      if (pass.number("radius") > largest + kSame) {
        Finding finding = input_error("partition.pass_radius", pass.place("radius"));
        finding.subjects = {shop_.id("pass." + name)};
        finding.with("measured", pass.number("radius"), Unit::mm)
            .with("required", largest, Unit::mm);
        shop_.find(std::move(finding));
        continue;
      }
      passes_.push_back({name, box, pass.number("radius")});
      shop_.made().ports["pass_" + name] = shop_.to_van(box);
    }
  }

  /// Smallest distance from an opening to the partition's edge; negative when it reaches out. An
  /// opening may start at the floor.
  double margin_of(const Box& box) const {
    double margin = r_.size.z - box.hi.z;
    if (box.lo.z > kSame) margin = std::min(margin, box.lo.z);
    for (const WallRow& row : rows_) {
      if (row.z < box.lo.z - kSame || row.z > box.hi.z + kSame) continue;
      margin = std::min({margin, box.lo.x - row.left, row.right - box.hi.x});
    }
    return margin;
  }

  std::string piece_name(std::size_t i) const { return "piece_" + std::to_string(i + 1); }

  // The board's outline lies in (z, -x) so that the grain runs upwards and the face looks to the
  // front.
  Frame board_frame() const {
    return {{r_.size.x, r_.size.y, 0}, {0, 0, 1}, {-1, 0, 0}, {0, -1, 0}};
  }
  Vec2 on_board(double x, double z) const { return {z, r_.size.x - x}; }

  void start_piece(std::size_t i, std::size_t count) {
    // Neighbours lap over each other by half the lap on both sides of the seam.
    const double from = i == 0 ? -1.0 : seams_[i] - lap_ / 2;
    const double to = i + 1 == count ? r_.size.x + 1.0 : seams_[i + 1] + lap_ / 2;
    ShapedBoard board{.name = piece_name(i),
                      .title = "Partition piece",
                      .sheet = &sheet_,
                      .frame = board_frame(),
                      .outline = {outline(from, to), {}},
                      .cuts = {},
                      .holes = {}};
    const double t = sheet_.thickness;
    const double high = r_.size.z + 1;
    // The piece to the left keeps its front half at a seam, the one to the right its rear half.
    if (i + 1 < count)
      add_rebate(board, seams_[i + 1] - lap_ / 2, to + 1, high, 0, t - front_half());
    if (i > 0) add_rebate(board, from - 1, seams_[i] + lap_ / 2, high, t - front_half(), t);
    for (const WallPass& pass : passes_) {
      if (pass.box.hi.x <= from || pass.box.lo.x >= to) continue;
      const Vec2 lo =
          on_board(pass.box.hi.x, pass.box.lo.z > kSame ? pass.box.lo.z : -pass.radius - 1);
      const Vec2 hi = on_board(pass.box.lo.x, pass.box.hi.z);
      board.cuts.push_back({rectangle(lo, hi, pass.radius), 0, t, CutRole::cut_out});
    }
    pieces_.push_back(std::move(board));
  }

  /// What the piece in front keeps of the thickness at a seam; its rebate is a whole tenth of a mm
  /// deep, so that both come out as they are printed and the faces lie flush.
  double front_half() const {
    return sheet_.thickness - std::floor(sheet_.thickness / 2 * 10 + kSame) / 10;
  }

  void add_rebate(ShapedBoard& board, double x0, double x1, double high, double z0,
                  double z1) const {
    board.cuts.push_back(
        {rectangle(on_board(x1, -1), on_board(x0, high)), z0, z1, CutRole::rebate});
  }

  /// The outline between two cuts across the van, counter-clockwise on the board.
  Loop outline(double from, double to) const {
    std::vector<Vec2> left;
    std::vector<Vec2> right;
    for (const WallRow& row : rows_) {
      left.push_back(on_board(std::max(row.left, from), row.z));
      right.push_back(on_board(std::min(row.right, to), row.z));
    }
    Loop loop;
    for (const Vec2 p : right) add_wall_corner(loop, p);
    for (auto p = left.rbegin(); p != left.rend(); ++p) add_wall_corner(loop, *p);
    close_wall_loop(loop);
    return loop;
  }

  void screw_seam(std::size_t seam) {
    const std::string a = shop_.id(piece_name(seam - 1));
    const std::string b = shop_.id(piece_name(seam));
    std::vector<std::string> hardware;
    if (r_.fields.has("seam_screw")) {
      const Bolt& screw = entry(r_.catalogue.bolts, r_.fields.text("seam_screw"));
      const int count =
          std::max(2, static_cast<int>(std::ceil((r_.size.z - 100) / kScrewPitch)) + 1);
      int number = 0;
      for (int i = 0; i < count; ++i) {
        const Vec3 at{seams_[seam], front_, 50 + (r_.size.z - 100) * i / (count - 1)};
        const bool in_pass = std::ranges::any_of(passes_, [&](const WallPass& p) {
          return at.x > p.box.lo.x - 20 && at.x < p.box.hi.x + 20 && at.z > p.box.lo.z - 20 &&
                 at.z < p.box.hi.z + 20;
        });
        if (in_pass) continue;
        pieces_[seam - 1].holes.push_back(clearance_hole(screw, at, {0, 1, 0}, front_half()));
        pieces_[seam].holes.push_back(pilot_hole(screw, at, {0, 1, 0}, front_half()));
        hardware.push_back(shop_.add(
            Fastener{.name = "seam_" + std::to_string(seam) + ".screw_" + std::to_string(++number),
                     .bolt = &screw,
                     .at = at,
                     .direction = {0, 1, 0},
                     .hosts = {a, b}}));
      }
    }
    shop_.join("joint.seam_" + std::to_string(seam), "half-lap, glued and screwed", {a, b},
               std::move(hardware));
    shop_.made().joints.back().glued = true;
  }

  void line_with_planks() {
    const auto stands_behind = [this](double x, std::size_t i) {
      return x > seams_[i] - lap_ / 2 && x < seams_[i + 1] + lap_ / 2;
    };
    add_planks({.request = r_,
                .shop = shop_,
                .rows = rows_,
                .passes = passes_,
                .sheet_thickness = sheet_.thickness,
                .behind =
                    [&](double x) {
                      std::vector<std::string> ids;
                      for (std::size_t i = 0; i < pieces_.size(); ++i) {
                        if (stands_behind(x, i)) ids.push_back(shop_.id(pieces_[i].name));
                      }
                      return ids;
                    },
                .drill =
                    [&](double x, const Hole& hole) {
                      for (std::size_t i = 0; i < pieces_.size(); ++i) {
                        if (stands_behind(x, i)) pieces_[i].holes.push_back(hole);
                      }
                    }});
  }

  ShapedBoard& piece_at(double x) {
    std::size_t i = 0;
    while (i + 2 < seams_.size() && seams_[i + 1] < x) ++i;
    return pieces_[i];
  }

  /// The place nearest to `x` that is off every lap, within `from` and `to` where they leave one.
  double off_laps(double x, double from, double to) const {
    const double keep = lap_ / 2 + kOffShoulder;
    for (std::size_t i = 1; i + 1 < seams_.size(); ++i) {
      if (std::abs(x - seams_[i]) >= keep) continue;
      const bool left = x < seams_[i] ? seams_[i] - keep >= from : seams_[i] + keep > to;
      return seams_[i] + (left ? -keep : keep);
    }
    return x;
  }

  /// A strip of sheet on the floor against the partition.
  void add_cleat(const std::string& name, const Record& cleat) {
    if (r_.fields.has("planks") && cleat.text("side") == "front") {
      Finding finding = input_error("partition.cleat_on_planks", cleat.place("side"));
      finding.subjects = {shop_.id("cleat." + name)};
      return shop_.find(std::move(finding));
    }
    const Sheet& sheet = entry(r_.catalogue.sheets, cleat.text("sheet"));
    const double a = r_.from_van({0, cleat.number("left"), 0}).x;
    const double b = r_.from_van({0, cleat.number("right"), 0}).x;
    const double x0 = std::min(a, b);
    const double x1 = std::max(a, b);
    const double high = cleat.number("height");
    const double t = sheet.thickness;
    const bool at_front = cleat.text("side") == "front";
    const Vec3 inward{0, at_front ? 1.0 : -1.0, 0};
    Board board{.name = "cleat." + name,
                .title = "Cleat",
                .sheet = &sheet,
                .box = at_front ? Box{{x0, -t, 0}, {x1, 0, high}}
                                : Box{{x0, r_.size.y, 0}, {x1, r_.size.y + t, high}},
                .normal = -inward,
                .along = {1, 0, 0},
                .cuts = {},
                .holes = {}};
    std::vector<std::string> parts{shop_.id(board.name)};
    for (std::size_t i = 0; i + 1 < seams_.size(); ++i) {
      if (seams_[i + 1] > x0 && seams_[i] < x1) parts.push_back(shop_.id(piece_name(i)));
    }
    std::vector<std::string> hardware;
    const Bolt& screw = entry(r_.catalogue.bolts, cleat.text("screw"));
    const int count = std::max(2, static_cast<int>(std::ceil((x1 - x0 - 60) / kScrewPitch)) + 1);
    for (int i = 0; i < count; ++i) {
      const double x = off_laps(x0 + 30 + (x1 - x0 - 60) * i / (count - 1), x0 + 30, x1 - 30);
      const Vec3 at{x, at_front ? -t : r_.size.y + t, high / 2};
      board.holes.push_back(clearance_hole(screw, at, inward, t));
      piece_at(at.x).holes.push_back(pilot_hole(screw, at, inward, t));
      hardware.push_back(
          shop_.add(Fastener{.name = "cleat." + name + ".screw_" + std::to_string(i + 1),
                             .bolt = &screw,
                             .at = at,
                             .direction = inward,
                             .hosts = parts}));
    }
    shop_.add(board);
    shop_.join("joint.cleat." + name, "glued and screwed", std::move(parts), std::move(hardware));
    shop_.made().joints.back().glued = true;
  }

  const ModuleRequest& r_;
  Workshop shop_;
  const Sheet& sheet_;
  double edge_;
  double lap_;
  double front_;  ///< y of the sheet's face: planks stand before it
  std::vector<WallRow> rows_;
  std::vector<double> seams_;  ///< x of the seams, ends included
  std::vector<WallPass> passes_;
  std::vector<ShapedBoard> pieces_;  ///< until all their holes are known
};

std::optional<double> partition_size(const EarlyFields& early, int axis) {
  if (axis != 1) return std::nullopt;
  const auto key = early.evaluator.text(early.path, "sheet");
  if (!key) return std::nullopt;
  const auto sheet = early.catalogue.sheets.find(*key);
  if (sheet == early.catalogue.sheets.end()) return std::nullopt;
  double planks = 0.0;
  if (early.evaluator.has(early.path, "planks")) {
    const auto lining = early.evaluator.table(early.path, "planks");
    if (!lining) return std::nullopt;
    planks = early.catalogue.planks.find(lining->text("plank"))->second.thickness;
  }
  return sheet->second.thickness + planks;
}

}  // namespace

Kind partition_kind() {
  return {
      .name = "partition",
      .schema = module_schema(
          "partition",
          "a wall of sheet across the van that follows its walls, with pass-through openings",
          {reference_field("sheet", kBoard)
               .needed()
               .means("what it is cut from; its actual thickness is the partition's depth"),
           length_field("edge_gap")
               .otherwise("3 mm")
               .at_least(0)
               .means("left free along the walls, for scribing"),
           sizes_field("pieces")
               .items(1, 10)
               .otherwise("[\"1 share\"]")
               .means("widths of the pieces it is made of, from the left; together they give "
                      "its width"),
           length_field("lap").otherwise("30 mm").at_least(10).at_most(100).means(
               "width of the half-lap that joins two pieces"),
           reference_field("seam_screw", kWoodScrew).means("screw through the half-laps"),
           keyed_field(
               "passes",
               {length_field("left").needed().means("y of its left edge, in the van"),
                length_field("right").needed().means("y of its right edge, in the van"),
                length_field("bottom").needed().means("z of its lower edge, in the van"),
                length_field("top").needed().means("z of its upper edge, in the van"),
                length_field("radius").otherwise("10 mm").at_least(0).means("of its corners")})
               .means("openings that something passes through"),
           keyed_field(
               "cleats",
               {length_field("left").needed().means("y of its left end, in the van"),
                length_field("right").needed().means("y of its right end, in the van"),
                choice_field("side", {"front", "back"})
                    .otherwise("front")
                    .means("side of the partition"),
                length_field("height").otherwise("40 mm").above(10).means("of the strip"),
                reference_field("sheet", kBoard).needed().means("what it is cut from"),
                reference_field("screw", kWoodScrew).needed().means("screw into the partition")})
               .means("strips along the floor that hold it"),
           planks_field()}),
      .generate = [](const ModuleRequest& request) { return Partition(request).make(); },
      .default_size = partition_size,
      .follows_walls = true};
}

}  // namespace ribbay::detail
