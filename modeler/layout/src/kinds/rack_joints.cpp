#include "rack_joints.hpp"

#include "spec/fields.hpp"

#include <array>

namespace ribbay::detail {

namespace {

struct Need {
  const char* kind;
  const char* field;
};
constexpr std::array<Need, 3> kNeeds{
    {{"end bolt", "end_bolt"}, {"hidden connector", "connector"}, {"gusset plate", "plate"}}};

}  // namespace

RackJoints::RackJoints(const ModuleRequest& request, Workshop& shop)
    : request_{request}, shop_{shop}, kind_{request.fields.text("joint")} {}

bool RackJoints::usable() {
  for (const auto& [kind, field] : kNeeds) {
    if (kind_ != kind || request_.fields.has(field)) continue;
    Finding finding = input_error("rack.joint_needs", request_.fields.place("joint"));
    finding.subjects = {request_.name};
    shop_.find(std::move(finding).with("kind", kind).with("field", field));
    return false;
  }
  return true;
}

bool RackJoints::bracketed(const RailEnd& end) const {
  if (kind_ == "end bolt") return !end.bolts_apart;
  if (kind_ == "gusset plate") return !end.plate_apart;
  return kind_ == "bracket";
}

void RackJoints::drill(Workpieces& bench, const std::vector<RailEnd>& ends) {
  for (const RailEnd& end : ends) {
    if (bracketed(end)) continue;
    drill({request_, shop_, end.name, request_.fields.place("joint"), bench.find(end.rail)->second,
           bench.find(end.post)->second},
          end);
  }
}

void RackJoints::drill(const Pair& pair, const RailEnd& end) {
  const Catalogue& catalogue = request_.catalogue;
  const Record& fields = request_.fields;
  if (kind_ == "end bolt") {
    return end_bolt(pair, {.bolt = &entry(catalogue.bolts, fields.text("end_bolt"))});
  }
  // The cross hole is drilled from inside, where neither shelf nor wall covers it.
  if (connectors()) {
    return hidden_connector(pair, entry(catalogue.connectors, fields.text("connector")), -end.face);
  }
  gusset_plate(pair, {.plate = &bought(request_, catalogue.plates, fields.text("plate")),
                      .face = end.face,
                      .towards = end.leg});
}

void RackJoints::add_brackets(const std::vector<RailEnd>& ends) {
  const Bracket& bracket =
      bought(request_, request_.catalogue.brackets, request_.fields.text("bracket"));
  for (const RailEnd& end : ends) {
    if (!bracketed(end)) continue;
    shop_.add(CornerJoint{.name = "bracket." + end.name,
                          .bracket = &bracket,
                          .corner = end.corner,
                          .leg_a = end.leg,
                          .leg_b = end.along,
                          .host_a = shop_.id(end.post),
                          .host_b = shop_.id(end.rail)});
  }
}

std::vector<Field> RackJoints::fields() {
  return {choice_field("joint", {"bracket", "end bolt", "hidden connector", "gusset plate"})
              .otherwise("bracket")
              .means("what holds rails to posts; at posts between two bays, where an end bolt or a "
                     "plate has no room, it is a bracket"),
          reference_field("end_bolt", kMachineBolt)
              .means("bolt into the tapped end of each rail, its head in the post's slot; with "
                     "joint = \"end bolt\""),
          reference_field("connector", "connector")
              .means("in the end of each rail; with joint = \"hidden connector\""),
          reference_field("plate", "plate")
              .means("on the outside of post and rail; with joint = \"gusset plate\"")};
}

}  // namespace ribbay::detail
