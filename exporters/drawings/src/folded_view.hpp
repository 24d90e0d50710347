#pragma once

#include "drawings/panel_study.hpp"

namespace ribbay::detail {

/// A part that is bent, in three dimensions as it is when all is bent: standing or lying as its
/// module has it, face A and the picture's right end towards the reader. `scale` is that of the
/// view of its blank; smaller ones are tried. False when there is no room.
bool add_folded_view(Drawing& d, const Part& part, const PanelStudy& panel, double scale,
                     const Rect& area);

}  // namespace ribbay::detail
