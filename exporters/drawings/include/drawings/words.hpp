#pragma once

#include "drawings/drawing.hpp"

namespace ribbay {

/// Where the baseline of a text starts, whatever side it is aligned at.
Vec2 start_of(const InkText& text);

/// Size of a font whose capitals are about as high as the strokes of the text, mm.
double font_size(const InkText& text);

}  // namespace ribbay
