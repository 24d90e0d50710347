#include "base/tolerance.hpp"
#include "table.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

/// A leg may miss the floor by this: its foot is screwed in or out.
constexpr double kFootTravel = 5.0;

void check_length(const TableWork& work, const Fitting& leg, double under) {
  const double length = bounds(body_shape(leg.boxes, leg.rounds)).hi.z;
  const double height = work.shop.to_van(Vec3{0, 0, under}).z;
  if (std::abs(length - height) <= kFootTravel + kSame) return;
  work.shop.find(fault("table.leg_length", work.asked("leg"))
                     .with("leg", leg.key)
                     .with("measured", length, Unit::mm)
                     .with("required", height, Unit::mm)
                     .with("height", work.request.size.z + length - height, Unit::mm));
}

/// Below the top; it folds along the frame's x.
Frame leg_frame(const TableWork& work, const LegPlace& place) {
  const ModuleRequest& request = work.request;
  const std::string& way = request.fields.text("leg_folds");
  const bool back = way == "back";
  const bool left = way == "left";
  const double near_end = left ? request.size.x - kLegInset : kLegInset;
  const double x = request.fields.number_if("leg_from_left")
                       .value_or(back ? request.size.x / 2 : near_end);
  const Vec3 along = back ? Vec3{0, 1, 0} : Vec3{left ? -1.0 : 1.0, 0, 0};
  return frame_zx({x, place.y, place.under}, {0, 0, -1}, along);
}

Motion leg_motion(const TableWork& work, const Fitting& leg, const Frame& frame,
                  const LegPlace& place, const std::string& folding) {
  const Vec3 axis = place.folded ? -frame.y : frame.y;
  return {.id = work.shop.id("leg"),
          .title = place.folded ? "Table leg, unfolding" : "Table leg, folding",
          .kind = MotionKind::rotation,
          .parts = {folding},
          .axis = work.request.turning_axis_to_van(axis),
          .origin = work.shop.to_van(frame.point(leg.folds->at) + place.brought),
          .travel = leg.folds->angle,
          .required = leg.folds->angle,
          .gives_way = {},
          .after = place.after};
}

}  // namespace

Leg add_leg(const TableWork& work, const LegPlace& place) {
  const ModuleRequest& request = work.request;
  if (!request.fields.has("leg") || !names_item(work, work.asked("leg"), "leg_screw")) return {};
  const Fitting& leg = bought(request, request.catalogue.fittings, request.fields.text("leg"));
  if (!leg.folds) {
    work.shop.find(fault("table.leg_fixed", work.asked("leg")).with("leg", leg.key));
    return {};
  }
  check_length(work, leg, place.under);
  const Frame frame = leg_frame(work, place);
  std::vector<std::string> hardware =
      screw_on(work, "leg", leg, frame, place.board, "leg_screw", place.folded);
  const std::string folding = work.shop.id("leg.folding");
  for (Part& part : work.shop.made().parts) {
    if (part.id == folding) part.hosts.push_back("vehicle/floor");
  }
  work.shop.made().motions.push_back(leg_motion(work, leg, frame, place, folding));
  Leg made{.motion = work.shop.id("leg"), .parts = {hardware.front(), folding}};
  work.shop.join("joint.leg", "screwed", {work.shop.id(place.board), made.parts.front()},
                 std::move(hardware));
  return made;
}

}  // namespace ribbay::detail
