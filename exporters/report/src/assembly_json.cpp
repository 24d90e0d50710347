#include "assembly_json.hpp"

#include "assembly/lifting.hpp"

namespace ribbay::detail {

namespace {

std::string_view name(Reach reach) {
  switch (reach) {
    case Reach::straight:
      return "straight";
    case Reach::arm:
      return "short arm";
    case Reach::leaning:
      return "leaning";
    case Reach::none:
      break;
  }
  return "none";
}

Json driven_json(const Driven& each) {
  return {{"id", each.id}, {"tool", text_or_null(each.tool)}, {"reach", name(each.reach)}};
}

Json lift_json(const std::optional<Lift>& lift) {
  if (!lift) return nullptr;
  return {{"cog_mm", point_mm(lift->centre)},
          {"above_foot_mm", length_mm(lift->above_foot)},
          {"ends", list(lift->ends,
                        [](const LiftedEnd& end) -> Json {
                          return {{"side", direction(end.side)},
                                  {"from_cog_mm", length_mm(end.from_centre)},
                                  {"mass_kg", mass(end.mass_kg)}};
                        })},
          {"handles", lift->handles},
          {"beyond_two_people", lift->beyond_two}};
}

Json nuts_json(const NutRun& run) {
  return {{"member", run.member},
          {"slot", direction(run.slot)},
          {"from", direction(run.from)},
          {"nuts", run.nuts},
          {"places_mm", list(run.places, length_mm)}};
}

Json step_json(const Layout& layout, const AssemblyStep& step) {
  return {{"parts", step.parts},
          {"title", step.title},
          {"mass_kg", mass(step.mass_kg)},
          {"lift", lift_json(lift(layout, carried(step)))},
          {"nuts", list(step.nuts, nuts_json)},
          {"unit", text_or_null(step.unit)},
          {"with", step.with},
          {"halves", step.halves},
          {"direction", step.straight ? direction(step.direction) : Json()},
          {"first", length(step.first) > 0.5 ? direction(step.first) : Json()},
          {"travel_mm", step.straight ? length_mm(step.travel) : Json()},
          {"joined", step.joined},
          {"glued", step.glued},
          {"held", step.held},
          {"hardware", step.hardware},
          {"meeting", step.meeting},
          {"fasteners", list(step.fasteners, driven_json)}};
}

Json square_json(const SquareCheck& check) {
  return {{"view", check.view},
          {"width_mm", length_mm(check.width)},
          {"height_mm", length_mm(check.height)},
          {"diagonal_mm", length_mm(check.diagonal)},
          {"from_mm", point_mm(check.from)},
          {"to_mm", point_mm(check.to)}};
}

}  // namespace

Json assembly_json(const Layout& layout, const AssemblyPlan& plan) {
  return list(plan.units, [&](const AssemblyUnit& unit) -> Json {
    Json squares = Json::array();
    for (const SquareCheck& check : plan.squares) {
      if (unit.name == unit.module && check.module == unit.module)
        squares.push_back(square_json(check));
    }
    const bool brought_in = unit.bench && unit.name == unit.module;
    return {{"unit", unit.name},
            {"title", unit.title},
            {"module", unit.module},
            {"where", unit.bench ? "bench" : "van"},
            {"steps",
             list(unit.steps, [&](const AssemblyStep& step) { return step_json(layout, step); })},
            {"squares", std::move(squares)},
            {"carried_kg", brought_in ? mass(unit.carried_kg) : Json()},
            {"lift", brought_in ? lift_json(lift(layout, carried(layout, unit))) : Json()},
            {"put_up", unit.put_up},
            {"fixings", list(unit.fixings, driven_json)}};
  });
}

}  // namespace ribbay::detail
