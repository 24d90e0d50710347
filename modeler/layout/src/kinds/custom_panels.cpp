#include "base/tolerance.hpp"
#include "custom.hpp"
#include "spec/fields.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>

namespace ribbay::detail {

namespace {

/// How the two sizes of a panel lie in the module: those of its three axes that its face does not
/// look along, in the order right, back, up.
struct Plane {
  int u = 0;
  int v = 1;
  int normal = 2;

  explicit Plane(Vec3 face) {
    normal = std::abs(face.x) > 0.5 ? 0 : std::abs(face.y) > 0.5 ? 1 : 2;
    u = normal == 0 ? 1 : 0;
    v = normal == 2 ? 1 : 2;
  }
  Vec3 lift(Vec2 p, double height = 0.0) const {
    Vec3 result;
    result[u] = p.x;
    result[v] = p.y;
    result[normal] = height;
    return result;
  }
};

/// An outline as told in a panel's two directions, in the axes of `frame`, counter-clockwise.
/// `corner` is the panel's lower left front corner.
Loop in_frame(const Loop& told, const Plane& plane, Vec3 corner, const Frame& frame) {
  Loop loop;
  for (const Corner& c : told) {
    const Vec3 p = frame.local_point(corner + plane.lift(c.at));
    loop.push_back({{p.x, p.y}, c.radius});
  }
  return area({loop, {}}) < 0.0 ? reversed(std::move(loop)) : loop;
}

/// The outline that a panel's size or its corners tell. Reports neither and both.
std::optional<Loop> outline_of(CustomWork& work, const std::string& name, const Record& fields) {
  const auto& corners = fields.tables("outline");
  if (corners.empty() != fields.has("size")) {
    work.shop.find(work.fault("custom.panel_size", fields.place(), name));
    return std::nullopt;
  }
  if (corners.empty()) return rectangle({0, 0}, fields.vec2("size"));
  Loop loop;
  for (const auto& [number, corner] : corners) {
    loop.push_back({corner.vec2("at"), corner.number("radius")});
  }
  if (area({loop, {}}) < 0.0) loop = reversed(std::move(loop));
  const std::string wrong = fault(Region{loop, {}});
  if (wrong.empty()) return loop;
  work.shop.find(work.fault(wrong.c_str(), fields.place("outline"), name));
  return std::nullopt;
}

/// The grain as a unit axis: as told, or along the longer side.
std::optional<Vec3> grain_of(CustomWork& work, const std::string& name, const Record& fields,
                             const Plane& plane, const Loop& outline) {
  if (!fields.has("grain")) {
    const Box box = bounds(Shape{{{{{outline, {}}, 1.0, {}, {}, {}}, {}}}});
    return box.size().x >= box.size().y ? plane.lift({1, 0}) : plane.lift({0, 1});
  }
  const Vec3 grain = way(fields.text("grain"));
  if (std::abs(grain[plane.normal]) < 0.5) return grain;
  work.shop.find(work.fault("custom.grain_across", fields.place("grain"), name)
                     .with("found", fields.text("grain"))
                     .with("faces", fields.text("faces")));
  return std::nullopt;
}

/// Makes one panel's work: cuts and holes, in its own axes.
class PanelWork {
 public:
  PanelWork(CustomWork& work, ShapedBoard& board, const Plane& plane, Vec3 corner)
      : work_{work}, board_{board}, plane_{plane}, corner_{corner} {}

  void cut_out(const Record& fields) {
    const auto loop = opening(fields);
    if (!loop) return;
    if (!inside(*loop, "custom.cut_out_outside", fields.place("at"))) return;
    board_.cuts.push_back({*loop, 0.0, board_.sheet->thickness, CutRole::cut_out});
  }

  void groove(const Record& fields, CutRole role) {
    const double t = board_.sheet->thickness;
    const double depth = fields.number("depth");
    if (depth > t - kContact) {
      work_.shop.find(work_.fault("custom.groove_too_deep", fields.place("depth"), board_.name)
                          .with("measured", depth, Unit::mm)
                          .with("required", t, Unit::mm));
      return;
    }
    const Vec2 at = fields.vec2("at");
    const Loop loop =
        in_frame(rectangle(at, at + fields.vec2("size")), plane_, corner_, board_.frame);
    if (!meets(loop)) {
      work_.shop.find(work_.fault("custom.groove_outside", fields.place("at"), board_.name));
      return;
    }
    const bool face = fields.text("side") == "face";
    board_.cuts.push_back({loop, face ? t - depth : 0.0, face ? t : depth, role});
  }

