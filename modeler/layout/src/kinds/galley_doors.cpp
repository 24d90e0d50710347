#include "galley.hpp"

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
  motion.gives_way = work.gives_way(column);
  work.shop.made().motions.push_back(std::move(motion));
}

}  // namespace ribbay::detail
