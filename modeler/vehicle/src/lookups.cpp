#include "base/tolerance.hpp"
#include "loft.hpp"

#include <algorithm>
#include <cmath>

/// Questions about single things of the vehicle.
namespace ribbay {

using namespace detail;

namespace {

/// How far apart two ranges lie; 0 when they touch.
double apart(double a0, double a1, double b0, double b1) {
  return std::max({0.0, b0 - a1, a0 - b1});
}

}  // namespace

const Rib* next_rib(const Vehicle& vehicle, VanSide side, double x) {
  const Rib* next = nullptr;
  for (const Rib& rib : vehicle.ribs) {
    if (rib.side == side && rib.x > x + kSame && (next == nullptr || rib.x < next->x)) next = &rib;
  }
  return next;
}

const Rib* previous_rib(const Vehicle& vehicle, VanSide side, double x) {
  const Rib* previous = nullptr;
  for (const Rib& rib : vehicle.ribs) {
    if (rib.side != side || rib.x >= x - kSame) continue;
    if (previous == nullptr || rib.x > previous->x) previous = &rib;
  }
  return previous;
}

const Joist* nearest_joist(const Vehicle& vehicle, Vec2 at) {
  const Joist* nearest = nullptr;
  double least = kFar;
  for (const Joist& joist : vehicle.joists) {
    const double beside = std::abs((joist.across ? at.x : at.y) - joist.at);
    const double along = joist.across ? at.y : at.x;
    const double beyond = std::max({0.0, joist.from - along, along - joist.to});
    const double distance = std::hypot(beside, beyond);
    if (distance < least) {
      least = distance;
      nearest = &joist;
    }
  }
  return nearest;
}

bool over_joist(const Vehicle& vehicle, Vec2 at, double edge) {
  return std::ranges::any_of(vehicle.joists, [&](const Joist& joist) {
    const double beside = std::abs((joist.across ? at.x : at.y) - joist.at);
    const double along = joist.across ? at.y : at.x;
    return beside + edge <= joist.width / 2.0 + kSame && along - edge >= joist.from - kSame &&
           along + edge <= joist.to + kSame;
  });
}

const NoDrill* no_drill_at(const Vehicle& vehicle, Vec2 at, double radius) {
  const NoDrill* nearest = nullptr;
  double least = kFar;
  for (const NoDrill& zone : vehicle.no_drill) {
    const double distance =
        std::hypot(apart(at.x, at.x, zone.from, zone.to), apart(at.y, at.y, zone.right, zone.left));
    const bool hit = distance == 0.0 || distance < radius - kSame;
    if (hit && distance < least) {
      least = distance;
      nearest = &zone;
    }
  }
  return nearest;
}

const Opening* find_opening(const Vehicle& vehicle, std::string_view name) {
  const auto found = std::ranges::find(vehicle.openings, name, &Opening::name);
  return found == vehicle.openings.end() ? nullptr : &*found;
}

double distance_to_opening(const Vehicle& vehicle, const Opening& opening, double x0, double x1,
                           double z0, double z1) {
  if (x0 > x1) std::swap(x0, x1);
  if (z0 > z1) std::swap(z0, z1);
  if (opening.kind == OpeningKind::rear) return apart(x0, x1, vehicle.x_min(), vehicle.x_min());
  return std::hypot(apart(x0, x1, opening.from, opening.to),
                    apart(z0, z1, opening.bottom, opening.top));
}

std::optional<Box> clear_way(const Vehicle& vehicle, const Opening& opening) {
  const double deep = opening.leaf.clear_way;
  const double bottom = std::max(opening.bottom, 0.0);
  if (deep <= 0.0 || opening.top <= bottom) return std::nullopt;
  if (opening.kind == OpeningKind::rear) {
    const double x = vehicle.x_min();
    return Box{{x, opening.from, bottom}, {x + deep, opening.to, opening.top}};
  }
  const double sill =
      least_half_width(vehicle, opening.side, opening.from, opening.to, bottom, bottom);
  const double outer =
      largest_half_width(vehicle, opening.side, opening.from, opening.to, bottom, opening.top);
  const bool left = opening.side == VanSide::left;
  return Box{{opening.from, left ? sill - deep : -outer, bottom},
             {opening.to, left ? outer : deep - sill, opening.top}};
}

}  // namespace ribbay