  void hole(const Record& fields) {
    const double t = board_.sheet->thickness;
    const double diameter = fields.number("diameter");
    if (!inside(in_frame(circle(fields.vec2("at"), diameter), plane_, corner_, board_.frame),
                "custom.hole_outside", fields.place("at"))) {
      return;
    }
    const double depth = fields.number_if("depth").value_or(t);
    if (is_too_deep(work_, fields, board_.name, depth, t)) return;
    const bool face = fields.text("side") == "face";
    const Vec3 on_back = corner_ + plane_.lift(fields.vec2("at"));
    const double height = dot(on_back - board_.frame.origin, board_.frame.z);
    board_.holes.push_back({.at = on_back + board_.frame.z * ((face ? t : 0.0) - height),
                            .direction = face ? -board_.frame.z : board_.frame.z,
                            .diameter = diameter,
                            .depth = std::min(depth, t),
                            .through = depth >= t - kContact,
                            .role = hole_use(fields),
                            .thread = {}});
  }

 private:
  std::optional<Loop> opening(const Record& fields) {
    if (fields.has("size") == fields.has("diameter")) {
      work_.shop.find(work_.fault("custom.opening_size", fields.place(), board_.name));
      return std::nullopt;
    }
    const Vec2 at = fields.vec2("at");
    const Loop told = fields.has("diameter")
                          ? circle(at, fields.number("diameter"))
                          : rectangle(at, at + fields.vec2("size"), fields.number("radius"));
    return in_frame(told, plane_, corner_, board_.frame);
  }

  /// Reports an outline that does not lie within the panel.
  bool inside(const Loop& loop, const char* code, const Place& place) {
    const std::string own = fault(Region{loop, {}});
    if (own.empty() && fault(Region{board_.outline.outer, {reversed(loop)}}).empty()) return true;
    work_.shop.find(work_.fault(own.empty() ? code : own.c_str(), place, board_.name));
    return false;
  }

  /// True when a rectangle lies over the bounds of the panel, if only in part.
  bool meets(const Loop& loop) const {
    const Box panel = bounds(Shape{{{{board_.outline, 1.0, {}, {}, {}}, {}}}});
    const Box cut = bounds(Shape{{{{{loop, {}}, 1.0, {}, {}, {}}, {}}}});
    return near(panel, cut, -kContact);
  }

