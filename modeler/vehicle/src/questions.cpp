#include "base/tolerance.hpp"
#include "loft.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay {

using namespace detail;

namespace {

bool surveyed_at(const Vehicle& vehicle, double x) {
  return x >= vehicle.x_min() && x <= vehicle.x_max();
}

double free_half_width(const Vehicle& vehicle, VanSide side, double x0, double x1, double z0,
                       double z1) {
  double least = least_half_width(vehicle, side, x0, x1, z0, z1);
  for (const Rib& rib : vehicle.ribs) {
    const double from = rib.x - rib.width / 2.0;
    const double to = rib.x + rib.width / 2.0;
    if (rib.side != side || !overlap(x0, x1, from, to) || !overlap(z0, z1, rib.from, rib.to)) {
      continue;
    }
    const double face = least_half_width(vehicle, side, std::max(x0, from), std::min(x1, to),
                                         std::max(z0, rib.from), std::min(z1, rib.to)) -
                        protrusion(vehicle, rib);
    least = std::min(least, face);
  }
  for (const WheelArch& arch : vehicle.arches) {
    const bool beside = arch.side == side && overlap(x0, x1, arch.from, arch.to);
    if (beside && arch_height(arch, x0, x1) > z0 + kSame) {
      least = std::min(least, arch.half_width);
    }
  }
  return least;
}

/// Least over x of the greatest half width over z: how far the room reaches in plan all along
/// from..to. The greatest of straight lines has its least value at an end or where two of them
/// cross.
double least_reach(const Strip& wall, VanSide side, double from, double to) {
  const auto reach = [&](const Rung& rung, double x) {
    const double t = (x - rung.rear.x) / (rung.front.x - rung.rear.x);
    return sign(side) * between(rung.rear, rung.front, t).y;
  };
  std::vector<double> candidates{from, to};
  for (std::size_t i = 0; i < wall.size(); ++i) {
    for (std::size_t k = i + 1; k < wall.size(); ++k) {
      const double at_from = reach(wall[i], from) - reach(wall[k], from);
      const double at_to = reach(wall[i], to) - reach(wall[k], to);
      if (at_from * at_to < 0.0) {
        candidates.push_back(from + (to - from) * at_from / (at_from - at_to));
      }
    }
  }
  double least = kFar;
  for (const double x : candidates) {
    double greatest = -kFar;
    for (const Rung& rung : wall) greatest = std::max(greatest, reach(rung, x));
    least = std::min(least, greatest);
  }
  return least;
}

/// The wall as (z, half width) points of a section.
std::vector<Vec2> half_widths(const std::vector<Vec2>& wall, VanSide side) {
  std::vector<Vec2> result;
  for (const Vec2& p : wall) result.push_back({p.y, sign(side) * p.x});
  return result;
}

}  // namespace

std::optional<double> wall_y(const Vehicle& vehicle, VanSide side, double x, double z) {
  if (!surveyed_at(vehicle, x)) return std::nullopt;
  const Section section = section_at(vehicle, x);
  const auto wall = half_widths(side == VanSide::left ? section.left : section.right, side);
  if (z < wall.front().x || z > wall.back().x) return std::nullopt;
  return sign(side) * value_at(wall, z);
}

std::optional<ClearWidth> clear_width(const Vehicle& vehicle, double x0, double x1, double z0,
                                      double z1) {
  if (x0 > x1) std::swap(x0, x1);
  if (z0 > z1) std::swap(z0, z1);
  if (!surveyed_at(vehicle, x0) || !surveyed_at(vehicle, x1) || z0 < 0.0 ||
      z1 > lowest_roof(vehicle, x0, x1)) {
    return std::nullopt;
  }
  return ClearWidth{free_half_width(vehicle, VanSide::left, x0, x1, z0, z1),
                    -free_half_width(vehicle, VanSide::right, x0, x1, z0, z1)};
}

std::optional<double> clear_height(const Vehicle& vehicle, double x0, double x1, double y0,
                                   double y1) {
  if (x0 > x1) std::swap(x0, x1);
  if (y0 > y1) std::swap(y0, y1);
  if (!surveyed_at(vehicle, x0) || !surveyed_at(vehicle, x1)) return std::nullopt;
  bool inside = true;
  double least = kFar;
  const auto look = [&](const Triangle& t) {
    if (unit_normal(t).z <= 0.0) return;
    least = std::min(least, lowest(clipped(clipped({t.begin(), t.end()}, 0, x0, x1), 1, y0, y1)));
  };
  each_span(vehicle, x0, x1, [&](std::size_t span, double from, double to) {
    const Strip left = strip(vehicle, VanSide::left, span);
    const Strip right = strip(vehicle, VanSide::right, span);
    inside = inside && y1 <= least_reach(left, VanSide::left, from, to) &&
             y0 >= -least_reach(right, VanSide::right, from, to);
    for (const VanSide side : {VanSide::left, VanSide::right}) {
      const Strip& wall = side == VanSide::left ? left : right;
      for (std::size_t k = 0; k + 1 < wall.size(); ++k) look(wall_triangle(wall, side, k));
    }
    for (const Triangle& t : roof_triangles(left.back(), right.back())) look(t);
  });
  if (!inside || least == kFar) return std::nullopt;
  return least;
}

