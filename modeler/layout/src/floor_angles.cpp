#include "floor_angles.hpp"

#include "base/tolerance.hpp"
#include "spec/fields.hpp"
#include "workshop.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <optional>

namespace ribbay::detail {

namespace {

/// Where an angle lies, in module axes.
struct AnglePlace {
  Vec3 corner;
  Vec3 out;  ///< unit: away from the part
};

/// `at` counts from the left or the front, as somebody sees it who stands before the module.
AnglePlace place_on(const Box& part, const std::string& face, double at,
                    const ModuleRequest& request) {
  const double low = part.lo.z;
  if (face == "left" || face == "right") {
    const bool lower = (face == "left") != request.mirrored;
    return {{lower ? part.lo.x : part.hi.x, at, low}, {lower ? -1.0 : 1.0, 0, 0}};
  }
  const double x = request.mirrored ? request.size.x - at : at;
  const bool front = face == "front";
  return {{x, front ? part.lo.y : part.hi.y, low}, {0, front ? -1.0 : 1.0, 0}};
}

class AngleMaker {
 public:
  AngleMaker(const ModuleRequest& request, ModuleParts& made)
      : r_{request}, made_{made}, shop_{request} {}

  void add(const std::string& name, const Record& fields) {
    const std::string id = shop_.id(fields.text("on"));
    const auto part = std::ranges::find(made_.parts, id, &Part::id);
    if (part == made_.parts.end() || !is_made(part->kind))
      return shop_.find(fault("layout.angle_no_part", name, fields.place("on"))
                            .with("found", fields.text("on")));
    const double above = bounds(*part).lo.z;
    if (std::abs(above) > kContact)
      return shop_.find(fault("layout.angle_in_air", name, fields.place("on"))
                            .with("part", id)
                            .with("measured", above, Unit::mm));
    Box box;
    box.add(r_.from_van(bounds(*part).lo));
    box.add(r_.from_van(bounds(*part).hi));
    const AnglePlace place = place_on(box, fields.text("face"), fields.number("at"), r_);
    const Bracket& bracket = bought(r_, r_.catalogue.brackets, fields.text("bracket"));
    const int along = place.out.x != 0.0 ? 1 : 0;
    const double past = std::max(box.lo[along] - place.corner[along],
                                 place.corner[along] - box.hi[along]) + bracket.width / 2;
    if (past > kContact)
      return shop_.find(fault("layout.angle_beside", name, fields.place("at"))
                            .with("part", id)
                            .with("measured", past, Unit::mm));
    screw_on("floor_angle." + name, bracket, place, id,
             entry(r_.catalogue.bolts, fields.text("floor_bolt")));
  }

  void hand_over() {
    ModuleParts all = shop_.finish();
    const auto append = [](auto& to, auto& from) { std::ranges::move(from, std::back_inserter(to)); };
    append(made_.parts, all.parts);
    append(made_.joints, all.joints);
    append(made_.floor_bolts, all.floor_bolts);
    append(made_.findings, all.findings);
  }

 private:
  Finding fault(const char* code, const std::string& name, const Place& place) const {
    Finding finding = input_error(code, place);
    finding.subjects = {r_.name + ".floor_angles." + name};
    return finding;
  }

  void screw_on(const std::string& name, const Bracket& bracket, const AnglePlace& place,
                const std::string& part, const Bolt& bolt) {
    shop_.add(CornerJoint{.name = name,
                          .bracket = &bracket,
                          .corner = place.corner,
                          .leg_a = {0, 0, 1},
                          .leg_b = place.out,
                          .host_a = part,
                          .host_b = "vehicle/floor",
                          .bolt_b = &bolt});
    const Vec3 at = shop_.to_van(place.corner + place.out * bracket.hole_from_corner);
    shop_.made().floor_bolts.push_back(
        {.id = shop_.id(name + ".bolt_b"),
         .at = {at.x, at.y},
         .diameter = bolt.diameter,
         .over_joist = over_joist(r_.vehicle, {at.x, at.y}, bolt.diameter)});
  }

  const ModuleRequest& r_;
  ModuleParts& made_;
  Workshop shop_;
};

}  // namespace

Field floor_angles_field() {
  return keyed_field(
             "floor_angles",
             {text_field("on").needed().means(
                  "the upright part that it is screwed to, by its id without the module, as "
                  "\"side.left\"; it stands on the van's floor"),
              choice_field("face", {"left", "right", "front", "back"})
                  .needed()
                  .means("the face of that part, as seen from in front of the module"),
              length_field("at").needed().at_least(0).means(
                  "from the module's left end to the angle's middle; on a left or right face from "
                  "the module's front"),
              reference_field("bracket", "bracket")
                  .needed()
                  .means("the angle; its own screw goes into the part"),
              reference_field("floor_bolt", kMachineBolt)
                  .needed()
                  .means("bolt through its other leg and the floor")})
      .means("angles that hold upright parts to the van's floor, so that the module does not fly in "
             "a crash; how much they bear is not judged");
}

void add_floor_angles(const ModuleRequest& request, ModuleParts& made) {
  AngleMaker maker(request, made);
  for (const auto& [name, fields] : request.fields.tables("floor_angles")) maker.add(name, fields);
  maker.hand_over();
}

}  // namespace ribbay::detail
