#include "hatch_parts.hpp"

#include "base/tolerance.hpp"
#include "carcass.hpp"
#include "spec/fields.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

namespace ribbay::detail {

namespace {

/// Screws of a ring or a lid stand at most this far apart (common practice, no source).
constexpr double kPitch = 150.0;
/// What must stay of the ring under a lid that lies flush in it (common practice, no source).
constexpr double kLeastLedge = 3.0;
/// What of a lid must lie on its ring all round (common practice, no source).
constexpr double kLeastRest = 3.0;
/// Wood beside a screw's head, on each side (common practice, no source).
constexpr double kBesideHead = 2.0;
/// Latches stand this far in from the lid's edge, measured to their middle.
constexpr double kLatchInset = 25.0;
/// What of a latch must lie behind the edge that it catches (common practice, no source).
constexpr double kLeastCatch = 3.0;
/// A rib this far behind a hatch is out of the way of a hand, mm (a choice).
constexpr double kReach = 150.0;

const Bolt* screw_of(const Record& fields, const Catalogue& catalogue, const char* field) {
  return fields.has(field) ? &entry(catalogue.bolts, fields.text(field)) : nullptr;
}

Frame raised(Frame frame, double z) {
  frame.origin = frame.point({0, 0, z});
  return frame;
}

}  // namespace

Loop HatchForm::outline(double beyond) const {
  const Vec2 full = size(beyond);
  if (round) return circle({0, 0}, full.x);
  const Vec2 half = full * 0.5;
  return rectangle(half * -1.0, half, radius + beyond);
}

std::vector<Vec2> HatchForm::along(double beyond, double pitch) const {
  std::vector<Vec2> places;
  const Vec2 half = size(beyond) * 0.5;
  if (round) {
    const double turn = 2 * std::numbers::pi;
    const int count = std::max(4, static_cast<int>(std::ceil(turn * half.x / pitch)));
    for (int i = 0; i < count; ++i) {
      const double angle = turn * (i + 0.5) / count;
      places.push_back({half.x * std::sin(angle), half.x * std::cos(angle)});
    }
    return places;
  }
  // Below and above to the ends of the straight sides, at the sides only between.
  const double corner = radius + beyond;
  for (const double x : spread(corner - half.x, half.x - corner, pitch)) {
    for (const double y : {-half.y, half.y}) places.push_back({x, y});
  }
  const std::vector<double> up = spread(corner - half.y, half.y - corner, pitch);
  for (std::size_t i = 1; i + 1 < up.size(); ++i) {
    for (const double x : {-half.x, half.x}) places.push_back({x, up[i]});
  }
  return places;
}

double HatchForm::depth() const {
  return rebated ? ring->thickness : ring->thickness + lid->thickness;
}

std::vector<Field> hatch_fields() {
  return {
      choice_field("shape", {"rectangular", "round"}).otherwise("rectangular").means("of it"),
      length_field("radius").otherwise("20 mm").at_least(0).means(
          "of the corners of the clear opening of a rectangular one"),
      reference_field("ring_sheet", kBoard).needed().means("what its ring is cut from"),
      reference_field("lid_sheet", kBoard).needed().means("what its lid is cut from"),
      choice_field("lid", {"rebated", "overlapping"})
          .otherwise("rebated")
          .means("rebated: it lies flush in the ring; overlapping: it lies on it"),
      length_field("flange").otherwise("36 mm").above(0).means("width of the ring"),
      length_field("ledge").otherwise("14 mm").above(0).means(
          "how far the lid lies on the ring beyond the clear opening"),
      length_field("play").otherwise("1 mm").above(0).means(
          "left free around a lid that lies in a rebate"),
      length_field("hole_gap")
          .otherwise("2 mm")
          .at_least(0)
          .means("by which the opening in what carries it is larger all round than the clear one"),
      reference_field("ring_screw", kWoodScrew).needed().means("screw from the ring into its host"),
      reference_field("lid_screw", kWoodScrew).means("screw from the lid into the ring"),
      reference_field("latch", kLatch)
          .means("what holds the lid: it sits in the lid and catches behind the ring and what "
                 "carries it, "
                 "and is turned to open"),
      count_field("latches").otherwise("2").at_least(1).at_most(4).means(
          "number of latches: in the middle of the right and left edges, then above and below"),
      length_field("finger_hole").above(0).means("diameter of a hole to lift the lid by"),
      length_field("lift_off")
          .otherwise("60 mm")
          .above(0)
          .means("how far the lid must come off before it can be taken away"),
  };
}

HatchForm read_hatch(const Record& fields, const Catalogue& catalogue, Vec2 opening, bool in_host) {
  HatchForm form{.round = fields.text("shape") == "round",
                 .rebated = fields.text("lid") == "rebated",
                 .clear = opening,
                 .radius = fields.number("radius"),
                 .flange = fields.number("flange"),
                 .ledge = fields.number("ledge"),
                 .play = fields.number("play"),
                 .hole_gap = fields.number("hole_gap"),
                 .ring = &entry(catalogue.sheets, fields.text("ring_sheet")),
                 .lid = &entry(catalogue.sheets, fields.text("lid_sheet"))};
  if (in_host) form.clear = form.size(-form.hole_gap);
  return form;
}

bool HatchMaker::can_be_made(const HatchForm& form, const Record& fields) {
  bool good = true;
  const auto fault = [&](const char* code, const char* field, double measured, double required) {
    Finding finding = input_error(code, fields.place(field));
    finding.subjects = {r_.name};
    finding.with("measured", measured, Unit::mm).with("required", required, Unit::mm);
    shop_.find(std::move(finding));
    good = false;
  };
  if (form.round && std::abs(form.clear.x - form.clear.y) > kSame)
    fault("hatch.not_round", "shape", form.clear.x, form.clear.y);
  const double largest = std::min(form.clear.x, form.clear.y) / 2 - kSame;
  if (!form.round && form.radius > largest) fault("hatch.radius", "radius", form.radius, largest);
  if (form.rebated && form.ring->thickness - form.lid->thickness < kLeastLedge - kSame) {
    fault("hatch.lid_too_thick", "lid_sheet", form.lid->thickness,
          form.ring->thickness - kLeastLedge);
  }
  if (form.rebated && form.play > form.ledge - kLeastRest + kSame)
    fault("hatch.play", "play", form.play, form.ledge - kLeastRest);
  const double finger = fields.number_if("finger_hole").value_or(0.0);
  const double narrow = std::min(form.clear.x, form.clear.y);
  if (finger > narrow + kSame) fault("hatch.finger_hole", "finger_hole", finger, narrow);
  const double head = entry(r_.catalogue.bolts, fields.text("ring_screw")).head_diameter;
  const double least = form.ledge + head + 2 * kBesideHead;
  if (form.flange < least - kSame) fault("hatch.narrow_flange", "flange", form.flange, least);
  if (const Bolt* screw = screw_of(fields, r_.catalogue, "lid_screw")) {
    const double ledge = screw->head_diameter + 2 * kBesideHead;
    if (form.ledge < ledge - kSame) fault("hatch.narrow_ledge", "ledge", form.ledge, ledge);
  }
  return good;
}

/// Each board lies on what covers the one beneath it.
std::vector<Vec2> HatchMaker::make(const HatchForm& form, const Record& fields,
                                   const HatchPlace& place) {
  std::vector<Vec2> screwed;
  HatchPlace on_host = place;
  on_host.frame = raised(place.frame, covering(place, "ring", BoardSide::back));
  add_ring(form, fields, on_host, screwed);
  HatchPlace on_ring = on_host;
  on_ring.frame = raised(on_host.frame, covering(place, "ring", BoardSide::face) +
                                            covering(place, "lid", BoardSide::back));
  add_lid(form, fields, on_ring);
  return screwed;
}

double HatchMaker::covering(const HatchPlace& place, const char* part, BoardSide side) const {
  return covering_on(r_.fields, r_.catalogue, place.prefix + part, side);
}

/// A screw through `through` of wood must hold over half as much again as its thread, and may reach
/// no further than `most`.
void HatchMaker::check_screw(const Record& fields, const char* field, const HatchPlace& place,
                             double through, double least, double most) {
  const Bolt& screw = entry(r_.catalogue.bolts, fields.text(field));
  if (screw.length >= through + least - kSame && screw.length <= most + kSame) return;
  Finding finding = input_error("hatch.screw_length", fields.place(field));
  finding.subjects = {shop_.id(place.prefix + "ring")};
  finding.source = "common practice, no source";
  finding.with("stock", screw.key)
      .with("measured", screw.length, Unit::mm)
      .with("shortest", through + least, Unit::mm);
  if (most < kReach) finding.with("longest", most, Unit::mm);
  shop_.find(std::move(finding));
}

/// Some of it must lie behind the ring and what carries it, beyond the edge of the opening.
void HatchMaker::check_latch(const HatchForm& form, const Record& fields, const HatchPlace& place,
                             const Fitting& latch) {
  const double deep = form.depth() + place.behind;
  const double edge = kLatchInset - form.lid_beyond() + (place.behind > 0.0 ? form.hole_gap : 0.0);
  std::vector<Box> bodies;
  for (const EquipmentBox& box : latch.boxes) bodies.push_back(bounds(body_shape({box}, {})));
  for (const BodyRound& round : latch.rounds) bodies.push_back(bounds(body_shape({}, {round})));
  const auto catches = [&](const Box& body) {
    return body.hi.z <= kSame - deep && body.hi.y >= edge + kLeastCatch - kSame;
  };
  if (std::ranges::any_of(bodies, catches)) return;
  Finding finding = input_error("hatch.latch_reach", fields.place("latch"));
  finding.severity = Severity::warning;
  finding.subjects = {shop_.id(place.prefix + "lid")};
  finding.source = "common practice, no source";
  finding.with("stock", latch.key)
      .with("depth", deep, Unit::mm)
      .with("reach", edge + kLeastCatch, Unit::mm);
  shop_.find(std::move(finding));
}

void HatchMaker::add_ring(const HatchForm& form, const Record& fields, const HatchPlace& place,
                          std::vector<Vec2>& screwed) {
  const Bolt& screw = entry(r_.catalogue.bolts, fields.text("ring_screw"));
  const double t = form.ring->thickness;
  const std::string name = place.prefix + "ring";
  ShapedBoard ring{.name = name,
                   .title = "Hatch ring",
                   .sheet = form.ring,
                   .frame = place.frame,
                   .outline = {form.outline(form.flange), {reversed(form.outline(0))}},
                   .cuts = {},
                   .holes = {}};
  if (form.rebated)
    ring.cuts.push_back({form.outline(form.ledge), t - form.lid->thickness, t, CutRole::rebate});
  std::vector<std::string> hosts{shop_.id(name)};
  hosts.insert(hosts.end(), place.hosts.begin(), place.hosts.end());
  std::vector<std::string> hardware;
  screwed = form.along((form.ledge + form.flange) / 2, kPitch);
  for (const Vec2 at : screwed) {
    const Vec3 head = place.frame.point({at.x, at.y, t});
    ring.holes.push_back(clearance_hole(screw, head, -place.frame.z, t));
    hardware.push_back(
        shop_.add(Fastener{.name = name + ".screw_" + std::to_string(hardware.size() + 1),
                           .bolt = &screw,
                           .at = head,
                           .direction = -place.frame.z,
                           .hosts = hosts}));
  }
  if (const Bolt* lid_screw = screw_of(fields, r_.catalogue, "lid_screw")) {
    const double under = form.rebated ? t - form.lid->thickness : t;
    check_screw(fields, "lid_screw", place, form.lid->thickness, 0.0, form.lid->thickness + under);
    for (const Vec2 at : form.along(form.ledge / 2, kPitch)) {
      Hole pilot = pilot_hole(*lid_screw, place.frame.point({at.x, at.y, form.depth()}),
                              -place.frame.z, form.lid->thickness);
      pilot.depth = std::min(pilot.depth, under);
      ring.holes.push_back(std::move(pilot));
    }
  }
  check_screw(fields, "ring_screw", place, t, 1.5 * screw.diameter,
              std::numeric_limits<double>::infinity());
  shop_.add(ring);
  shop_.join("joint." + name, "screwed", std::move(hosts), std::move(hardware));
}

void HatchMaker::add_lid(const HatchForm& form, const Record& fields, const HatchPlace& place) {
  const std::string name = place.prefix + "lid";
  const double beyond = form.lid_beyond();
  const double t = form.lid->thickness;
  const Frame face = raised(place.frame, form.depth());
  const double covered = covering(place, "lid", BoardSide::face);
  ShapedBoard lid{.name = name,
                  .title = "Hatch lid",
                  .sheet = form.lid,
                  .frame = raised(place.frame, form.depth() - t),
                  .outline = {form.outline(beyond), {}},
                  .cuts = {},
                  .holes = {}};
  if (fields.has("finger_hole")) {
    lid.cuts.push_back({circle({0, 0}, fields.number("finger_hole")), 0, t, CutRole::cut_out});
  }
  std::vector<std::string> hardware;
  if (const Bolt* screw = screw_of(fields, r_.catalogue, "lid_screw")) {
    for (const Vec2 at : form.along(form.ledge / 2, kPitch)) {
      const Vec3 head = face.point({at.x, at.y, 0});
      lid.holes.push_back(clearance_hole(*screw, head, -face.z, t));
      hardware.push_back(
          shop_.add(Fastener{.name = name + ".screw_" + std::to_string(hardware.size() + 1),
                             .bolt = screw,
                             .at = head + face.z * covered,
                             .direction = -face.z,
                             .hosts = {name, place.prefix + "ring"}}));
    }
  }
  std::vector<std::string> moving{shop_.id(name)};
  if (fields.has("latch")) {
    const Fitting& latch = bought(r_, r_.catalogue.fittings, fields.text("latch"));
    const Vec2 half = form.size(beyond) * 0.5 - Vec2{kLatchInset, kLatchInset};
    const std::array<Vec2, 4> places{{{half.x, 0}, {-half.x, 0}, {0, half.y}, {0, -half.y}}};
    const auto count = static_cast<std::size_t>(fields.number("latches"));
    for (std::size_t i = 0; i < count; ++i) {
      const Vec2 at = places[i];
      if (latch.cut_out > 0.0)
        lid.cuts.push_back({circle(at, latch.cut_out), 0, t, CutRole::cut_out});
      // Its y points to the edge of the lid that it locks.
      const Vec2 out = normalized(at);
      const Frame frame{face.point({at.x, at.y, 0}), face.direction({out.y, -out.x, 0}),
                        face.direction({out.x, out.y, 0}), face.z};
      for (const FixingHole& hole : latch.holes) {
        lid.holes.push_back({.at = frame.point(hole.at),
                             .direction = frame.direction(hole.direction),
                             .diameter = hole.diameter,
                             .depth = t,
                             .through = true,
                             .role = BoreRole::screw,
                             .thread = {}});
      }
      // Turned to open, it is in nobody's way.
      std::vector<std::string> hosts{name, place.prefix + "ring"};
      hosts.insert(hosts.end(), place.hosts.begin(), place.hosts.end());
      hardware.push_back(shop_.add_fitting(name + ".latch_" + std::to_string(i + 1), latch,
                                           raised(frame, covered), std::move(hosts)));
      moving.push_back(hardware.back());
    }
    check_latch(form, fields, place, latch);
  }
  const auto fasteners = static_cast<int>(hardware.size());
  if (hardware.empty()) {
    Finding finding = input_error("hatch.lid_not_held", fields.place("lid"));
    finding.severity = Severity::warning;
    finding.subjects = {shop_.id(name)};
    shop_.find(std::move(finding));
  }
  shop_.add(lid);
  const char* const kind = hardware.empty() ? "laid in" : "held in";
  shop_.join("joint." + name, kind, {shop_.id(name), shop_.id(place.prefix + "ring")},
             std::move(hardware));
  const Vec3 off = r_.direction_to_van(place.frame.z);
  shop_.made().motions.push_back({.id = shop_.id(name + ".off"),
                                  .title = "Hatch lid",
                                  .kind = MotionKind::translation,
                                  .parts = std::move(moving),
                                  .axis = off,
                                  .origin = {},
                                  .travel = fields.number("lift_off"),
                                  .required = fields.number("lift_off"),
                                  .gives_way = {}});
  shop_.made().removals.push_back(
      {.id = shop_.id(name), .direction = off, .travel = t, .fasteners = fasteners});
}

void HatchMaker::check_ribs(const HatchForm& form, const Record& fields, const HatchPlace& place,
                            VanSide side) {
  const auto around = [&](double beyond) {
    const Vec2 half = form.size(beyond) * 0.5;
    Box box;
    for (const double x : {-half.x, half.x}) {
      for (const double y : {-half.y, half.y}) box.add(r_.to_van(place.frame.point({x, y, 0})));
    }
    return box;
  };
  const Box clear = around(0.0);
  const Box ring = around(form.flange);
  const double host = side == VanSide::left ? ring.hi.y : ring.lo.y;
  for (const Rib& rib : r_.vehicle.ribs) {
    if (rib.side != side) continue;
    const auto crosses = [&](const Box& box) {
      return rib.x + rib.width / 2 > box.lo.x && rib.x - rib.width / 2 < box.hi.x &&
             rib.to > box.lo.z && rib.from < box.hi.z;
    };
    if (!crosses(ring)) continue;
    const auto width = clear_width(r_.vehicle, rib.x, rib.x, std::max(rib.from, ring.lo.z),
                                   std::min(rib.to, ring.hi.z));
    if (!width) continue;
    const double behind = side == VanSide::left ? width->left - host : host - width->right;
    if (behind > kReach) continue;
    const bool in_opening = crosses(clear);
    Finding finding =
        input_error(in_opening ? "hatch.rib_in_opening" : "hatch.rib_behind_ring", fields.place());
    if (!in_opening) finding.severity = Severity::warning;
    finding.subjects = {shop_.id(place.prefix + "ring")};
    const Box& box = in_opening ? clear : ring;
    finding.with("rib", rib.name)
        .with("rear", rib.x - rib.width / 2, Unit::mm)
        .with("front", rib.x + rib.width / 2, Unit::mm)
        .with("from", box.lo.x, Unit::mm)
        .with("to", box.hi.x, Unit::mm)
        .with("measured", behind, Unit::mm);
    shop_.find(std::move(finding));
  }
}

}  // namespace ribbay::detail
