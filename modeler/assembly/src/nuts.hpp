#pragma once

#include "assembly/assembly.hpp"
#include "stage.hpp"

namespace ribbay::detail {

/// The slot nuts that ride on a unit of one member, slot by slot.
std::vector<NutRun> nut_runs(const Workbench& bench, const Group& unit);

/// Rectangles of a module whose four corners are parts': in plan and in both elevations.
std::vector<SquareCheck> square_checks(const Workbench& bench, const std::string& module);

}  // namespace ribbay::detail
