#include "table.hpp"

namespace ribbay::detail {

Leg add_leg(const TableWork& work, const LegPlace& place) {
  const ModuleRequest& request = work.request;
  const std::string& way = request.fields.text("leg_folds");
  const bool back = way == "back";
  const bool left = way == "left";
  const double near_end = left ? request.size.x - kLegInset : kLegInset;
  const double x = request.fields.number_if("leg_from_left")
                       .value_or(back ? request.size.x / 2 : near_end);
  return add_folding_leg(
      work, {.name = "leg",
             .title = "Table leg",
             .asked = work.asked("leg"),
             .at = {x, place.y, place.under},
             .along = back ? Vec3{0, 1, 0} : Vec3{left ? -1.0 : 1.0, 0, 0},
             .board = place.board,
             .folded = place.folded,
             .brought = place.brought,
             .after = place.after});
}

}  // namespace ribbay::detail
