#include "galley.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace ribbay::detail {

std::vector<double> hinge_heights(const GalleyPlan& plan, bool left_hung) {
  // Doors on both sides of a divider: the plates' screws must pass each other.
  return hinge_places(plan.toe_height, plan.fronts_top, left_hung ? 100.0 : 110.0,
                      left_hung ? 0.0 : 10.0);
}

void cut_finger_pull(const GalleyWork& work, const GalleyColumn& column, Board& front, double x) {
  const double width = work.plan.pull_width;
  const double depth = work.plan.pull_depth;
  if (width <= 0.0) return;
  constexpr double left_over = 20.0;  // of the front beside and below the notch
  const Vec3 size = front.box.size();
  if (width > size.x - 2 * left_over || depth > size.z - left_over) {
    work.shop.find(work.fault("galley.pull_too_large", column, {})
                       .with("front", front.title)
                       .with("width", width, Unit::mm)
                       .with("depth", depth, Unit::mm)
                       .with("widest", size.x - 2 * left_over, Unit::mm)
                       .with("deepest", size.z - left_over, Unit::mm)
                       .with("field", work.request.name));
    return;
  }
  front.cuts.push_back({{{x - width / 2, front.box.lo.y - kPast, front.box.hi.z - depth},
                         {x + width / 2, front.box.hi.y + kPast, front.box.hi.z + kPast}},
                        CutRole::notch});
}

std::optional<HandlePlace> fit_handle(const GalleyWork& work, const GalleyColumn& column,
                                      Board& front, Vec3 middle, Vec3 along) {
  const Handle* handle = work.plan.handle;
  if (handle == nullptr) return std::nullopt;
  constexpr double left_over = 20.0;  // of the front beside the handle
  const Vec3 size = front.box.size();
  const double room = std::abs(dot(size, along)) - 2 * left_over;
  const Vec3 beside = cross(along, {0, -1, 0});
  const double room_beside = std::abs(dot(size, beside)) - 2 * left_over;
  if (handle->length > room || handle->width > room_beside) {
    work.shop.find(work.fault("galley.handle_no_room", column, {})
                       .with("front", front.title)
                       .with("handle", handle->key)
                       .with("measured", handle->length, Unit::mm)
                       .with("required", std::max(room, 0.0), Unit::mm)
                       .with("field", work.request.name));
    return std::nullopt;
  }
  const HandlePlace place{.name = front.name.substr(0, front.name.rfind('.')) + ".handle",
                          .title = "Handle of " + front.title,
                          .middle = middle,
                          .out = {0, -1, 0},
                          .along = along,
                          .board = front.name,
                          .thickness = front.sheet->thickness};
  for (Hole& hole : handle_holes(*handle, place)) front.holes.push_back(std::move(hole));
  add_handle(work.shop, *handle, place);
  return place;
}

void make_door(const GalleyWork& work, const GalleyColumn& column) {
  const GalleyPlan& plan = work.plan;
  const bool hinges = work.names(column, "door", "hinge");
  const bool screws = work.names(column, "door", "slide_screw");
  if (!hinges || !screws) return;
  const Hinge& hinge =
      bought(work.request, work.request.catalogue.hinges, work.request.fields.text("hinge"));
  if (!hinge_fits(work, work.asked(column, "door"), hinge, *plan.front, plan.buffer)) return;

  const bool left = column.fields->text("door") == "left";
  const std::string name = "door." + column.key;
  Board& door = work.joinery.add({.name = name + ".leaf",
                                  .title = "Door of " + column.key,
                                  .sheet = plan.front,
                                  .box = {{column.front_left, plan.front_face, plan.toe_height},
                                          {column.front_right, plan.front_back, plan.fronts_top}},
                                  .normal = {0, -1, 0},
                                  .along = {0, 0, 1},
                                  .cuts = {},
                                  .holes = {}});
  work.band_front(door);
  // The pull sits towards the free edge, where it takes the least force.
  const double from_edge = 40.0 + plan.pull_width / 2;
  const double pull = left ? column.front_right - from_edge : column.front_left + from_edge;
  cut_finger_pull(work, column, door,
                  column.opening() < 2 * from_edge ? door.box.centre().x : pull);

  std::optional<HandlePlace> handle;
  if (plan.handle != nullptr) {
    constexpr double kFromEdge = 40.0;  // and from the top of the door; common practice, no source
    const double x = left ? column.front_right - kFromEdge : column.front_left + kFromEdge;
    const double z = plan.fronts_top - kFromEdge - plan.handle->length / 2;
    handle = fit_handle(work, column, door, {x, plan.front_face, z}, {0, 0, 1});
  }

  const double edge = left ? column.front_left : column.front_right;
  Motion motion = hang(work,
                       {.name = name,
                        .title = column.key,
                        .board = left ? column.left_board : column.right_board,
                        .face = {edge, plan.front_face, plan.toe_height},
                        .back = {edge, plan.front_back, 0},
                        .plate = {left ? column.left : column.right, plan.carcass_front, 0},
                        .along = {0, 0, 1},
                        .inward = {left ? 1.0 : -1.0, 0, 0},
                        .out = {0, -1, 0}},
                       hinge, hinge_heights(plan, left));
  if (handle) motion.parts.push_back(work.shop.id(handle->name));
  motion.gives_way = work.gives_way(column);
  work.shop.made().motions.push_back(std::move(motion));
}

}  // namespace ribbay::detail
