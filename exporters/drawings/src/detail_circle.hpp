#pragma once

#include "drawings/drawing.hpp"

#include <string>

/// Crowded places drawn again at a larger scale: a circle round the place, and one with what lies
/// in it.
namespace ribbay::detail {

/// What of `whole` lies within a circle on paper, its arcs as chords, and the circle; `view`: the
/// view that the circle bounds.
void add_within_circle(Drawing& d, const Drawing& whole, Vec2 middle, double radius, int view);

/// A narrow circle round the place, with its letter. False when that finds no room.
bool add_detail_mark(Drawing& d, Vec2 at, double radius, const std::string& letter);

}  // namespace ribbay::detail
