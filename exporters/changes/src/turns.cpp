#include "turns.hpp"

#include "features.hpp"

#include <tuple>
#include <utility>

namespace ribbay::detail {

Vec2 turn(Vec2 point, int number) {
  if (turns_over(number)) point.y = -point.y;
  for (int quarter = 0; quarter < number % 4; ++quarter) point = perpendicular(point);
  return point;
}

Loop turn(const Loop& loop, int number) {
  Loop result = loop;
  for (Corner& corner : result) corner.at = turn(corner.at, number);
  return turns_over(number) ? reversed(std::move(result)) : result;
}

Region turn(const Region& region, int number) {
  Region result{turn(region.outer, number), {}};
  for (const Loop& hole : region.holes) result.holes.push_back(turn(hole, number));
  return result;
}

PartRecord turned(const PartRecord& part, int number) {
  PartRecord result = part;
  const bool over = turns_over(number);
  const auto direction = [&](Vec3 v) {
    const Vec2 flat = turn(Vec2{v.x, v.y}, number);
    return Vec3{flat.x, flat.y, over ? -v.z : v.z};
  };
  const auto point = [&](Vec3 p) {
    Vec3 image = direction(p);
    if (over) image.z += part.height;
    return image;
  };
  result.outline = turn(part.outline, number);
  for (Cut& cut : result.cuts) {
    cut.outline = turn(cut.outline, number);
    if (over) std::tie(cut.from, cut.to) = std::pair(part.height - cut.to, part.height - cut.from);
  }
  for (Bore& bore : result.bores) {
    bore.at = point(bore.at);
    bore.direction = direction(bore.direction);
  }
  for (BendLine& bend : result.bends) {
    bend.a = turn(bend.a, number);
    bend.b = turn(bend.b, number);
    if (over) bend.angle = -bend.angle;
  }
  for (FinishRecord& finish : result.finishes) {
    if (over) std::swap(finish.face, finish.back);
    for (Vec2& edge : finish.edges) edge = turn(edge, number);
  }
  if (!result.outline.outer.empty()) {
    const Box box = bounds_of(result.outline.outer);
    move(result, {-box.lo.x, -box.lo.y, 0.0});
  }
  return result;
}

}  // namespace ribbay::detail
