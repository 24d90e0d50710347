#include "cup_hinges.hpp"

#include "base/tolerance.hpp"

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
double room_to_turn(const Sheet& sheet, const Hinge& hinge) {
  const double back = sheet.thickness + hinge.axis_out;  // of the axis
  return hinge.axis_inset > 0.0 ? std::hypot(hinge.axis_inset, back) - back : 0.0;
}

/// The point beside `p` that lies at `place` along an edge.
Vec3 at_place(Vec3 p, Vec3 along, double place) {
  return p - along * dot(p, along) + along * place;
}

/// One hinge: cup in the leaf, plate on the board. Returns what moves with the leaf. A hinge is
/// bought as one: only its plate carries the key.
std::vector<std::string> add_hinge(const Carcass& carcass, const HungLeaf& hung, const Hinge& hinge,
                                   double place, int number) {
  const std::string leaf = hung.leaf_name();
  const std::string name = hung.name + ".hinge_" + std::to_string(number);
  const std::string title = "Hinge " + std::to_string(number) + " of " + hung.title;
  const Vec3 cup = at_place(hung.back, hung.along, place) + hung.inward * hinge.cup_edge;
  Shape cup_shape;
  cup_shape.prisms.push_back(cylinder(hinge.cup_diameter, hinge.cup_depth));
  carcass.joinery.drill(leaf, {.at = cup,
                               .direction = hung.out,
                               .diameter = hinge.cup_diameter,
                               .depth = hinge.cup_depth,
                               .through = false,
                               .role = BoreRole::cup,
                               .thread = {}});
  std::vector<std::string> moving{carcass.shop.add_hardware(
      name + ".cup", title + ", cup", {}, {}, cup_shape,
      frame_zx(cup, hung.out, cross(hung.along, hung.out)), hinge.mass_kg / 2, {leaf})};
  // Plate and arm lie on the board's face; in the shape's own axes that face is z = 0, y runs along
  // the edge.
  Shape plate_shape = box_shape({-10, -kHingePlate, 0}, {10, kHingePlate, kPlate});
  const Shape arm = box_shape({-25, -8, kPlate}, {25, 8, kPlate + kArm});
  plate_shape.prisms.insert(plate_shape.prisms.end(), arm.prisms.begin(), arm.prisms.end());
  const Vec3 plate = at_place(hung.plate, hung.along, place) - hung.out * kPlateSetback;
  std::vector<std::string> hardware{carcass.shop.add_hardware(
      name + ".plate", title + ", plate", hinge.key, {}, plate_shape,
      frame_zx(plate, hung.inward, cross(hung.along, hung.inward)), hinge.mass_kg / 2, {})};
  hardware.push_back(moving.front());
  for (const int up : {-1, 1}) {
    const std::string which = up < 0 ? "_1" : "_2";
    moving.push_back(carcass.joinery.screw(
        {.name = name + ".cup.screw" + which,
         .field = hung.screw,
         .at = cup + (hung.inward * kCupScrewsIn + hung.along * (up * kCupScrews)),
         .direction = hung.out,
         .from = name + ".cup",
         .into = leaf}));
    hardware.push_back(moving.back());
    hardware.push_back(carcass.joinery.screw(
        {.name = name + ".plate.screw" + which,
         .field = hung.screw,
         .at = plate + (hung.inward * kPlate + hung.along * (up * kPlateScrews)),
         .direction = Vec3{} - hung.inward,
         .from = name + ".plate",
         .into = hung.board}));
  }
  carcass.shop.join("joint." + name, "hinge", {carcass.shop.id(leaf), carcass.shop.id(hung.board)},
                    std::move(hardware));
  return moving;
}

}  // namespace

std::vector<double> hinge_places(double from, double to, double from_end, double shift) {
  const double length = to - from;
  const double inset = std::min(from_end, length / 4);
  std::vector<double> places{from + inset, to - inset};
  if (length > kThirdHinge) {
    places.insert(places.begin() + 1, (places[0] + places[1]) / 2 + shift);
  }
  return places;
}

bool hinge_fits(const Carcass& carcass, const AskedBy& asked, const Hinge& hinge,
                const Sheet& sheet, double buffer, const std::string& gap) {
  const double room = room_to_turn(sheet, hinge);
  if (buffer < room - kSame) {
    carcass.shop.find(fault("carcass.door_binds", asked)
                          .with("hinge", hinge.key)
                          .with("measured", buffer, Unit::mm)
                          .with("required", std::ceil(room / kCut) * kCut, Unit::mm)
                          .with("field", gap.empty() ? carcass.request.name + ".buffer" : gap));
    return false;
  }
  const double deepest = sheet.thickness - kCupSkin;
  if (hinge.cup_depth > deepest) {
    carcass.shop.find(fault("carcass.cup_too_deep", asked)
                          .with("hinge", hinge.key)
                          .with("measured", hinge.cup_depth, Unit::mm)
                          .with("required", deepest, Unit::mm));
    return false;
  }
  return true;
}

Motion hang(const Carcass& carcass, const HungLeaf& leaf, const Hinge& hinge,
            const std::vector<double>& places) {
  Motion motion{.id = carcass.shop.id(leaf.name),
                .title = "Door of " + leaf.title,
                .kind = MotionKind::rotation,
                .parts = {carcass.shop.id(leaf.leaf_name())},
                .axis = carcass.request.turning_axis_to_van(cross(leaf.inward, leaf.out)),
                .origin = carcass.shop.to_van(leaf.face + leaf.inward * hinge.axis_inset +
                                              leaf.out * hinge.axis_out),
                .travel = hinge.opening,
                .required = std::min(hinge.opening, std::numbers::pi / 2),
                .gives_way = {}};
  int number = 0;
  for (const double place : places) {
    const auto moving = add_hinge(carcass, leaf, hinge, place, ++number);
    motion.parts.insert(motion.parts.end(), moving.begin(), moving.end());
  }
  return motion;
}

}  // namespace ribbay::detail
