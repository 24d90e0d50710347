#include "base/text.hpp"
#include "base/tolerance.hpp"
#include "custom.hpp"
#include "plank_row.hpp"
#include "spec/fields.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace ribbay::detail {

namespace {

/// A field of boards: a rectangle parallel to the module's axes.
struct PlankWall {
  Vec3 lo;  ///< corner of its room, boards' thickness included
  Vec3 hi;
  Vec3 face;    ///< unit: the way the boards look
  Vec3 across;  ///< unit, to the right, back or up: over the boards
  Vec3 along;   ///< unit: the way that x of a board runs
  double span = 0.0;
  double length = 0.0;

  /// Where the first board's edge begins, on the boards' back and at their start.
  Vec3 start() const {
    Vec3 corner;
    for (int axis = 0; axis < 3; ++axis) {
      const bool high = along[axis] < -0.5 || face[axis] < -0.5;
      corner[axis] = high ? hi[axis] : lo[axis];
    }
    return corner;
  }
};

std::optional<PlankWall> wall_of(CustomWork& work, const std::string& name, const Record& fields,
                                 const Plank& plank) {
  PlankWall wall;
  wall.face = way(fields.text("faces"));
  const Vec3 run = way(fields.text("run"));
  if (std::abs(dot(wall.face, run)) > 0.5) {
    work.shop.find(work.fault("custom.grain_across", fields.place("run"), name)
                       .with("found", fields.text("run"))
                       .with("faces", fields.text("faces")));
    return std::nullopt;
  }
  wall.across = forward(cross(wall.face, run));
  wall.along = cross(wall.across, wall.face);
  const Vec2 told = fields.vec2("size");
  wall.lo = fields.vec3("at");
  Vec3 size;
  double rest[] = {told.x, told.y};
  int next = 0;
  for (int axis = 0; axis < 3; ++axis)
    size[axis] = std::abs(wall.face[axis]) > 0.5 ? plank.thickness : rest[next++];
  wall.hi = wall.lo + size;
  wall.span = std::abs(dot(size, wall.across));
  wall.length = std::abs(dot(size, wall.along));
  return wall;
}

/// Holds a board by screws through a piece behind it; adds their ids and tells whether the piece
/// lies behind the board at all.
bool screw_through(const PlankOrder& order, CutPlank& board, double middle, double length,
                   Workpiece& piece, std::vector<std::string>& hardware) {
  const Vec3 face = board.frame.z;
  const Box reach = in_axes(board.frame, piece);
  const double lo = std::max(reach.lo.x, 0.0);
  const double hi = std::min(reach.hi.x, length);
  if (hi - lo < kCut) return false;
  const double margin = std::min(kPlankScrewMargin, (hi - lo) / 2);
  const double row = hi - lo - 2 * margin;
  const int count = row < kCut ? 1 : static_cast<int>(std::ceil(row / kPlankScrewPitch)) + 1;
  bool behind = false;
  for (int i = 0; i < count; ++i) {
    const double along = count == 1 ? (lo + hi) / 2 : lo + margin + row * i / (count - 1);
    const Vec3 back = board.frame.point({along, middle, 0});
    const auto wood = crossing(piece, back, -face);
    if (!wood || std::abs(wood->first) > kContact) continue;
    behind = true;
    if (!order.fields.has("screw")) continue;
    const Bolt& screw = entry(order.request.catalogue.bolts, order.fields.text("screw"));
    if (!order.screw_fits(screw, wood->second)) return behind;
    const Vec3 at = back - face * wood->second;
    piece.holes().push_back(clearance_hole(screw, at, face, wood->second));
    board.holes.push_back(pilot_hole(screw, at, face, wood->second));
    hardware.push_back(order.shop.add(
        Fastener{.name = board.name + ".screw_" + std::to_string(hardware.size() + 1),
                 .bolt = &screw,
                 .at = at,
                 .direction = face,
                 .hosts = {piece.name(), board.name}}));
  }
  return behind;
}

/// One board with what holds it; false when nothing lies behind it.
bool add_board(CustomWork& work, const PlankOrder& order, const PlankWall& wall, CutPlank board,
               const RowBoard& row, const std::vector<std::string>& on) {
  board.outline = {rectangle({0, row.from}, {wall.length, row.to}), {}};
  std::vector<std::string> parts{work.shop.id(board.name)};
  std::vector<std::string> hardware;
  for (const std::string& name : on) {
    const auto piece = work.pieces.find(name);
    if (piece == work.pieces.end()) continue;
    if (screw_through(order, board, row.middle, wall.length, piece->second, hardware))
      parts.push_back(work.shop.id(name));
  }
  if (parts.size() == 1) return false;
  work.shop.add(board);
  const bool glued = order.fields.flag("glued");
  work.shop.join("joint." + board.name,
                 !hardware.empty() ? "screwed from behind"
                 : glued           ? "glued"
                                   : "contact",
                 std::move(parts), std::move(hardware));
  work.shop.made().joints.back().glued = glued;
  return true;
}

/// Reports "custom.planks_off" of a board that nothing lies behind, with the distance of what is
/// nearest behind or before it.
void tell_off(CustomWork& work, const PlankOrder& order, const CutPlank& board, const RowBoard& row,
              double length, const std::vector<std::string>& on) {
  const Vec3 back = board.frame.point({length / 2, row.middle, 0});
  std::string where = "lies beside it";
  double least = std::numeric_limits<double>::infinity();
  for (const std::string& name : on) {
    const auto piece = work.pieces.find(name);
    if (piece == work.pieces.end()) continue;
    const auto wood = crossing(piece->second, back, -board.frame.z);
    if (!wood || std::abs(wood->first) >= least) continue;
    least = std::abs(wood->first);
    where = "is " + value_text(least, Unit::mm, LengthStyle::millimetres) +
            (wood->first > 0.0 ? " behind it" : " too far forward");
  }
  work.shop.find(work.fault("custom.planks_off", order.fields.place("on"), board.name)
                     .with("found", order.fields.texts("on").front())
                     .with("where", where));
}

void make_wall(CustomWork& work, const std::string& name, const Record& fields) {
  const PlankOrder order{work.request, work.shop, fields, work.shop.id(name)};
  const auto wall = wall_of(work, name, fields, order.plank());
  const auto gap = order.gap();
  const std::vector<std::string> on = work.all_parts(fields, "on");
  if (!wall || !gap || on.empty()) return;
  const auto row = order.row(wall->span, *gap);
  if (!row) return;
  const std::vector<Copy> copies = work.copies(name, fields);
  const std::size_t told = work.shop.made().findings.size();
  std::vector<std::string> all;
  for (const Copy& copy : copies) {
    std::vector<std::string> boards;
    for (std::size_t i = 0; i < row->widths.size(); ++i) {
      const RowBoard made =
          row_board(order, *row, i, wall->start() + copy.shift, wall->across, wall->face);
      CutPlank board = made.board;
      board.name = copy.name + "_" + std::to_string(i + 1);
      board.title = part_title(fields, name);
      boards.push_back(board.name);
      if (add_board(work, order, *wall, board, made, on)) continue;
      tell_off(work, order, board, made, wall->length, on);
      return;  // so do the others
    }
    work.names[copy.name] = boards;
    for (const std::string& board : boards) work.names[board] = {board};
    all.insert(all.end(), boards.begin(), boards.end());
  }
  if (!copies.empty()) work.names[name] = std::move(all);
  // What is the same at every board is told once.
  Findings& findings = work.shop.made().findings;
  for (std::size_t i = told; i < findings.size(); ++i) {
    const auto next = findings.begin() + static_cast<std::ptrdiff_t>(i) + 1;
    findings.erase(std::remove(next, findings.end(), Finding(findings[i])), findings.end());
  }
}

}  // namespace

void make_planks(CustomWork& work) {
  work.make_each("planks", make_wall);
}

Field custom_planks_field() {
  std::vector<Field> fields = plank_fields(
      "the boards", "screw from behind through those parts into the middle of each board");
  const std::vector<Field> own{
      FieldMaker{"on", FieldKind::texts}.items(1, 50).needed().means(
          "the panels or members behind them"),
      vector_field("at").needed().means("the lower left front corner of them all"),
      flat_field("size").needed().above(0).means(
          "the two sizes of them all, in the order right, back, up"),
      way_field("faces", "the way their face looks", "front"),
      way_field("run", "the way they run; counted from the left, the front or below", "up")};
  fields.insert(fields.begin() + 1, own.begin(), own.end());
  fields.push_back(part_title_field());
  fields.push_back(copies_field());
  return keyed_field("planks", std::move(fields))
      .means(
          "boards with tongue and groove, side by side; they are called NAME_1, NAME_2 and so on, "
          "and NAME means them all");
}

}  // namespace ribbay::detail
