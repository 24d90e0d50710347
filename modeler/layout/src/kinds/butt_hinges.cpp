#include "butt_hinges.hpp"

#include "base/tolerance.hpp"

#include <algorithm>
#include <numbers>

namespace ribbay::detail {

namespace {

/// Ends of a continuous hinge from those of the edge (common practice, no source).
constexpr double kContinuousEnd = 10.0;
/// Ends of single hinges from those of the edge, and the edge from which there is a third one
/// (common practice, no source).
constexpr double kSingleEnd = 60.0;
constexpr double kThirdHinge = 1000.0;

/// One hinge along the edge.
struct Placed {
  double middle = 0.0;
  double length = 0.0;
};

std::vector<Placed> places(const HingedFlap& flap, const ButtHinge& hinge) {
  const double length = flap.to - flap.from;
  const double middle = (flap.from + flap.to) / 2;
  if (hinge.continuous) return {{middle, length - 2 * kContinuousEnd}};
  const double inset = std::min(kSingleEnd, length / 6) + hinge.length / 2;
  std::vector<Placed> all{{flap.from + inset, hinge.length}, {flap.to - inset, hinge.length}};
  if (length > kThirdHinge) all.insert(all.begin() + 1, {middle, hinge.length});
  return all;
}

bool fits(const Carcass& carcass, const HingedFlap& flap, const ButtHinge& hinge) {
  const auto report = [&](const char* code, double measured, double required, Unit unit) {
    carcass.shop.find(fault(code, flap.asked)
                          .with("hinge", hinge.key)
                          .with("flap", flap.title)
                          .with("measured", measured, unit)
                          .with("required", required, unit));
    return false;
  };
  const double face = std::min(flap.fixed.face, flap.moving.face);
  if (hinge.leaf > face + kSame)
    return report("carcass.hinge_too_wide", hinge.leaf, face, Unit::mm);
  const double edge = flap.to - flap.from;
  const double longest = hinge.continuous ? hinge.length : edge / 2;
  const double needed =
      hinge.continuous ? edge - 2 * kContinuousEnd : hinge.length + kContinuousEnd;
  if (needed > longest + kSame) return report("carcass.hinge_too_long", needed, longest, Unit::mm);
  const double end = flap.spreads ? flap.angle + flap.opens : flap.angle;
  if (end > hinge.opening + kSame) {
    constexpr double degrees = 180.0 / std::numbers::pi;
    return report("carcass.hinge_opens_too_little", hinge.opening * degrees, end * degrees,
                  Unit::degree);
  }
  return true;
}

/// One leaf with its screws; the fixed one carries the knuckle and the key. Returns all ids.
std::vector<std::string> add_leaf(const Carcass& carcass, const HingedFlap& flap,
                                  const ButtHinge& hinge, const Placed& place,
                                  const std::string& name, const std::string& title, bool moves) {
  const HingeHost& host = moves ? flap.moving : flap.fixed;
  const HingeHost& other = moves ? flap.fixed : flap.moving;
  const Vec3 start = flap.pin - flap.along * dot(flap.pin, flap.along) +
                     flap.along * (place.middle - place.length / 2);
  // In the shape's own axes x runs across the leaf, y into the board and z along the pin, or
  // against it where that makes the axes right-handed.
  const bool against = dot(cross(host.across, host.into), flap.along) < 0.0;
  const Frame frame = frame_zx(against ? start + flap.along * place.length : start,
                               cross(host.across, host.into), host.across);
  Shape shape = box_shape({0, 0, 0}, {hinge.leaf, hinge.thickness, place.length});
  if (!moves) shape.prisms.push_back(cylinder(hinge.knuckle, place.length));
  const double share = hinge.continuous ? place.length / hinge.length : 1.0;
  std::vector<std::string> ids{carcass.shop.add_hardware(
      name, title, moves ? std::string{} : hinge.key, hinge.material, std::move(shape), frame,
      share * hinge.mass_kg / 2, {host.board, other.board})};
  const Bolt& screw = entry(carcass.request.catalogue.bolts, hinge.screw);
  for (const double at : hinge.holes(place.length)) {
    ids.push_back(
        carcass.joinery.screw({.name = name + ".screw_" + std::to_string(ids.size()),
                               .field = std::string(flap.asked.field),
                               .at = start + flap.along * at + host.across * hinge.hole_row,
                               .direction = host.into,
                               .from = name,
                               .into = host.board,
                               .bolt = &screw}));
  }
  return ids;
}

}  // namespace

std::optional<Motion> hang_flap(const Carcass& carcass, const HingedFlap& flap,
                                const ButtHinge& hinge, std::vector<std::string> parts) {
  if (!fits(carcass, flap, hinge)) return std::nullopt;
  int number = 0;
  for (const Placed& place : places(flap, hinge)) {
    const std::string count = std::to_string(++number);
    const std::string name = flap.name + ".hinge_" + count;
    const std::string title = "Hinge " + count + " of " + flap.title;
    std::vector<std::string> hardware =
        add_leaf(carcass, flap, hinge, place, name + ".fixed", title + ", fixed", false);
    for (const std::string& id :
         add_leaf(carcass, flap, hinge, place, name + ".moving", title + ", moving", true)) {
      parts.push_back(id);
      hardware.push_back(id);
    }
    carcass.shop.join("joint." + name, "hinge",
                      {carcass.shop.id(flap.moving.board), carcass.shop.id(flap.fixed.board)},
                      std::move(hardware));
  }
  return Motion{.id = carcass.shop.id(flap.name),
                .title = flap.title,
                .kind = MotionKind::rotation,
                .parts = std::move(parts),
                .axis = carcass.request.turning_axis_to_van(cross(flap.arm, flap.towards)),
                .origin = carcass.shop.to_van(flap.pin),
                .travel = flap.opens,
                .required = flap.opens,
                .gives_way = {}};
}

}  // namespace ribbay::detail
