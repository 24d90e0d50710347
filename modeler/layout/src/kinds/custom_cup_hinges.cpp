#include "base/tolerance.hpp"
#include "cup_hinges.hpp"
#include "custom.hpp"
#include "spec/fields.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <utility>

namespace ribbay::detail {

namespace {

/// A leaf lies at most so far before the edge of what carries it, mm (common practice, no source:
/// thicker buffers need another mounting plate).
constexpr double kFarthestLeaf = 6.0;

/// How far a box reaches along a unit axis of the module.
double reach(const Box& box, Vec3 axis) {
  return axis.x + axis.y + axis.z > 0.0 ? dot(box.hi, axis) : dot(box.lo, axis);
}

/// A leaf before the front edge of an upright, and where its hinges go.
struct CupPlace {
  Workpiece* leaf = nullptr;
  Workpiece* board = nullptr;
  Vec3 edge;            ///< unit: from the leaf's middle to its hinge edge
  Vec3 out;             ///< unit: the way the leaf looks
  Vec3 along;           ///< unit: the hinge edge
  double buffer = 0.0;  ///< from the board's edge to the leaf's back
  double from = 0.0;    ///< the hinge edge, as places along it
  double to = 0.0;
  Box leaf_box;
  Box board_box;

  /// The point at these distances along the three axes.
  Vec3 point(double on_edge, double forward) const {
    return edge * on_edge + out * forward + along * from;
  }
};

/// The one panel that a field names. Reports "custom.cup_panel" of what is none.
Workpiece* panel_of(CustomWork& work, const std::string& name, const Record& fields,
                    const char* field) {
  if (work.parts(fields, field, fields.text(field)).empty()) return nullptr;
  Workpiece* piece = one_panel(work, fields, field);
  if (piece == nullptr) {
    work.shop.find(work.fault("custom.cup_panel", fields.place(field), name)
                       .with("found", fields.text(field)));
  }
  return piece;
}

/// Reports "custom.cup_edge" of two panels that do not stand as a door and what carries it.
std::optional<CupPlace> stand(CustomWork& work, const std::string& name, const Record& fields) {
  CupPlace place;
  place.edge = way(fields.text("edge"));
  place.leaf = panel_of(work, name, fields, "leaf");
  place.board = panel_of(work, name, fields, "on");
  if (place.leaf == nullptr || place.board == nullptr) return std::nullopt;
  const auto parallel = [&](Vec3 axis) { return std::abs(dot(axis, place.edge)) > 1 - kSame; };
  const Frame leaf = place.leaf->frame();
  const bool level =
      std::max({std::abs(leaf.z.x), std::abs(leaf.z.y), std::abs(leaf.z.z)}) > 1 - kSame;
  const bool leaf_stands = level && (parallel(leaf.x) || parallel(leaf.y));
  if (!leaf_stands || !square(*place.leaf, *place.board) || !parallel(place.board->frame().z)) {
    work.shop.find(work.fault("custom.cup_edge", fields.place(leaf_stands ? "on" : "edge"), name)
                       .with("found", fields.text(leaf_stands ? "on" : "leaf"))
                       .with("edge", fields.text("edge")));
    return std::nullopt;
  }
  place.leaf_box = in_axes({}, *place.leaf);
  place.board_box = in_axes({}, *place.board);
  const Vec3 face = place.leaf->frame().z;
  const bool behind = dot(place.board_box.centre() - place.leaf_box.centre(), face) < 0.0;
  place.out = behind ? face : -face;
  place.along = forward(cross(place.edge, place.out));
  place.buffer = -reach(place.leaf_box, -place.out) - reach(place.board_box, place.out);
  place.from =
      std::max(-reach(place.leaf_box, -place.along), -reach(place.board_box, -place.along));
  place.to = std::min(reach(place.leaf_box, place.along), reach(place.board_box, place.along));
  return place;
}

/// Reports "custom.cup_apart" of a leaf that does not lie before the board's edge, and
/// "custom.cup_overlay" of one that does not cover it.
bool lies_before(CustomWork& work, const std::string& name, const Record& fields,
                 const CupPlace& place) {
  const auto report = [&](const char* code, double measured, double required, const char* where) {
    work.shop.find(work.fault(code, fields.place("leaf"), name)
                       .with("leaf", work.shop.id(place.leaf->name()))
                       .with("board", work.shop.id(place.board->name()))
                       .with("edge", fields.text("edge"))
                       .with("measured", std::abs(measured), Unit::mm)
                       .with("where", where)
                       .with("required", required, Unit::mm));
    return false;
  };
  if (place.buffer < -kContact || place.buffer > kFarthestLeaf + kContact)
    return report("custom.cup_apart", place.buffer, kFarthestLeaf,
                  place.buffer < 0.0 ? "behind" : "in front of");
  const double inner = -reach(place.board_box, -place.edge);
  const double thickness = reach(place.board_box, place.edge) - inner;
  const double covers = reach(place.leaf_box, place.edge) - inner;
  if (covers > kContact && covers <= thickness + kContact && place.to - place.from > kContact)
    return true;
  return report("custom.cup_overlay", covers, thickness, covers < 0.0 ? "short of" : "beyond");
}

void make_cup_hinge(CustomWork& work, const std::string& name, const Record& fields) {
  const Hinge& hinge = bought(work.request, work.request.catalogue.hinges, fields.text("hinge"));
  if (!is_only_motion(work, name, fields)) return;
  const auto place = stand(work, name, fields);
  if (!place || !lies_before(work, name, fields, *place)) return;
  const std::string title = fields.text_or("title", part_title(fields, name));
  Joiner joiner(work, "cup_hinges", name, fields);
  const Sheet& sheet = *place->leaf->board()->sheet;
  if (!hinge_fits(joiner.carcass(), joiner.asked("hinge"), hinge, sheet,
                  std::max(place->buffer, 0.0), "the gap behind its leaf"))
    return;
  const double opens =
      fields.number_if("opens").value_or(std::min(hinge.opening, std::numbers::pi / 2));
  if (opens > hinge.opening + kSame) {
    constexpr double degrees = 180.0 / std::numbers::pi;
    work.shop.find(fault("carcass.hinge_opens_too_little", joiner.asked("opens"))
                       .with("hinge", hinge.key)
                       .with("flap", title)
                       .with("measured", hinge.opening * degrees, Unit::degree)
                       .with("required", opens * degrees, Unit::degree));
    return;
  }
  joiner.take(*place->leaf);
  joiner.take(*place->board);
  const double edge = reach(place->leaf_box, place->edge);
  const double inner = -reach(place->board_box, -place->edge);
  Motion motion =
      hang(joiner.carcass(),
           {.name = name,
            .title = title,
            .board = place->board->name(),
            .face = place->point(edge, reach(place->leaf_box, place->out)),
            .back = place->point(edge, -reach(place->leaf_box, -place->out)),
            .plate = place->point(inner, reach(place->board_box, place->out)),
            .along = place->along,
            .inward = -place->edge,
            .out = place->out,
            .screw = "screw",
            .leaf = place->leaf->name()},
           hinge, hinge_places(place->from, place->to, fields.number("from_ends"), 0.0));
  joiner.give_back();
  motion.title = title;
  motion.required = opens;
  add_motion(work, name, fields, std::move(motion));
}

}  // namespace

void make_cup_hinges(CustomWork& work) {
  for (const auto& [name, fields] : work.request.fields.tables("cup_hinges"))
    make_cup_hinge(work, name, fields);
}

Field cup_hinges_field() {
  return keyed_field(
             "cup_hinges",
             {reference_field("hinge", "hinge").needed().means("what is bought"),
              text_field("leaf").needed().means(
                  "the panel that turns: it lies before the front edge of what carries it, a "
                  "little "
                  "in front, and covers that edge in whole or in part"),
              text_field("on").needed().means("the panel that carries it, square to it"),
              way_field("edge", "the edge of the leaf that it turns at", "left"),
              reference_field("screw", kWoodScrew)
                  .needed()
                  .means("wood screw of cups and mounting plates"),
              length_field("from_ends")
                  .otherwise("100 mm")
                  .above(0)
                  .means("middle of the outer hinges from the ends of the edge; give two leaves "
                         "on one panel different ones, so that their screws pass each other"),
              angle_field("opens")
                  .above(0)
                  .at_most(std::numbers::pi)
                  .means("how far it must open; by default 90 deg, or as far as the hinge does"),
              moves_field("more parts that turn with the leaf: planks on it, handles"),
              after_field(), motion_title_field()})
      .means(
          "concealed hinges with their cups, plates and screws: two, three in a long edge; "
          "what hangs on them opens");
}

}  // namespace ribbay::detail
