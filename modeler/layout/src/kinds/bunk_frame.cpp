#include "base/tolerance.hpp"
#include "bunk.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace ribbay::detail {

namespace {

/// A beam stays this much short of each bearer's upright leg, so that it drops in. Common practice,
/// no source.
constexpr double kEndAir = 1.0;

/// Radius of the fillet between an angle's legs: of the one corner that lies inside its bounding
/// box.
double root_radius(const Profile& angle) {
  for (const Corner& corner : angle.section.outer) {
    const bool inside = std::abs(corner.at.x) < angle.width / 2 - kSame &&
                        std::abs(corner.at.y) < angle.height / 2 - kSame;
    if (inside) return corner.radius;
  }
  return 0.0;
}

Region turned(Region region) {
  const auto turn = [](Loop& loop) {
    for (Corner& corner : loop) corner.at = perpendicular(corner.at);
  };
  turn(region.outer);
  for (Loop& hole : region.holes) turn(hole);
  return region;
}

/// True when the bolt has passed all of the beam below its head: the web of an I-beam that lies
/// flat, both walls of a tube.
bool nothing_above(const BunkWork& w, double seat) {
  return seat >
         crossings(w.upright(), w.bolt_offset() + kGrid / 2).back() + w.beam_height / 2 - kSame;
}

/// The hole for a beam bolt, drilled upwards from a lying face at height `under`.
Hole beam_hole(const BunkWork& w, bool left, double y, double under, double depth, bool through) {
  const Bolt& bolt = entry(w.request.catalogue.bolts, w.request.fields.text("beam_bolt"));
  return {.at = {w.bolt_x(left), y + w.bolt_offset(), under},
          .direction = {0, 0, 1},
          .diameter = bolt.clearance_hole,
          .depth = depth,
          .through = through,
          .role = BoreRole::bolt,
          .thread = {}};
}

double wall_bolt_height(const BunkWork& w) {
  return w.leg_thickness + (w.bearer.height - w.leg_thickness) * 0.6;
}

/// The ribs that a bearer passes, as places y along it with the rib's body id.
std::vector<std::pair<double, std::string>> ribs_at(const BunkWork& w, bool left) {
  std::vector<std::pair<double, std::string>> found;
  const Box box =
      w.shop.to_van(Box{{left ? 0.0 : w.request.size.x, w.front, 0},
                        {left ? 0.0 : w.request.size.x, w.request.size.y, w.bearer.height}});
  const bool van_left = box.lo.y > 0;
  for (const Rib& rib : w.request.vehicle.ribs) {
    if ((rib.side == VanSide::left) != van_left) continue;
    const double z = box.lo.z + wall_bolt_height(w);
    if (rib.x < box.lo.x + 20 || rib.x > box.hi.x - 20 || z < rib.from || z > rib.to) continue;
    found.emplace_back(w.request.from_van({rib.x, box.lo.y, z}).y, "vehicle/rib." + rib.name);
  }
  std::ranges::sort(found);
  return found;
}

std::vector<Hole> wall_holes(const BunkWork& w, bool left) {
  std::vector<Hole> holes;
  for (const double y : w.beam_y)
    holes.push_back(beam_hole(w, left, y, 0.0, w.leg_thickness, true));
  if (!w.request.fields.has("wall_bolt")) return holes;
  const Bolt& bolt = entry(w.request.catalogue.bolts, w.request.fields.text("wall_bolt"));
  std::vector<Hole> in_wall;
  for (const auto& [y, rib] : ribs_at(w, left)) {
    in_wall.push_back({.at = {left ? w.leg_thickness : w.request.size.x - w.leg_thickness, y,
                              wall_bolt_height(w)},
                       .direction = {left ? -1.0 : 1.0, 0, 0},
                       .diameter = bolt.clearance_hole,
                       .depth = w.leg_thickness,
                       .through = true,
                       .role = BoreRole::bolt,
                       .thread = {}});
  }
  holes.insert(holes.begin(), in_wall.begin(), in_wall.end());
  return holes;
}

void bolt_to_ribs(BunkWork& w, bool left) {
  if (!w.request.fields.has("wall_bolt")) return;
  const Bolt& bolt = entry(w.request.catalogue.bolts, w.request.fields.text("wall_bolt"));
  const std::string side = left ? w.request.left() : w.request.right();
  const std::string bearer = w.shop.id("bearer." + side);
  const auto ribs = ribs_at(w, left);
  const std::string wall =
      w.shop.to_van(Vec3{left ? 0.0 : w.request.size.x, 0, 0}).y > 0 ? "left" : "right";
  std::vector<std::string> hardware;
  for (std::size_t i = 0; i < ribs.size(); ++i) {
    hardware.push_back(
        w.shop.add(Fastener{.name = "bearer." + side + ".wall_bolt_" + std::to_string(i + 1),
                            .bolt = &bolt,
                            .at = {left ? w.leg_thickness : w.request.size.x - w.leg_thickness,
                                   ribs[i].first, wall_bolt_height(w)},
                            .direction = {left ? -1.0 : 1.0, 0, 0},
                            .hosts = {bearer, ribs[i].second, "vehicle/wall." + wall}}));
    w.shop.join("joint.bearer." + side + "." + std::to_string(i + 1), "bolted to a rib",
                {bearer, ribs[i].second}, {hardware.back()});
  }
  if (ribs.size() >= 2) return;
  Finding finding;
  finding.code = "bunk.few_ribs";
  finding.severity = Severity::warning;
  finding.subjects = {bearer};
  finding.with("measured", static_cast<double>(ribs.size()), Unit::count)
      .with("required", 2, Unit::count);
  w.shop.find(std::move(finding));
}

}  // namespace

