#include "base/tolerance.hpp"
#include "catalogue/far_end.hpp"
#include "custom.hpp"
#include "holds.hpp"
#include "spec/fields.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace ribbay::detail {

namespace {

/// The axes of a fitting that stands out to `out`: its x to the right, or to the back where it
/// stands out sideways, turned about the way it stands out.
Frame fitting_frame(Vec3 at, Vec3 out, double angle) {
  const Vec3 level = std::abs(out.x) > 0.5 ? Vec3{0, 1, 0} : Vec3{1, 0, 0};
  const Vec3 beside = cross(out, level);
  return frame_zx(at, out, level * std::cos(angle) + beside * std::sin(angle));
}

/// Reports a fitting that does not lie on the part it is fixed to.
bool lies_on(CustomWork& work, const Record& fields, const Copy& copy, const Workpiece& carrier,
             Vec3 at, Vec3 out) {
  const Frame own = carrier.frame();
  const bool square = std::ranges::any_of(std::array{own.x, own.y, own.z}, [&](Vec3 axis) {
    return std::abs(dot(axis, out)) > 1 - kSame;
  });
  if (!square) {
    work.shop.find(work.fault("custom.fitting_askew", fields.place("stands_out"), copy.name)
                       .with("part", work.shop.id(carrier.name()))
                       .with("found", fields.text("stands_out")));
    return false;
  }
  const auto surface = crossing(carrier, at, -out);
  const bool on = surface && std::abs(surface->first) <= kContact;
  if (on) return true;
  Finding finding = work.fault("custom.fitting_off", fields.place("at"), copy.name);
  finding.with("part", work.shop.id(carrier.name()));
  if (surface) finding.with("apart", std::abs(surface->first), Unit::mm);
  finding.with("measured",
               surface ? value_text(surface->first, Unit::mm, LengthStyle::millimetres) + " above"
                       : std::string("beside"));
  work.shop.find(std::move(finding));
  return false;
}

/// Bores what carries a fitting: its opening, and a pilot hole below each of its screws.
void fix_fitting(CustomWork& work, const Record& fields, const Fitting& item, const Copy& copy,
                 Workpiece& carrier, const Frame& frame) {
  std::vector<std::string> hardware{
      work.shop.add_fitting(copy.name, item, frame, {carrier.name()})};
  const double thickness = size_along(carrier, frame.z);
  if (item.cut_out > 0.0) {
    carrier.holes().push_back({.at = frame.origin,
                               .direction = -frame.z,
                               .diameter = item.cut_out,
                               .depth = thickness,
                               .through = true,
                               .role = BoreRole::access,
                               .thread = {}});
  }
  if (fields.has("screw")) {
    const Bolt& screw = entry(work.request.catalogue.bolts, fields.text("screw"));
    for (const FixingHole& hole : item.holes) {
      if (is_far_end(hole)) continue;
      const Vec3 at = frame.point(hole.at);
      const Vec3 into = frame.direction(hole.direction);
      if (screw.length > hole.at.z + kCut)  // else it ends in the fitting, which the checks tell
        carrier.holes().push_back(pilot_hole(screw, at, into, hole.at.z));
      hardware.push_back(work.shop.add(Fastener{.name = "screw." + copy.name + "_" + hole.name,
                                                .bolt = &screw,
                                                .at = at,
                                                .direction = into,
                                                .hosts = {copy.name, carrier.name()}}));
    }
  }
  work.shop.join("joint." + copy.name, "fitting", {work.shop.id(carrier.name())},
                 std::move(hardware));
}

void make_fitting(CustomWork& work, const std::string& name, const Record& fields) {
  const Fitting& item = bought(work.request, work.request.catalogue.fittings, fields.text("item"));
  const Vec3 out = way(fields.text("stands_out"));
  const std::vector<std::string> on = work.parts(fields, "on", fields.text("on"));
  if (on.empty()) return;
  for (const Copy& copy : work.copies(name, fields)) {
    const Vec3 at = fields.vec3("at") + copy.shift;
    const Frame frame = fitting_frame(at, out, fields.number("turned"));
    // Of several copies, the one that it lies on.
    Workpiece* carrier = nullptr;
    for (const std::string& part : on) {
      const auto piece = work.pieces.find(part);
      if (piece == work.pieces.end()) continue;
      const auto surface = crossing(piece->second, at, -out);
      if (carrier == nullptr || (surface && std::abs(surface->first) <= kContact)) {
        carrier = &piece->second;
      }
    }
    if (carrier == nullptr) {
      work.shop.find(work.fault("custom.cannot_carry", fields.place("on"), copy.name)
                         .with("found", fields.text("on")));
      return;
    }
    if (lies_on(work, fields, copy, *carrier, at, out)) {
      fix_fitting(work, fields, item, copy, *carrier, frame);
    }
  }
}

void make_equipment(CustomWork& work, const std::string& name, const Record& fields) {
  const Equipment* item =
      held_item(work.request, fields, work.shop.id(name), work.shop.made().findings);
  if (item == nullptr) return;
  const std::string& out = fields.text("faces");
  const int turns = out == "front" ? 0 : out == "right" ? 1 : out == "back" ? 2 : 3;
  for (const Copy& copy : work.copies(name, fields)) {
    work.shop.add_equipment(copy.name, *item, fields.vec3("at") + copy.shift, turns);
  }
}

/// The member or panel that a word of `field` stands for and that the line meets.
Workpiece* piece_on_line(CustomWork& work, const Record& fields, const char* field, Vec3 at,
                         Vec3 direction) {
  Workpiece* found = nullptr;
  const std::vector<std::string> parts = work.parts(fields, field, fields.text(field));
  for (const std::string& part : parts) {
    const auto piece = work.pieces.find(part);
    if (piece == work.pieces.end()) continue;
    if (found == nullptr || crossing(piece->second, at, direction)) found = &piece->second;
  }
  if (found == nullptr && !parts.empty()) {
    work.shop.find(work.fault("custom.cannot_carry", fields.place(field), fields.text(field))
                       .with("found", fields.text(field)));
  }
  return found;
}

void make_screw(CustomWork& work, const std::string& name, const Record& fields) {
  const Bolt& screw = entry(work.request.catalogue.bolts, fields.text("screw"));
  const Vec3 direction = way(fields.text("points"));
  const std::string own = "screw." + name;
  for (const Copy& copy : work.copies(own, fields)) {
    const Vec3 at = fields.vec3("at") + copy.shift;
    Workpiece* through = piece_on_line(work, fields, "through", at, direction);
    Workpiece* into = piece_on_line(work, fields, "into", at, direction);
    if (through == nullptr || into == nullptr) return;
    const Pair pair{work.request, work.shop, copy.name, fields.place(), *through, *into};
    const std::string id = screw_in(pair, copy.name, screw, at, direction);
    if (!id.empty()) join(pair, "screwed", {id});
  }
}

}  // namespace