bool inside_room(const Vehicle& vehicle, Vec3 point) {
  if (!surveyed_at(vehicle, point.x) || point.z < 0.0) return false;
  const Section section = section_at(vehicle, point.x);
  const Vec2 left_top = section.roof.front();
  const Vec2 right_top = section.roof.back();
  // Below its top a wall bounds the room; above it the roof does.
  if (point.z <= left_top.y) {
    if (point.y > value_at(half_widths(section.left, VanSide::left), point.z)) return false;
  } else if (point.y > left_top.x) {
    return false;
  }
  if (point.z <= right_top.y) {
    if (-point.y > value_at(half_widths(section.right, VanSide::right), point.z)) return false;
  } else if (point.y < right_top.x) {
    return false;
  }
  if (point.y > left_top.x || point.y < right_top.x) return true;
  const std::vector<Vec2> roof(section.roof.rbegin(), section.roof.rend());
  return point.z <= value_at(roof, point.y);
}

double survey_uncertainty(const Vehicle& vehicle, double x0, double x1) {
  double largest = 0.0;
  each_span(vehicle, x0, x1, [&](std::size_t span, double, double) {
    largest = std::max(
        {largest, vehicle.stations[span].uncertainty, vehicle.stations[span + 1].uncertainty});
  });
  return largest;
}

const Rib* next_rib(const Vehicle& vehicle, VanSide side, double x) {
  const Rib* next = nullptr;
  for (const Rib& rib : vehicle.ribs) {
    if (rib.side == side && rib.x > x + kSame && (next == nullptr || rib.x < next->x)) next = &rib;
  }
  return next;
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

std::vector<std::pair<std::string, Quantity>> vehicle_facts(const Vehicle& vehicle) {
  std::vector<std::pair<std::string, Quantity>> facts;
  const auto add = [&](const std::string& name, double mm) {
    facts.push_back({name, {mm, dimension::length}});
  };
  const auto add_mass = [&](const std::string& name, double kg) {
    facts.push_back({name, {kg, dimension::mass}});
  };
  double floor_width = kFar;
  for (const Station& station : vehicle.stations) {
    floor_width =
        std::min(floor_width, station.left.front().half_width + station.right.front().half_width);
    add("station." + station.name + ".x", station.x);
  }
  add("floor_width", floor_width);
  add("floor_thickness", vehicle.floor_thickness);
  add("rear", vehicle.x_min());
  add("front", vehicle.x_max());
  add("length", vehicle.x_max() - vehicle.x_min());
  add("rear_sill", vehicle.rear_sill);
  if (const auto roof = clear_height(vehicle, vehicle.x_min(), vehicle.x_max(), 0.0, 0.0)) {
    add("roof_height", *roof);
  }
  for (const Rib& rib : vehicle.ribs) {
    add("rib." + rib.name + ".x", rib.x);
    add("rib." + rib.name + ".width", rib.width);
    add("rib." + rib.name + ".depth", rib.depth);
    add("rib." + rib.name + ".from", rib.from);
    add("rib." + rib.name + ".to", rib.to);
  }
  for (const WheelArch& arch : vehicle.arches) {
    add("arch." + arch.name + ".from", arch.from);
    add("arch." + arch.name + ".to", arch.to);
    add("arch." + arch.name + ".height", arch.height);
    add("arch." + arch.name + ".half_width", arch.half_width);
  }
  for (const Opening& opening : vehicle.openings) {
    add("opening." + opening.name + ".from", opening.from);
    add("opening." + opening.name + ".to", opening.to);
    add("opening." + opening.name + ".bottom", opening.bottom);
    add("opening." + opening.name + ".top", opening.top);
  }
  for (const Joist& joist : vehicle.joists) {
    add("joist." + joist.name + ".at", joist.at);
    add("joist." + joist.name + ".width", joist.width);
  }
  for (const auto& [name, axle] : {std::pair{std::string("front"), &vehicle.front_axle},
                                   std::pair{std::string("rear"), &vehicle.rear_axle}}) {
    if (!axle->has_value()) continue;
    add("axle." + name + ".x", (*axle)->x);
    add("axle." + name + ".track", (*axle)->track);
    add_mass("axle." + name + ".limit", (*axle)->limit_kg);
    add_mass("axle." + name + ".empty", (*axle)->empty_kg);
  }
  add_mass("gross_limit", vehicle.gross_limit_kg);
  std::ranges::sort(facts, {}, &std::pair<std::string, Quantity>::first);
  return facts;
}

}  // namespace ribbay
