#include "base/tolerance.hpp"
#include "galley.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ribbay::detail {

namespace {

/// Middle of a hinge's mounting plate behind the front edge of the side, and between its screws
/// (common practice, no source: the 32 mm system).
constexpr double kPlateSetback = 37.0;
constexpr double kPlateScrews = 16.0;
/// Cup screws: above and below the cup's middle, and further from the door's edge (common practice,
/// no source).
constexpr double kCupScrews = 22.5;
constexpr double kCupScrewsIn = 9.5;
/// Thickness of the mounting plate, and what the arm on it takes beyond (common practice, no
/// source).
constexpr double kPlate = 3.0;
constexpr double kArm = 9.0;
/// Doors above this height get a third hinge (common practice, no source).
constexpr double kThirdHinge = 900.0;
/// What is left of a door in front of a hinge cup.
constexpr double kCupSkin = 1.0;

/// Room that a turning door needs behind it: its inner corner at the hinge edge swings backwards.
double room_to_turn(const GalleyPlan& plan, const Hinge& hinge) {
  const double back = plan.front->thickness + hinge.axis_out;  // of the axis
  return hinge.axis_inset > 0.0 ? std::hypot(hinge.axis_inset, back) - back : 0.0;
}

bool hinge_fits(const GalleyWork& work, const GalleyColumn& column, const Hinge& hinge) {
  const double room = room_to_turn(work.plan, hinge);
  if (work.plan.buffer < room - kSame) {
    work.shop.find(work.fault("galley.door_binds", column, "door")
                       .with("hinge", hinge.key)
                       .with("measured", work.plan.buffer, Unit::mm)
                       .with("required", std::ceil(room / kCut) * kCut, Unit::mm)
                       .with("field", work.request.name + ".buffer"));
    return false;
  }
  const double deepest = work.plan.front->thickness - kCupSkin;
  if (hinge.cup_depth > deepest) {
    work.shop.find(work.fault("galley.cup_too_deep", column, "door")
                       .with("hinge", hinge.key)
                       .with("measured", hinge.cup_depth, Unit::mm)
                       .with("required", deepest, Unit::mm));
    return false;
  }
  return true;
}

/// One hinge at height `z`: cup in the door, plate on the side. Returns what moves with the door. A
/// hinge is bought as one: only its plate carries the key.
std::vector<std::string> add_hinge(const GalleyWork& work, const GalleyColumn& column,
                                   const Hinge& hinge, bool left, double z, int number) {
  const GalleyPlan& plan = work.plan;
  const std::string door = "door." + column.key;
  const std::string leaf = door + ".leaf";
  const std::string name = door + ".hinge_" + std::to_string(number);
  const std::string title = "Hinge " + std::to_string(number) + " of " + column.key;
  const std::string& board = left ? column.left_board : column.right_board;
  const double side = left ? column.left : column.right;
  const double inward = left ? 1.0 : -1.0;
  const double edge = left ? column.front_left : column.front_right;
  const Vec3 cup{edge + inward * hinge.cup_edge, plan.front_back, z};

  work.joinery.board(leaf).holes.push_back({.at = cup,
                                            .direction = {0, -1, 0},
                                            .diameter = hinge.cup_diameter,
                                            .depth = hinge.cup_depth,
                                            .through = false,
                                            .role = BoreRole::cup,
                                            .thread = {}});
  Shape cup_shape;
  cup_shape.prisms.push_back(cylinder(hinge.cup_diameter, hinge.cup_depth));
  std::vector<std::string> moving{
      work.shop.add_hardware(name + ".cup", title + ", cup", {}, {}, cup_shape,
                             frame_zx(cup, {0, -1, 0}, {1, 0, 0}), hinge.mass_kg / 2, {leaf})};
  // Plate and arm lie on the side's face; in the shape's own axes that face is z = 0, y runs along
  // z.
  Shape plate_shape = box_shape({-10, -kHingePlate, 0}, {10, kHingePlate, kPlate});
  const Shape arm = box_shape({-25, -8, kPlate}, {25, 8, kPlate + kArm});
  plate_shape.prisms.insert(plate_shape.prisms.end(), arm.prisms.begin(), arm.prisms.end());
  const double plate_y = plan.carcass_front + kPlateSetback;
  std::vector<std::string> hardware{work.shop.add_hardware(
      name + ".plate", title + ", plate", hinge.key, {}, plate_shape,
      frame_zx({side, plate_y, z}, {inward, 0, 0}, {0, inward, 0}), hinge.mass_kg / 2, {})};
  hardware.push_back(moving.front());
  for (const int up : {-1, 1}) {
    const std::string which = up < 0 ? "_1" : "_2";
    moving.push_back(
        work.joinery.screw({.name = name + ".cup.screw" + which,
                            .field = "slide_screw",
                            .at = cup + Vec3{inward * kCupScrewsIn, 0, up * kCupScrews},
                            .direction = {0, -1, 0},
                            .from = name + ".cup",
                            .into = leaf}));
    hardware.push_back(moving.back());
    hardware.push_back(
        work.joinery.screw({.name = name + ".plate.screw" + which,
                            .field = "slide_screw",
                            .at = Vec3{side + inward * kPlate, plate_y, z + up * kPlateScrews},
                            .direction = {-inward, 0, 0},
                            .from = name + ".plate",
                            .into = board}));
  }
  work.shop.join("joint." + name, "hinge", {work.shop.id(leaf), work.shop.id(board)},
                 std::move(hardware));
  return moving;
}

}  // namespace

std::vector<double> hinge_heights(const GalleyPlan& plan, bool left_hung) {
  // Doors on both sides of a divider: the plates' screws must pass each other.
  const double height = plan.fronts_top - plan.toe_height;
  const double from_end = std::min(left_hung ? 100.0 : 110.0, height / 4);
  std::vector<double> heights{plan.toe_height + from_end, plan.fronts_top - from_end};
  if (height > kThirdHinge) {
    heights.insert(heights.begin() + 1, (heights[0] + heights[1]) / 2 + (left_hung ? 0.0 : 10.0));
  }
  return heights;
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
  if (!hinge_fits(work, column, hinge)) return;

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
  // The pull sits towards the free edge, where it takes the least force.
  const double from_edge = 40.0 + plan.pull_width / 2;
  const double pull = left ? column.front_right - from_edge : column.front_left + from_edge;
  cut_finger_pull(work, column, door,
                  column.opening() < 2 * from_edge ? door.box.centre().x : pull);

  const double axis_x =
      left ? column.front_left + hinge.axis_inset : column.front_right - hinge.axis_inset;
  Motion motion{
      .id = work.shop.id(name),
      .title = "Door of " + column.key,
      .kind = MotionKind::rotation,
      .parts = {work.shop.id(name + ".leaf")},
      // Seen from above, a door hung on its left side opens clockwise.
      .axis = work.request.turning_axis_to_van({0, 0, left ? -1.0 : 1.0}),
      .origin = work.shop.to_van(Vec3{axis_x, plan.front_face - hinge.axis_out, plan.toe_height}),
      .travel = hinge.opening,
      .required = std::min(hinge.opening, std::numbers::pi / 2),
      .gives_way = work.gives_way(column)};
  int number = 0;
  for (const double z : hinge_heights(plan, left)) {
    const auto moving = add_hinge(work, column, hinge, left, z, ++number);
    motion.parts.insert(motion.parts.end(), moving.begin(), moving.end());
  }
  work.shop.made().motions.push_back(std::move(motion));
}

}  // namespace ribbay::detail
