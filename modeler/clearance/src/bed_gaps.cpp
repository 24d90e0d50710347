#include "base/tolerance.hpp"
#include "checks.hpp"
#include "findings.hpp"
#include "shape/crossing.hpp"

#include <algorithm>
#include <optional>

namespace ribbay::detail {

namespace {

/// Beds whose surface is lower than this are out of the standard's scope. Source: EN 747-1:2015, 1,
/// upper side of the bed base at least 600 mm above the floor.
constexpr double kHighBed = 600.0;
/// A gap beside a bed is this wide at most, or wider than the other. Source: the warning that EN
/// 747-1:2012+A1 wants beside bunk beds for homes.
constexpr double kClosed = 75.0;
constexpr double kOpen = 230.0;
/// Places along an edge that are looked at; what is narrower traps nobody (common practice, no source).
constexpr double kPitch = 25.0;
/// A guard that the mattress covers is none.
constexpr double kAboveMattress = 1.0;

struct Beside {
  std::size_t body = 0;
  double gap = 0.0;
  Vec3 at;
};

/// What a line outwards meets first, within `kOpen`.
std::optional<Beside> first_met(const Scene& scene, Vec3 from, Vec3 way) {
  Box reach{from, from};
  reach.add(from + way * kOpen);
  std::optional<Beside> nearest;
  for (const std::size_t i : scene.near(reach, kContact)) {
    if (scene.bodies[i].hardware()) continue;
    for (const ConvexPiece& piece : scene.bodies[i].pieces()) {
      const auto span = crossing(piece, from, way);
      if (!span || span->second < 0.0 || span->first > kOpen + kSame) continue;
      const double gap = std::max(span->first, 0.0);
      if (!nearest || gap < nearest->gap) nearest = Beside{i, gap, from + way * gap};
    }
  }
  return nearest;
}

/// The widest place beside an edge where somebody might be caught, and over which length there are such.
struct Trap {
  Beside widest;
  double length = 0.0;
};

std::optional<Trap> trap_along(const Scene& scene, Vec3 corner, Vec3 along, double length, Vec3 way) {
  std::optional<Trap> trap;
  const int steps = std::max(1, static_cast<int>(length / kPitch));
  const double step = length / steps;
  for (int i = 0; i < steps; ++i) {
    const auto met = first_met(scene, corner + along * ((i + 0.5) * step), way);
    if (!met || met->gap <= kClosed + kSame) continue;
    if (!trap) trap = Trap{*met, 0.0};
    if (met->gap > trap->widest.gap + kSame) trap->widest = *met;
    trap->length += step;
  }
  return trap;
}

}  // namespace

void check_beds(const Scene& scene, ClearanceResult& result) {
  struct Edge {
    Vec3 corner, along, way;
    double length;
  };
  for (const Bed& bed : scene.layout->beds) {
    if (bed.mattress.lo.z < kHighBed) continue;
    const Vec3 hi = bed.mattress.hi + Vec3{0, 0, kAboveMattress};
    const Vec3 lo{bed.mattress.lo.x, bed.mattress.lo.y, hi.z};
    const Vec3 size = hi - lo;
    const Vec3 x{1, 0, 0};
    const Vec3 y{0, 1, 0};
    for (const Edge& edge : {Edge{lo, x, -y, size.x}, Edge{hi, -x, y, size.x},
                             Edge{lo, y, -x, size.y}, Edge{hi, -y, x, size.y}}) {
      const auto trap = trap_along(scene, edge.corner, edge.along, edge.length, edge.way);
      if (!trap) continue;
      const std::string& against = scene.bodies[trap->widest.body].id;
      result.findings.push_back(bed_finding(bed.module, against, trap->widest.at)
                                    .with("measured", trap->widest.gap, Unit::mm)
                                    .with("length", trap->length, Unit::mm)
                                    .with("required", kClosed, Unit::mm)
                                    .with("open", kOpen, Unit::mm));
    }
  }
}

}  // namespace ribbay::detail
