#pragma once

#include "handles.hpp"

#include "drawings/drawing.hpp"

namespace ribbay::detail {

/// Draws what svg() draws, letters with `letters`, onto a page whose unit is the mm, y downwards.
void ink_page(cairo_t* to, const Drawing& drawing, cairo_font_face_t* letters);

}  // namespace ribbay::detail
