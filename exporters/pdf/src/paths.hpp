#pragma once

#include "base/vec.hpp"
#include "drawings/lettering.hpp"

#include <cairo.h>

/// What a PDF has no word for: arcs, as Bézier curves of the third degree, and strokes of letters.
namespace ribbay::detail {

/// Draws on from the current point along centre + u cos t + v sin t, from <= t <= to or the other way.
/// A quarter of a turn is off by 3 parts in 10 000 of its radius.
void bend(cairo_t* context, Vec2 centre, Vec2 u, Vec2 v, double from, double to);

/// A stroke of a letter, its y turned downwards.
void add_stroke(cairo_t* context, const PenStroke& stroke);

}  // namespace ribbay::detail
