#pragma once

#include "handles.hpp"

/// The letters of lettering.hpp as a font: size 1 has capitals of height 1.
namespace ribbay::detail {

FontFace stroke_font();

}  // namespace ribbay::detail
