#include "base/tolerance.hpp"
#include "joinery.hpp"
#include "joints.hpp"
#include "screw_bores.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

/// What a blind hole leaves of a part (common practice, no source).
constexpr double kBehindHole = 3.0;
/// Room for glue at each end of a dowel (common practice, no source).
constexpr double kGlueRoom = 1.0;
/// A dowel should be no thicker than this share of a panel whose edge it goes into (common
/// practice, no source).
constexpr double kDowelShare = 0.5;

/// Reports a hole that leaves too little of the part it is drilled in.
bool holes_fit(const Pair& pair, const Patch& patch, const std::vector<double>& depths) {
  bool fit = true;
  for (const auto& [piece, depth] : {std::pair{&pair.a, depths[0]}, {&pair.b, depths[1]}}) {
    const double room = size_along(*piece, patch.out) - kBehindHole;
    if (depth <= room + kSame) continue;
    fit = false;
    pair.shop.find(fault(pair, "joint.hole_too_deep")
                       .with("part", pair.shop.id(piece->name()))
                       .with("measured", depth, Unit::mm)
                       .with("required", room, Unit::mm));
  }
  return fit;
}

/// Reports a dowel that is longer than its holes; warns of one that is thick for an edge.
bool dowel_fits(const Pair& pair, const Dowel& dowel, const Patch& patch,
                const std::vector<double>& depths) {
  const double sum = depths[0] + depths[1];
  if (dowel.length > sum + kSame) {
    pair.shop.find(fault(pair, "joint.dowel_too_long")
                       .with("dowel", dowel.key)
                       .with("measured", dowel.length, Unit::mm)
                       .with("required", sum, Unit::mm));
    return false;
  }
  const double thickest = kDowelShare * std::min(patch.length_u, patch.length_v);
  if (dowel.diameter > thickest + kSame) {
    Finding finding = fault(pair, "joint.dowel_too_thick");
    finding.severity = Severity::warning;
    finding.source = "common practice, no source";
    pair.shop.find(std::move(finding)
                       .with("dowel", dowel.key)
                       .with("measured", dowel.diameter, Unit::mm)
                       .with("required", thickest, Unit::mm));
  }
  return holes_fit(pair, patch, depths);
}

Hole dowel_hole(const Dowel& dowel, Vec3 at, Vec3 direction, double depth) {
  return {.at = at,
          .direction = direction,
          .diameter = dowel.diameter,
          .depth = depth,
          .through = false,
          .role = BoreRole::dowel,
          .thread = {}};
}

}  // namespace

void dowels(const Pair& pair, const Dowel& dowel, const Row& row,
            const std::vector<double>& depths) {
  const auto patch = meeting(pair);
  if (!patch) return;
  const double half = dowel.length / 2 + kGlueRoom;
  const std::vector<double> deep = depths.empty() ? std::vector{half, half} : depths;
  if (!dowel_fits(pair, dowel, *patch, deep)) return;
  const std::vector<Vec3> at = places(pair, *patch, patch->along(), row, dowel.diameter);
  if (at.empty()) return;
  const double density = entry(pair.request.catalogue.materials, dowel.material).density;
  // It lies in the middle of what both holes have to spare.
  const double spare = (deep[0] + deep[1] - dowel.length) / 2;
  std::vector<std::string> hardware;
  for (std::size_t i = 0; i < at.size(); ++i) {
    pair.a.holes().push_back(dowel_hole(dowel, at[i], -patch->out, deep[0]));
    pair.b.holes().push_back(dowel_hole(dowel, at[i], patch->out, deep[1]));
    Shape shape{{cylinder(dowel.diameter, dowel.length)}};
    const double mass = volume(shape) * density;
    hardware.push_back(pair.shop.add_hardware(
        numbered("dowel", pair, i, at.size()), dowel.title, dowel.key, dowel.material,
        std::move(shape), frame_zx(at[i] - patch->out * (deep[0] - spare), patch->out, patch->u),
        mass, {pair.a.name(), pair.b.name()}));
  }
  join(pair, "dowels", std::move(hardware));
}

void screws(const Pair& pair, const Bolt& screw, const Row& row) {
  const auto patch = meeting(pair);
  if (!patch) return;
  const double thickness = size_along(pair.a, patch->out);
  const std::vector<Vec3> at = places(pair, *patch, patch->along(), row, screw.clearance_hole / 2);
  std::vector<std::string> hardware;
  for (std::size_t i = 0; i < at.size(); ++i) {
    hardware.push_back(screw_in(pair, numbered("screw", pair, i, at.size()), screw,
                                at[i] - patch->out * thickness, patch->out));
  }
  if (!at.empty()) join(pair, "screwed", std::move(hardware));
}

namespace {

/// Reports a screw whose tip comes too near the far side of what it holds in, or that holds over
/// too little of it.
void judge(const Pair& pair, const Bolt& screw, double tip, double near, double far) {
  const auto misfit = [&](const char* code, double measured, double required) {
    Finding finding = fault(pair, code);
    finding.source = "common practice, no source";
    return std::move(finding)
        .with("screw", screw.key)
        .with("length", screw.length, Unit::mm)
        .with("measured", measured, Unit::mm)
        .with("required", required, Unit::mm);
  };
  if (tip > far - kScrewSkin + kSame) {
    const double longest = screw.length - (tip - far) - kScrewSkin;
    pair.shop.find(misfit("joint.screw_too_long", screw.length, longest));
  }
  const double held = tip - near;
  const double wanted = kScrewHold * screw.diameter;
  if (held < wanted - kSame) {
    Finding finding = misfit("joint.screw_too_short", std::max(held, 0.0), wanted);
    if (held > 0.0) finding.severity = Severity::warning;
    pair.shop.find(std::move(finding));
  }
}

}  // namespace

std::string screw_in(const Pair& pair, const std::string& name, const Bolt& screw, Vec3 at,
                     Vec3 direction) {
  const auto through = crossing(pair.a, at, direction);
  const auto into = crossing(pair.b, at, direction);
  if (!through || !into) {
    const Workpiece& missed = through ? pair.b : pair.a;
    pair.shop.find(fault(pair, "joint.screw_misses").with("part", pair.shop.id(missed.name())));
    return {};
  }
  // In a panel every head ends flush; on a member only a countersunk one does.
  const double sunk = pair.a.board() || screw.countersunk ? screw.head_height : 0.0;
  Bolt body = screw;
  if (screw.countersunk) {  // its length is over all
    body.length -= screw.head_height;
    body.countersunk = false;
  }
  const double tip = sunk + body.length;
  judge(pair, screw, tip, into->first, into->second);
  if (sunk > 0.0) pair.a.holes().push_back(head_recess(screw, at, direction));
  pair.a.holes().push_back(clearance_hole(screw, at, direction, through->second));
  pair.b.holes().push_back(
      {.at = at + direction * into->first,
       .direction = direction,
       .diameter = pilot_diameter(screw),
       .depth = std::clamp(tip - into->first, kCut, into->second - into->first),
       .through = false,
       .role = BoreRole::pilot,
       .thread = {}});
  return pair.shop.add(Fastener{.name = name,
                                .bolt = &body,
                                .at = at + direction * sunk,
                                .direction = direction,
                                .hosts = {pair.a.name(), pair.b.name()}});
}

}  // namespace ribbay::detail
