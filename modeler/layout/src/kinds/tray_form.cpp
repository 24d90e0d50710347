#include "tray_form.hpp"

#include <algorithm>
#include <numbers>

namespace ribbay::detail {

namespace {

constexpr double kRightAngle = std::numbers::pi / 2;

TraySide next(TraySide side) { return kTraySides[(static_cast<std::size_t>(side) + 1) % 4]; }
TraySide before(TraySide side) { return kTraySides[(static_cast<std::size_t>(side) + 3) % 4]; }

/// The side of the floor that a wall hangs on, from its beginning to its end: the floor lies to its
/// right.
struct FloorSide {
  Vec2 from;
  Vec2 along;
  double length = 0.0;
};

FloorSide floor_side(const Box& floor, TraySide side) {
  const Vec3 size = floor.size();
  switch (side) {
    case TraySide::front:
      return {{floor.hi.x, floor.lo.y}, {-1, 0}, size.x};
    case TraySide::left:
      return {{floor.lo.x, floor.lo.y}, {0, 1}, size.y};
    case TraySide::back:
      return {{floor.lo.x, floor.hi.y}, {1, 0}, size.x};
    case TraySide::right:
      break;
  }
  return {{floor.hi.x, floor.hi.y}, {0, -1}, size.y};
}

/// How far a wall reaches past its bend at a corner where another wall stands.
double corner_reach(const TrayForm& form, TraySide side) {
  const bool outside = side == TraySide::front || side == TraySide::back;
  const double butt = outside ? 0.0 : form.thickness + form.gap;
  return std::max(form.relief + form.setback() - butt, 0.0);
}

Flat wall_of(const TrayForm& form, TraySide side) {
  const FloorSide line = floor_side(form.floor(), side);
  const double start = form.wall(before(side)) ? form.relief : 0.0;
  const double end = form.wall(next(side)) ? form.relief : 0.0;
  const double before_it = form.wall(before(side)) ? corner_reach(form, side) : 0.0;
  const double after_it = form.wall(next(side)) ? corner_reach(form, side) : 0.0;
  const double wide = line.length - start - end;
  const double high = form.size.z - form.setback() - (form.lip > 0.0 ? form.setback() : 0.0);
  Flat wall{.parent = 0,
            .a = line.from + line.along * start,
            .b = line.from + line.along * (line.length - end),
            .angle = kRightAngle,
            .radius = form.radius,
            .outline = {{{{0, 0}}, {{wide, 0}}}, {}}};
  Loop& outer = wall.outline.outer;
  if (after_it > 0.0) outer.push_back({{wide + after_it, 0}});
  outer.push_back({{wide + after_it, high}});
  outer.push_back({{-before_it, high}});
  if (before_it > 0.0) outer.push_back({{-before_it, 0}});
  return wall;
}

/// The lip along the top of a wall.
Flat lip_of(const TrayForm& form, const Flat& wall, int parent) {
  double left = 0.0;
  double right = 0.0;
  double top = 0.0;
  for (const Corner& corner : wall.outline.outer) {
    left = std::min(left, corner.at.x);
    right = std::max(right, corner.at.x);
    top = std::max(top, corner.at.y);
  }
  const double out = form.lip - form.radius;
  return {.parent = parent,
          .a = {left, top},
          .b = {right, top},
          .angle = -kRightAngle,
          .radius = form.radius,
          .outline = {rectangle({0, 0}, {right - left, out}), {}}};
}

}  // namespace

Box TrayForm::floor() const {
  const auto inset = [&](TraySide side) { return wall(side) ? lip + setback() : 0.0; };
  return {{inset(TraySide::left), inset(TraySide::front), 0},
          {size.x - inset(TraySide::right), size.y - inset(TraySide::back), thickness}};
}

FoldedSheet tray_sheet(const TrayForm& form) {
  const Box floor = form.floor();
  FoldedSheet sheet{.thickness = form.thickness, .k_factor = form.k_factor, .flats = {}};
  sheet.flats.push_back(
      {.outline = {rectangle({floor.lo.x, floor.lo.y}, {floor.hi.x, floor.hi.y}), {}}});
  for (const TraySide side : kTraySides) {
    if (!form.wall(side)) continue;
    const Flat wall = wall_of(form, side);
    sheet.flats.push_back(wall);
    if (form.lip > 0.0) {
      const int parent = static_cast<int>(sheet.flats.size()) - 1;
      sheet.flats.push_back(lip_of(form, wall, parent));
    }
  }
  return sheet;
}

std::optional<std::size_t> wall_flat(const TrayForm& form, TraySide side) {
  if (!form.wall(side)) return std::nullopt;
  std::size_t index = 1;
  for (const TraySide other : kTraySides) {
    if (other == side) break;
    if (form.wall(other)) index += form.lip > 0.0 ? 2 : 1;
  }
  return index;
}

}  // namespace ribbay::detail
