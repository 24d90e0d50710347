#include "base/tolerance.hpp"
#include "bow_handle.hpp"
#include "butt_hinges.hpp"
#include "custom.hpp"
#include "spec/fields.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace ribbay::detail {

namespace {

/// How far the pin may lie from where the leaves put it, mm: what marking out leaves, 0.5 mm.
constexpr double kPinOff = 0.5;

/// A panel at a hinge, and the face of it that a leaf of the hinge lies on.
struct Side {
  Workpiece* piece = nullptr;
  Vec3 out;            ///< unit: the way that face looks
  Vec3 across;         ///< unit: from the pin over the panel
  double face = 0.0;   ///< how far it reaches from the pin
  double apart = 0.0;  ///< from that face to the pin
};

/// The side of a panel that looks the way a word says: its face or back where it is tilted, when
/// it looks more that way than another.
std::optional<Vec3> side_of_panel(const Workpiece& piece, Vec3 word) {
  const Frame own = piece.frame();
  for (const Vec3 axis : {own.z, -own.z}) {
    if (dot(axis, word) > std::numbers::sqrt2 / 2 - kSame) return axis;
  }
  for (const Vec3 axis : {own.x, -own.x, own.y, -own.y}) {
    if (dot(axis, word) > 1 - kSame) return axis;
  }
  return std::nullopt;
}

/// The panel that a word of `field` stands for, as the pin sees it. Reports "custom.hinge_panel" of
/// what is no panel along the pin, and "custom.hinge_off" where the pin lies not one leaf's
/// thickness in front of the face.
std::optional<Side> side_of(CustomWork& work, const std::string& name, const Record& fields,
                            const char* field, const char* side_field, Vec3 pin, Vec3 along,
                            const ButtHinge& hinge) {
  const auto parts = work.parts(fields, field, fields.text(field));
  if (parts.empty()) return std::nullopt;
  Workpiece* piece = one_panel(work, fields, field);
  const auto out =
      piece == nullptr ? std::nullopt : side_of_panel(*piece, way(fields.text(side_field)));
  const auto runs_along = [&](Vec3 axis) { return std::abs(dot(axis, along)) > 1 - kSame; };
  if (!out || std::abs(dot(*out, along)) > kSame ||
      !(runs_along(piece->frame().x) || runs_along(piece->frame().y))) {
    work.shop.find(work.fault("custom.hinge_panel", fields.place(field), name)
                       .with("found", fields.text(field))
                       .with("field", side_field));
    return std::nullopt;
  }
  Side side{.piece = piece, .out = *out, .across = {}};
  // The panel: across the face, and from it, both from the pin.
  const Vec3 beside = cross(side.out, along);
  const Box about = in_axes({pin, beside, side.out, cross(beside, side.out)}, *piece);
  const bool positive = about.centre().x > 0.0;
  side.across = positive ? beside : -beside;
  side.face = positive ? about.hi.x : -about.lo.x;
  side.apart = -about.hi.y;
  if (std::abs(side.apart - hinge.thickness) <= kPinOff) return side;
  work.shop.find(work.fault("custom.hinge_off", fields.place("at"), name)
                     .with("part", work.shop.id(parts.front()))
                     .with("side", fields.text(side_field))
                     .with("hinge", hinge.key)
                     .with("measured", std::abs(side.apart), Unit::mm)
                     .with("where", side.apart < 0.0 ? "behind" : "in front of")
                     .with("required", hinge.thickness, Unit::mm)
                     .with("by", std::abs(hinge.thickness - side.apart), Unit::mm)
                     .with("way", side.apart < hinge.thickness ? "away from it" : "towards it"));
  return std::nullopt;
}

/// The angle between the leaves when it is shut, radians: over the free side of both faces.
double shut_angle(const Side& fixed, const Side& leaf) {
  const double angle = std::atan2(dot(leaf.across, fixed.out), dot(leaf.across, fixed.across));
  return angle < -kSame ? angle + 2 * std::numbers::pi : std::max(angle, 0.0);
}

/// The places along the pin that both panels share.
std::pair<double, double> shared(const Side& a, const Side& b, Vec3 along) {
  const Frame frame = frame_zx({}, along, a.out);
  const Box one = in_axes(frame, *a.piece);
  const Box other = in_axes(frame, *b.piece);
  return {std::max(one.lo.z, other.lo.z), std::min(one.hi.z, other.hi.z)};
}

void make_hinge(CustomWork& work, const std::string& name, const Record& fields) {
  const ButtHinge& hinge =
      bought(work.request, work.request.catalogue.butt_hinges, fields.text("hinge"));
  if (!is_only_motion(work, name, fields)) return;
  const Vec3 along = way(fields.text("along"));
  const Vec3 pin = fields.vec3("at");
  const auto fixed = side_of(work, name, fields, "on", "on_side", pin, along, hinge);
  const auto leaf = side_of(work, name, fields, "leaf", "leaf_side", pin, along, hinge);
  if (!fixed || !leaf) return;
  const double angle = shut_angle(*fixed, *leaf);
  // Away from the shut position, the way the angle between the leaves grows.
  const Vec3 growing = fixed->across * -std::sin(angle) + fixed->out * std::cos(angle);
  if (dot(growing, leaf->out) > 0.0) {
    work.shop.find(work.fault("custom.hinge_sides", fields.place("leaf_side"), name)
                       .with("leaf", work.shop.id(leaf->piece->name()))
                       .with("on", work.shop.id(fixed->piece->name()))
                       .with("leaf_side", fields.text("leaf_side"))
                       .with("on_side", fields.text("on_side")));
    return;
  }
  const double opens = fields.number("opens");
  const bool spreads =
      fields.has("leaves") ? fields.text("leaves") == "part" : opens > angle + kSame;
  if (!spreads && opens > angle + kSame) {
    constexpr double degrees = 180.0 / std::numbers::pi;
    work.shop.find(work.fault("custom.hinge_closes", fields.place("opens"), name)
                       .with("hinge", hinge.key)
                       .with("measured", angle * degrees, Unit::degree)
                       .with("required", opens * degrees, Unit::degree));
    return;
  }
  const auto [from, to] = shared(*fixed, *leaf, along);
  Joiner joiner(work, "hinges", name, fields);
  joiner.take(*fixed->piece);
  joiner.take(*leaf->piece);
  auto motion = hang_flap(joiner.carcass(),
                          {.name = name,
                           .title = fields.text_or("title", part_title(fields, name)),
                           .asked = joiner.asked("hinge"),
                           .pin = pin,
                           .along = along,
                           .from = from,
                           .to = to,
                           .fixed = {.board = fixed->piece->name(),
                                     .across = fixed->across,
                                     .into = -fixed->out,
                                     .face = fixed->face},
                           .moving = {.board = leaf->piece->name(),
                                      .across = leaf->across,
                                      .into = -leaf->out,
                                      .face = leaf->face},
                           .arm = leaf->across,
                           .towards = spreads ? growing : -growing,
                           .angle = angle,
                           .opens = opens,
                           .spreads = spreads},
                          hinge, {work.shop.id(leaf->piece->name())});
  joiner.give_back();
  if (motion) add_motion(work, name, fields, std::move(*motion));
}

void make_handle(CustomWork& work, const std::string& name, const Record& fields) {
  const Handle& handle =
      bought(work.request, work.request.catalogue.handles, fields.text("handle"));
  const Vec3 out = way(fields.text("stands_out"));
  const Vec3 along = way(fields.text("along"));
  if (std::abs(dot(out, along)) > 0.5) {
    work.shop.find(work.fault("custom.grain_across", fields.place("along"), name)
                       .with("found", fields.text("along"))
                       .with("faces", fields.text("stands_out")));
    return;
  }
  const auto on = work.parts(fields, "on", fields.text("on"));
  for (const Copy& copy : on.empty() ? std::vector<Copy>{} : work.copies(name, fields)) {
    const Vec3 at = fields.vec3("at") + copy.shift;
    Workpiece* carrier = nullptr;
    double thickness = 0.0;
    for (const std::string& part : on) {
      const auto piece = work.pieces.find(part);
      if (piece == work.pieces.end()) continue;
      const auto wood = crossing(piece->second, at, -out);
      if (!wood || std::abs(wood->first) > kContact) continue;
      carrier = &piece->second;
      thickness = wood->second;
    }
    if (carrier == nullptr) {
      work.shop.find(work.fault("custom.handle_off", fields.place("at"), copy.name)
                         .with("part", work.shop.id(on.front()))
                         .with("side", fields.text("stands_out")));
      return;
    }
    if (std::abs(dot(carrier->frame().z, out)) < 1 - kSame) {
      work.shop.find(work.fault("custom.handle_edge", fields.place("at"), copy.name)
                         .with("part", work.shop.id(carrier->name()))
                         .with("side", fields.text("stands_out"))
                         .with("measured", thickness, Unit::mm));
      return;
    }
    const HandlePlace place{.name = copy.name,
                            .title = part_title(fields, name),
                            .middle = at,
                            .out = out,
                            .along = along,
                            .board = carrier->name(),
                            .thickness = thickness};
    for (Hole& hole : handle_holes(handle, place)) carrier->holes().push_back(std::move(hole));
    add_handle(work.shop, handle, place);
  }
}

}  // namespace

