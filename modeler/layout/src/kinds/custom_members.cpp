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

/// A member as its entry tells it.
struct Run {
  Vec3 from;
  Vec3 direction;
  double length = 0.0;
};

/// Where a member runs: from and to, or from, along and length. Reports what does not tell that.
std::optional<Run> run_of(CustomWork& work, const std::string& name, const Record& fields) {
  const Vec3 from = fields.vec3("from");
  const bool ends = fields.has("to");
  const bool along = fields.has("along");
  const bool length_given = fields.has("length");
  if (ends == along || along != length_given) {
    work.shop.find(work.fault("custom.member_ends", fields.place(), name));
    return std::nullopt;
  }
  if (along) return Run{from, way(fields.text("along")), fields.number("length")};
  const Vec3 way_there = fields.vec3("to") - from;
  if (length(way_there) < kContact) {
    work.shop.find(work.fault("custom.no_length", fields.place("to"), name));
    return std::nullopt;
  }
  return Run{from, normalized(way_there), length(way_there)};
}

/// Where a section's width points when nothing says so: to the right, else to the back, else up,
/// whichever is squarest to the member.
Vec3 usual_across(Vec3 direction) {
  Vec3 best{1, 0, 0};
  for (const Vec3 axis : {Vec3{0, 1, 0}, Vec3{0, 0, 1}}) {
    if (std::abs(dot(axis, direction)) < std::abs(dot(best, direction)) - kSame) best = axis;
  }
  return best;
}

/// The unit direction of the section's width, turned by `angle` about the member.
std::optional<Vec3> across_of(CustomWork& work, const std::string& name, const Record& fields,
                              Vec3 direction) {
  const Vec3 asked = fields.has("across") ? way(fields.text("across")) : usual_across(direction);
  const Vec3 level = asked - direction * dot(asked, direction);
  if (length(level) < kContact) {
    work.shop.find(work.fault("custom.across_along", fields.place("across"), name));
    return std::nullopt;
  }
  const Vec3 x = normalized(level);
  const Vec3 y = cross(direction, x);
  const double angle = fields.number("turned");
  return x * std::cos(angle) + y * std::sin(angle);
}

/// The face of a member that looks to `side`, as a unit axis across it; nullopt when none does.
std::optional<Vec3> face_of(const Bar& bar, Vec3 side) {
  const Vec3 y = cross(bar.direction, bar.across);
  for (const Vec3 face : {bar.across, -bar.across, y, -y}) {
    if (dot(face, side) > std::numbers::sqrt2 / 2 + kSame) return face;
  }
  return std::nullopt;
}

void drill(CustomWork& work, Workpiece& piece, const Record& hole) {
  Bar& bar = *piece.bar();
  const auto face = face_of(bar, way(hole.text("side")));
  if (!face) {
    work.shop.find(work.fault("custom.hole_side", hole.place("side"), bar.name)
                       .with("found", hole.text("side")));
    return;
  }
  const double thickness = size_along(piece, *face);
  const Vec3 beside = forward(cross(bar.direction, *face));
  const double half = size_along(piece, beside) / 2;
  const double radius = hole.number("diameter") / 2;
  const double at = hole.number("at");
  const double off = hole.number("off_middle");
  const bool past_end = at < radius - kContact || at > bar.length - radius + kContact;
  if (past_end || std::abs(off) > half - radius + kContact) {
    work.shop.find(work.fault("custom.hole_outside", hole.place("at"), bar.name));
    return;
  }
  const double depth = hole.number_if("depth").value_or(thickness);
  if (is_too_deep(work, hole, bar.name, depth, thickness)) return;
  bar.holes.push_back({.at = bar.from + bar.direction * at + *face * (thickness / 2) + beside * off,
                       .direction = -*face,
                       .diameter = 2 * radius,
                       .depth = depth,
                       .through = depth >= thickness - kContact,
                       .role = hole_use(hole),
                       .thread = {}});
}

void tap_ends(CustomWork& work, Bar& bar, const Record& fields) {
  if (!fields.has("taps")) return;
  if (bar.profile->core_bores.empty()) {
    work.shop.find(work.fault("custom.no_core_bore", fields.place("taps"), bar.name)
                       .with("found", bar.profile->key));
    return;
  }
  const std::string& which = fields.text("taps");
  const double deep = fields.number("tap_depth");
  const double room = which == "both ends" ? bar.length / 2 : bar.length;
  if (deep > room + kSame) {
    work.shop.find(work.fault("custom.tap_too_deep", fields.place("tap_depth"), bar.name)
                       .with("measured", deep, Unit::mm)
                       .with("required", room, Unit::mm));
    return;
  }
  for (const auto& [word, out] : {std::pair{"start", -bar.direction}, {"end", bar.direction}}) {
    if (which != word && which != "both ends") continue;
    for (const Vec3 core : core_bores(bar, out)) {
      bar.holes.push_back(end_tap(bar, core, -out, deep));
    }
  }
}

void make_member(CustomWork& work, const std::string& name, const Record& fields) {
  const auto run = run_of(work, name, fields);
  if (!run) return;
  const auto across = across_of(work, name, fields, run->direction);
  if (!across) return;
  for (const Copy& copy : work.copies(name, fields)) {
    Workpiece piece{Bar{.name = copy.name,
                        .title = part_title(fields, name),
                        .profile = &entry(work.request.catalogue.profiles, fields.text("profile")),
                        .from = run->from + copy.shift,
                        .direction = run->direction,
                        .across = *across,
                        .length = run->length,
                        .holes = {}}};
    for (const auto& [hole_name, hole] : fields.tables("holes")) drill(work, piece, hole);
    tap_ends(work, *piece.bar(), fields);
    work.pieces.emplace(copy.name, std::move(piece));
  }
}

}  // namespace

void make_members(CustomWork& work) {
  work.make_each("members", make_member);
}

Field members_field() {
  return keyed_field(
             "members",
             {reference_field("profile", "profile").needed().means("what it is cut from"),
              vector_field("from").needed().means("the middle of its section at its start"),
              vector_field("to").means("the middle of its section at its end"),
              way_field("along", "the way it runs, with length; instead of to"),
              length_field("length").above(0).means("its length, with along"),
              way_field("across",
                        "where the width of its section points; by default to the right, of what "
                        "runs to the right to the back"),
              angle_field("turned").otherwise("0 deg").means(
                  "turned about its own length, clockwise seen from its start"),
              choice_field("taps", {"start", "end", "both ends"})
                  .means("ends whose core bores get a thread; end bolts tap by themselves"),
              length_field("tap_depth").otherwise("25 mm").above(0).means("how deep"),
              keyed_field(
                  "holes",
                  {length_field("at").needed().at_least(0).means("from its start"),
                   way_field("side", "the way the face looks that it is drilled from", "up"),
                   length_field("off_middle")
                       .otherwise("0 mm")
                       .means("to the right, to the back or up from the middle of that face"),
                   length_field("diameter").needed().above(0).means("of the hole"),
                   length_field("depth").above(0).means("by default right through"),
                   hole_use_field()})
                  .means("holes across it"),
              part_title_field(), copies_field()})
      .means("lengths of profile");
}

}  // namespace ribbay::detail