std::vector<double> crossings(const Region& region, double x) {
  std::vector<double> ys;
  const auto cut = [&](Vec2 a, Vec2 b) {
    if ((a.x <= x) == (b.x <= x)) return;
    ys.push_back(a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x));
  };
  const auto walk = [&](const Loop& loop) {
    for (const Side& side : sides(loop)) {
      if (!side.arc) {
        cut(side.a, side.b);
        continue;
      }
      constexpr int chords = 16;
      const double start = std::atan2(side.a.y - side.centre.y, side.a.x - side.centre.x);
      double sweep = std::atan2(side.b.y - side.centre.y, side.b.x - side.centre.x) - start;
      if (side.counter_clockwise && sweep < 0) sweep += 2 * std::numbers::pi;
      if (!side.counter_clockwise && sweep > 0) sweep -= 2 * std::numbers::pi;
      Vec2 last = side.a;
      for (int i = 1; i <= chords; ++i) {
        const double angle = start + sweep * i / chords;
        const Vec2 next = i == chords
                              ? side.b
                              : side.centre + Vec2{std::cos(angle), std::sin(angle)} * side.radius;
        cut(last, next);
        last = next;
      }
    }
  };
  walk(region.outer);
  for (const Loop& hole : region.holes) walk(hole);
  std::ranges::sort(ys);
  return ys;
}

double lying_leg(const Profile& angle) {
  return crossings(angle.section, angle.width / 4).at(1) + angle.height / 2;
}

Region BunkWork::upright() const {
  return flat ? turned(beam.section) : beam.section;
}

void add_bearers(BunkWork& w) {
  const double half_width = w.bearer.width / 2;
  const double half_height = w.bearer.height / 2;
  const double long_y = w.request.size.y - w.front;
  // The heel of the angle lies low at the wall; the legs run up the wall and out under the beams.
  w.shop.add(Bar{.name = "bearer." + w.request.left(),
                 .title = "Bearer",
                 .profile = &w.bearer,
                 .from = {half_width, w.request.size.y, half_height},
                 .direction = {0, -1, 0},
                 .across = {1, 0, 0},
                 .length = long_y,
                 .holes = wall_holes(w, true)});
  w.shop.add(Bar{.name = "bearer." + w.request.right(),
                 .title = "Bearer",
                 .profile = &w.bearer,
                 .from = {w.request.size.x - half_width, w.front, half_height},
                 .direction = {0, 1, 0},
                 .across = {-1, 0, 0},
                 .length = long_y,
                 .holes = wall_holes(w, false)});
  for (const bool left : {true, false}) bolt_to_ribs(w, left);
}

double head_seat(const BunkWork& w) {
  const std::vector<double> ys = crossings(w.upright(), w.bolt_offset() + kGrid / 2);
  const double top = w.beam.family == ProfileFamily::i_beam || w.beam.family == ProfileFamily::angle
                         ? ys.at(1)
                         : ys.back();
  return top + w.beam_height / 2;
}

void add_beams(BunkWork& w) {
  const Bolt& bolt = entry(w.request.catalogue.bolts, w.request.fields.text("beam_bolt"));
  const double from = w.leg_thickness + std::max(kEndAir, root_radius(w.bearer));
  const double seat = head_seat(w);
  if (bolt.length < seat + w.leg_thickness) {
    Finding finding;
    finding.code = "layout.bolt_too_short";
    finding.severity = Severity::warning;
    finding.subjects = {w.request.name};
    finding.with("stock", bolt.key)
        .with("measured", bolt.length, Unit::mm)
        .with("shortest", seat + w.leg_thickness + bolt.diameter, Unit::mm)
        .with("longest", seat + w.leg_thickness + 3 * bolt.diameter, Unit::mm);
    w.shop.find(std::move(finding));
  }
  for (std::size_t i = 0; i < w.beam_y.size(); ++i) {
    Bar bar{.name = w.beam_name(i),
            .title = "Beam",
            .profile = &w.beam,
            .from = {from, w.beam_y[i], w.beams_bottom + w.beam_height / 2},
            .direction = {1, 0, 0},
            .across = w.flat ? Vec3{0, 0, 1} : Vec3{0, 1, 0},
            .length = w.request.size.x - 2 * from,
            .holes = {}};
    for (const bool left : {true, false}) {
      bar.holes.push_back(
          beam_hole(w, left, w.beam_y[i], w.beams_bottom, seat, nothing_above(w, seat)));
    }
    const std::string id = w.shop.id(bar.name);
    w.beams.push_back(std::move(bar));
    for (const bool left : {true, false}) {
      const std::string side = left ? w.request.left() : w.request.right();
      const std::string bearer = w.shop.id("bearer." + side);
      const std::string bolt_id = w.shop.add(
          Fastener{.name = BunkWork::bolt_name(w.request, i, left),
                   .bolt = &bolt,
                   .at = {w.bolt_x(left), w.beam_y[i] + w.bolt_offset(), w.beams_bottom + seat},
                   .direction = {0, 0, -1},
                   .hosts = {id, bearer}});
      w.shop.join("joint." + w.beam_name(i) + "." + side, "bolted", {id, bearer}, {bolt_id});
    }
  }
}

}  // namespace ribbay::detail
