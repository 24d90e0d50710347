#include "assembly/lifting.hpp"

#include <algorithm>
#include <set>

namespace ribbay {

namespace {

bool is_handle(const Layout& layout, const Part& part) {
  if (layout.catalogue->handles.contains(part.stock.key)) return true;
  const auto fitting = layout.catalogue->fittings.find(part.stock.key);
  return fitting != layout.catalogue->fittings.end() && fitting->second.use == "grip";
}

bool opens(const Layout& layout, const Part& part) {
  const auto item = layout.catalogue->equipment.find(part.stock.key);
  return part.kind == PartKind::equipment && item != layout.catalogue->equipment.end() &&
         !item->second.opens.empty();
}

std::set<std::string> moving_parts(const Layout& layout) {
  std::set<std::string> ids;
  for (const Motion& motion : layout.motions) ids.insert(motion.parts.begin(), motion.parts.end());
  return ids;
}

/// Those of the ids that are parts.
Layout alone(const Layout& layout, const std::vector<std::string>& ids) {
  Layout some;
  for (const std::string& id : ids) {
    if (const Part* part = layout.find(id)) some.parts.push_back(*part);
  }
  return some;
}

}  // namespace

std::optional<Lift> lift(const Layout& layout, const std::vector<std::string>& ids) {
  const Layout carried = alone(layout, ids);
  const MassSummary sum = mass_summary(carried);
  const double most = layout.project.one_person_lifts;
  if (sum.mass_kg <= most) return std::nullopt;
  Box box;
  for (const Part& part : carried.parts) box.add(bounds(part));
  Lift lift{.mass_kg = sum.mass_kg,
            .centre = sum.centre,
            .above_foot = sum.centre.z - box.lo.z,
            .ends = {},
            .handles = {}};
  const int axis = box.size().x >= box.size().y ? 0 : 1;
  const double low = sum.centre[axis] - box.lo[axis];
  const double high = box.hi[axis] - sum.centre[axis];
  Vec3 side{};
  side[axis] = 1.0;
  lift.ends = {{-side, low, sum.mass_kg * high / (low + high)},
               {side, high, sum.mass_kg * low / (low + high)}};
  lift.beyond_two =
      std::ranges::any_of(lift.ends, [&](const LiftedEnd& end) { return end.mass_kg > most; });
  const std::set<std::string> moving = moving_parts(layout);
  const auto moves = [&](const Part& part) { return moving.contains(part.id); };
  // What moves as a whole while it is carried cannot open; the front of a fridge can.
  lift.moving =
      (std::ranges::any_of(carried.parts, moves) && !std::ranges::all_of(carried.parts, moves)) ||
      std::ranges::any_of(carried.parts, [&](const Part& part) { return opens(layout, part); });
  for (const Part& part : carried.parts) {
    if (!moves(part) && is_handle(layout, part)) lift.handles.push_back(part.id);
  }
  return lift;
}

double mass_of(const Layout& layout, const std::vector<std::string>& ids) {
  return mass_summary(alone(layout, ids)).mass_kg;
}

std::vector<std::string> carried(const AssemblyStep& step) {
  std::vector<std::string> ids = step.parts;
  ids.insert(ids.end(), step.with.begin(), step.with.end());
  ids.insert(ids.end(), step.halves.begin(), step.halves.end());
  return ids;
}

std::vector<std::string> carried(const Layout& layout, const AssemblyUnit& unit) {
  std::set<std::string> left;  // to be driven in the van
  for (const Driven& each : unit.fixings) left.insert(each.id);
  std::vector<std::string> ids;
  for (const Part& part : layout.parts) {
    if (part.module == unit.module && part.kind != PartKind::equipment && !left.contains(part.id))
      ids.push_back(part.id);
  }
  return ids;
}

}  // namespace ribbay
