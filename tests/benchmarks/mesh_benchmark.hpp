#pragma once

#include "layout/layout.hpp"
#include "solids/solid_set.hpp"

#include <cstddef>
#include <utility>
#include <vector>

/// The same pairs of bodies judged by two libraries of collision and mesh algorithms of general
/// use, on triangles and on our convex pieces. `ours`: ms that all our checks of the layout took.
void clearance_against_meshes(const ribbay::Layout& layout, const ribbay::SolidSet& solids,
                              const std::vector<std::pair<std::size_t, std::size_t>>& pairs,
                              double ours);
