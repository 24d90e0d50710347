#include "folding_leg.hpp"

#include "base/tolerance.hpp"

#include <cmath>

namespace ribbay::detail {

namespace {

/// A leg may miss the floor by this: its foot is screwed in or out.
constexpr double kFootTravel = 5.0;

void check_length(const Carcass& carcass, const FoldingLeg& leg, const Fitting& fitting) {
  const double length = bounds(body_shape(fitting.boxes, fitting.rounds)).hi.z;
  const double height = carcass.shop.to_van(Vec3{0, 0, leg.at.z}).z;
  if (std::abs(length - height) <= kFootTravel + kSame) return;
  carcass.shop.find(fault("carcass.leg_length", leg.asked)
                        .with("leg", fitting.key)
                        .with("measured", length, Unit::mm)
                        .with("required", height, Unit::mm)
                        .with("by", std::abs(length - height), Unit::mm)
                        .with("way", length > height ? "up" : "down"));
}

Motion motion_of(const Carcass& carcass, const FoldingLeg& leg, const Fitting& fitting,
                 const Frame& frame, const std::string& folding) {
  const Vec3 axis = leg.folded ? -frame.y : frame.y;
  return {.id = carcass.shop.id(leg.name),
          .title = leg.title + (leg.folded ? ", unfolding" : ", folding"),
          .kind = MotionKind::rotation,
          .parts = {folding},
          .axis = carcass.request.turning_axis_to_van(axis),
          .origin = carcass.shop.to_van(frame.point(fitting.folds->at) + leg.brought),
          .travel = fitting.folds->angle,
          .required = fitting.folds->angle,
          .gives_way = {},
          .after = leg.after};
}

}  // namespace

Leg add_folding_leg(const Carcass& carcass, const FoldingLeg& leg) {
  const std::string field{leg.asked.field};
  const Record& fields = carcass.request.fields;
  if (!fields.has(field) || !names_item(carcass, leg.asked, field + "_screw")) return {};
  const Fitting& fitting =
      bought(carcass.request, carcass.request.catalogue.fittings, fields.text(field));
  if (!fitting.folds) {
    carcass.shop.find(fault("carcass.leg_fixed", leg.asked).with("leg", fitting.key));
    return {};
  }
  check_length(carcass, leg, fitting);
  const Frame frame = frame_zx(leg.at, {0, 0, -1}, leg.along);
  std::vector<std::string> hardware =
      screw_on(carcass, leg.name, fitting, frame, leg.board, field + "_screw", leg.folded);
  const std::string folding = carcass.shop.id(leg.name + ".folding");
  for (Part& part : carcass.shop.made().parts) {
    if (part.id == folding) part.hosts.push_back("vehicle/floor");
  }
  carcass.shop.made().motions.push_back(motion_of(carcass, leg, fitting, frame, folding));
  Leg made{.motion = carcass.shop.id(leg.name), .parts = {hardware.front(), folding}};
  carcass.shop.join("joint." + leg.name, "screwed",
                    {carcass.shop.id(leg.board), made.parts.front()}, std::move(hardware));
  return made;
}

}  // namespace ribbay::detail
