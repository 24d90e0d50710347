#pragma once

#include "kind.hpp"

/// Angles that hold upright parts of any module to the van's floor.
namespace ribbay::detail {

Field floor_angles_field();

/// Adds the angles that the module's file asks for, with their screws and floor bolts, to what its
/// kind has made. Findings at the field: "layout.angle_no_part", "layout.angle_in_air" (the part does
/// not stand on the van's floor), "layout.angle_beside" (it lies past the part's end).
void add_floor_angles(const ModuleRequest& request, ModuleParts& made);

}  // namespace ribbay::detail