  CustomWork& work_;
  ShapedBoard& board_;
  const Plane& plane_;
  Vec3 corner_;
};

/// The panel's own axes: x along the grain, z to its face, its lowest corner at the origin.
Frame panel_frame(const Loop& outline, const Plane& plane, Vec3 corner, Vec3 face, Vec3 grain,
                  double thickness) {
  Frame frame = frame_zx({}, face, grain);
  Box box;
  const Box told = bounds(Shape{{{{{outline, {}}, thickness, {}, {}, {}}, {}}}});
  for (const double height : {0.0, thickness}) {
    box.add(frame.local_point(corner + plane.lift({told.lo.x, told.lo.y}, height)));
    box.add(frame.local_point(corner + plane.lift({told.hi.x, told.hi.y}, height)));
  }
  frame.origin = frame.point(box.lo);
  return frame;
}

/// Turns a panel about an edge of its back; positive: its other side goes the way its face looks.
/// Reports "custom.tilt_edge".
bool tilt(CustomWork& work, const std::string& name, const Record& fields, ShapedBoard& board) {
  const Record& table = fields.table("tilt");
  const Vec3 towards = way(table.text("edge"));
  const Vec3 face = board.frame.z;
  if (std::abs(dot(towards, face)) > 0.5) {
    work.shop.find(work.fault("custom.tilt_edge", table.place("edge"), name)
                       .with("found", table.text("edge"))
                       .with("faces", fields.text("faces")));
    return false;
  }
  const Box flat = bounds(Shape{{{{board.outline, 1.0, {}, {}, {}}, {}}}});
  const Vec3 local = board.frame.local_direction(towards);
  Vec3 pivot;
  for (int axis = 0; axis < 2; ++axis) {
    if (local[axis] > 0.5) pivot[axis] = flat.hi[axis];
    if (local[axis] < -0.5) pivot[axis] = flat.lo[axis];
  }
  // From the edge over the panel, to its face, along the edge.
  const Frame at_edge{board.frame.point(pivot), -towards, face, cross(-towards, face)};
  const double c = std::cos(table.number("angle"));
  const double s = std::sin(table.number("angle"));
  const Frame turn{{}, {c, s, 0}, {-s, c, 0}, {0, 0, 1}};
  const auto direction = [&](Vec3 v) {
    return at_edge.direction(turn.direction(at_edge.local_direction(v)));
  };
  const auto point = [&](Vec3 p) { return at_edge.point(turn.point(at_edge.local_point(p))); };
  for (Hole& hole : board.holes) {
    hole.at = point(hole.at);
    hole.direction = direction(hole.direction);
  }
  board.frame = {point(board.frame.origin), direction(board.frame.x), direction(board.frame.y),
                 direction(board.frame.z)};
  return true;
}

void make_panel(CustomWork& work, const std::string& name, const Record& fields) {
  const Vec3 face = way(fields.text("faces"));
  const Plane plane(face);
  const auto outline = outline_of(work, name, fields);
  if (!outline) return;
  const auto grain = grain_of(work, name, fields, plane, *outline);
  if (!grain) return;
  const Sheet& sheet = entry(work.request.catalogue.sheets, fields.text("sheet"));
  for (const Copy& copy : work.copies(name, fields)) {
    const Vec3 corner = fields.vec3("at") + copy.shift;
    const Frame frame = panel_frame(*outline, plane, corner, face, *grain, sheet.thickness);
    Workpiece piece{ShapedBoard{.name = copy.name,
                                .title = part_title(fields, name),
                                .sheet = &sheet,
                                .frame = frame,
                                .outline = {in_frame(*outline, plane, corner, frame), {}},
                                .cuts = {},
                                .holes = {}}};
    PanelWork make(work, *piece.board(), plane, corner);
    for (const auto& [key, cut] : fields.tables("cut_outs")) make.cut_out(cut);
    for (const auto& [key, cut] : fields.tables("dados")) make.groove(cut, CutRole::dado);
    for (const auto& [key, cut] : fields.tables("rebates")) make.groove(cut, CutRole::rebate);
    for (const auto& [key, hole] : fields.tables("holes")) make.hole(hole);
    if (fields.has("tilt") && !tilt(work, name, fields, *piece.board())) return;
    work.pieces.emplace(copy.name, std::move(piece));
  }
}

Field side_field() {
  return choice_field("side", {"face", "back"}).otherwise("face").means("the side it is cut from");
}

Field grooves_field(const char* name, const char* meaning) {
  return keyed_field(
             name,
             {flat_field("at").needed().means("its lower left corner, from the panel's"),
              flat_field("size").needed().above(0).means("its two sizes"),
              length_field("depth").needed().above(0).means("how deep it is cut"), side_field()})
      .means(meaning);
}

}  // namespace

void make_panels(CustomWork& work) {
  work.make_each("panels", make_panel);
}

Field panels_field() {
  return keyed_field(
             "panels",
             {reference_field("sheet", "sheet").needed().means("what it is cut from"),
              vector_field("at").needed().means("its lower left front corner"),
              flat_field("size").above(0).means(
                  "its two sizes, in the order right, back, up; its thickness is the sheet's"),
              way_field("faces", "the way its face looks", "up"),
              way_field("grain", "the way its grain runs; by default along its longer side"),
              list_field("outline", {flat_field("at").needed().means(
                                         "the corner, from the panel's lower left front corner"),
                                     length_field("radius").otherwise("0 mm").at_least(0).means(
                                         "it is rounded by this")})
                  .items(0, 200)
                  .means("its corners one after the other; instead of size"),
              keyed_field("cut_outs",
                          {flat_field("at").needed().means(
                               "the lower left corner of a rectangle, the middle of a circle"),
                           flat_field("size").above(0).means("of a rectangle"),
                           length_field("diameter").above(0).means("of a circle"),
                           length_field("radius").otherwise("0 mm").at_least(0).means(
                               "rounds the corners of a rectangle")})
                  .means("openings right through it"),
              grooves_field("dados", "grooves across it; joints of the kind dado cut their own"),
              grooves_field("rebates",
                            "steps along its edges; joints of the kind rebate cut their "
                            "own"),
              keyed_field("holes",
                          {flat_field("at").needed().means("its middle"),
                           length_field("diameter").needed().above(0).means("of the hole"),
                           length_field("depth").above(0).means("by default right through"),
                           side_field(), hole_use_field()})
                  .means("drilled from one side"),
              table_field("tilt", {choice_field("edge", ways())
                                       .needed()
                                       .means("the edge of its back that it is turned about: which "
                                              "way it lies on the panel"),
                                   angle_field("angle")
                                       .needed()
                                       .at_least(-std::numbers::pi / 2)
                                       .at_most(std::numbers::pi / 2)
                                       .means("positive: its other side goes the way its face "
                                              "looks")})
                  .means("it is told square to the module and then turned; joints hold it only "
                         "to what is turned alike"),
              part_title_field(), copies_field()})
      .means("pieces of sheet, flat, square to the module or tilted");
}

}  // namespace ribbay::detail