void make_hinges(CustomWork& work) {
  work.make_each("handles", make_handle);
  for (const auto& [name, fields] : work.request.fields.tables("hinges"))
    make_hinge(work, name, fields);
}

std::vector<Field> hinge_fields() {
  return {
      keyed_field(
          "hinges",
          {reference_field("hinge", "butt_hinge")
               .needed()
               .means("what is bought: one near each end of the "
                      "edge, a continuous one over all of it"),
           text_field("leaf").needed().means("the panel that turns"),
           text_field("on").needed().means("the panel that it turns on"),
           vector_field("at").needed().means(
               "a point on the axis of the pin: as far in front of both faces as the hinge's "
               "leaves are thick"),
           way_field("along", "the way the pin runs", "right"),
           way_field("leaf_side",
                     "the way the face of the turning panel looks that the hinge lies on", "down"),
           way_field("on_side", "the same of the other panel", "up"),
           angle_field("opens")
               .otherwise("90 deg")
               .above(0)
               .at_most(2 * std::numbers::pi)
               .means("how far it opens, and must"),
           choice_field("leaves", {"part", "close"})
               .means("how the hinge's leaves go as it opens; by default they close where they "
                      "stand open "
                      "that far, as those on a lid and a strip beside it do, and else part"),
           moves_field("more parts that turn with the panel: planks on it, other panels"),
           after_field(), motion_title_field()})
          .means("butt hinges, with their screws, between two panels; what hangs on them opens"),
      keyed_field("handles",
                  {reference_field("handle", "handle").needed().means("what is bought"),
                   text_field("on").needed().means(
                       "the panel that it is screwed to, from behind: no edge of it"),
                   vector_field("at").needed().means("its middle, on the face of that panel"),
                   way_field("stands_out", "the way it stands out", "front"),
                   way_field("along", "the way its bow reaches", "right"), part_title_field(),
                   copies_field()})
          .means("bow handles, with the holes for their screws")};
}

}  // namespace ribbay::detail