void make_bought(CustomWork& work) {
  work.make_each("equipment", make_equipment);
  work.make_each("fittings", make_fitting);
  work.make_each("screws", make_screw, "screw.");
}

std::vector<Field> bought_fields() {
  return {
      keyed_field("fittings",
                  {reference_field("item", "fitting").needed().means("what is bought"),
                   text_field("on").needed().means("the member or panel that it is fixed to"),
                   vector_field("at").needed().means("where it sits, on the surface of that part"),
                   way_field("stands_out", "the way it stands out from that part", "up"),
                   angle_field("turned").otherwise("0 deg").means(
                       "about the way it stands out, counter-clockwise seen from outside"),
                   reference_field("screw", kWoodScrew).means("screw in each of its fixing holes"),
                   copies_field()})
          .means("small bought parts: magnets, latches, legs, drains"),
      keyed_field("equipment",
                  held_item_fields("what stands there",
                                   {vector_field("at").needed().means(
                                        "its lower left front corner, as it stands"),
                                    choice_field("faces", {"front", "right", "back", "left"})
                                        .otherwise("front")
                                        .means("the way its front looks"),
                                    copies_field()}))
          .means("bought things that it holds"),
      keyed_field("screws",
                  {reference_field("screw", kWoodScrew).needed().means("the wood screw"),
                   vector_field("at").needed().means("where it goes in"),
                   way_field("points", "the way its tip points", "down"),
                   text_field("through").needed().means("the part that it holds"),
                   text_field("into").needed().means("the part that it holds in"), copies_field()})
          .means("single screws; rows of them are joints of the kind screw")};
}

}  // namespace ribbay::detail
