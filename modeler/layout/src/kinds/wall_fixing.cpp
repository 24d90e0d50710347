#include "wall_fixing.hpp"

#include "base/tolerance.hpp"
#include "walls.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace ribbay::detail {

namespace {

/// What a screw must reach into a rib: its sheet, the tip and what the rib stands off (common
/// practice, no source).
constexpr double kIntoRib = 10.0;

/// The wall that the module's back looks to.
VanSide wall_behind(const ModuleRequest& request) {
  return request.direction_to_van({0, 1, 0}).y > 0.0 ? VanSide::left : VanSide::right;
}

}  // namespace

bool backs_to_wall(const ModuleRequest& request) {
  return std::abs(request.direction_to_van({0, 1, 0}).y) > 0.5;
}

std::vector<Vec2> wall_line(const ModuleRequest& request, double x0, double x1, double gap) {
  const Vec3 a = request.to_van({x0, 0, 0});
  const Vec3 b = request.to_van({x1, 0, request.size.z});
  const double deepest = request.size.y;
  std::vector<Vec2> line;
  const auto add = [&](Vec2 point) {
    if (!line.empty() && length(line.back() - point) < kGrid) return;
    while (line.size() >= 2 && straight(line[line.size() - 2], line.back(), point)) line.pop_back();
    line.push_back(point);
  };
  std::optional<Vec2> last;
  for (const WallHeight& height :
       wall_outline(request.vehicle, std::min(a.x, b.x), std::max(a.x, b.x), a.z, b.z, gap)) {
    const double wall =
        wall_behind(request) == VanSide::left ? height.clear.left : height.clear.right;
    const Vec3 own = request.from_van({a.x, wall, height.z});
    const Vec2 point{own.y - gap, own.z};
    if (last && (last->x - deepest) * (point.x - deepest) < 0.0) {  // it leaves the envelope
      const double part = (deepest - last->x) / (point.x - last->x);
      add({deepest, last->y + part * (point.y - last->y)});
    }
    add({std::min(point.x, deepest), point.y});
    last = point;
  }
  return line;
}

double nearest_wall(const std::vector<Vec2>& line, double z0, double z1) {
  double nearest = line.front().x;
  bool first = true;
  const auto take = [&](double y) {
    nearest = first ? y : std::min(nearest, y);
    first = false;
  };
  for (std::size_t i = 0; i < line.size(); ++i) {
    if (line[i].y >= z0 - kSame && line[i].y <= z1 + kSame) take(line[i].x);
    if (i + 1 == line.size()) break;
    const Vec2 a = line[i];
    const Vec2 b = line[i + 1];
    for (const double z : {z0, z1}) {
      if (a.y < z && z < b.y) take(a.x + (b.x - a.x) * (z - a.y) / (b.y - a.y));
    }
  }
  return nearest;
}

std::vector<RibBehind> ribs_behind(const ModuleRequest& request, double x0, double x1, double z) {
  std::vector<RibBehind> found;
  const double height = request.to_van({0, 0, z}).z;
  for (const Rib& rib : request.vehicle.ribs) {
    if (rib.side != wall_behind(request) || height < rib.from || height > rib.to) continue;
    const double x = request.from_van({rib.x, 0, height}).x;
    if (x >= x0 && x <= x1) found.push_back({&rib, x});
  }
  std::ranges::sort(found, {}, &RibBehind::x);
  return found;
}

void screw_to_rib(const Carcass& carcass, const RibScrew& screw, const Rib& rib) {
  const std::string rib_id = "vehicle/rib." + rib.name;
  std::vector<std::string> hosts = screw.boards;
  hosts.push_back(rib_id);
  hosts.push_back(rib.side == VanSide::left ? "vehicle/wall.left" : "vehicle/wall.right");
  const std::string id = carcass.shop.add(Fastener{.name = screw.name,
                                                   .bolt = screw.screw,
                                                   .at = screw.at,
                                                   .direction = screw.direction,
                                                   .hosts = std::move(hosts)});
  carcass.shop.join("joint." + screw.name, "screwed to a rib",
                    {carcass.shop.id(screw.boards.front()), rib_id}, {id});
  const double shortest = screw.clamped + kIntoRib;
  if (screw.screw->length >= shortest - kSame) return;
  Finding finding;
  finding.code = "layout.bolt_too_short";
  finding.severity = Severity::warning;
  finding.subjects = {id};
  carcass.shop.find(std::move(finding.with("stock", screw.screw->key)
                                  .with("measured", screw.screw->length, Unit::mm)
                                  .with("shortest", shortest, Unit::mm)
                                  .with("longest", shortest + 2 * kIntoRib, Unit::mm)));
}

void check_ribs(const Carcass& carcass, const std::string& board, std::size_t ribs) {
  if (ribs >= 2) return;
  Finding finding;
  finding.code = "carcass.few_ribs";
  finding.severity = Severity::warning;
  finding.subjects = {carcass.shop.id(board)};
  carcass.shop.find(std::move(finding.with("measured", static_cast<double>(ribs), Unit::count)
                                  .with("required", 2, Unit::count)));
}

}  // namespace ribbay::detail
