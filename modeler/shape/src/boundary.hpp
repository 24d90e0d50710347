#pragma once

#include "arrangement.hpp"
#include "shape/facets.hpp"

namespace ribbay::detail {

/// The closed boundary of the solid over `plan`, arcs in chords that end on them and stand off by
/// `chord` at most. Faces in one plane that touch along an edge are one face, and collinear edges
/// between the same two faces are one edge; so every edge of a face is an edge of exactly one
/// other, from end to end.
Facets boundary_of(const Plan& plan, double chord);

}  // namespace ribbay::detail
